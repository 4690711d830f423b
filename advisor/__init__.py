"""Rule-based troubleshooting of low-carbohydrate and high-protein doughs.

`read_formula(text)`, `check(formula)`, `check_text(text)` for many, `diagnose(formula, saw=...)`, `load_knowledge()`.
What they give is frozen and can be pickled, and any number of threads and processes may call them at once. Heavy
parts are imported where they are used, so that importing this package is quick.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from typing import TYPE_CHECKING

from advisor.version import __version__ as __version__

if TYPE_CHECKING:
    from advisor.explanation.label import LabelAnswer, NutritionAnswer
    from advisor.explanation.scale_up import ScaleUpAnswer
    from advisor.formula.formula import Formula
    from advisor.knowledge_base.knowledge import Knowledge
    from advisor.remedy.assessing import Advisor, Assessment
    from advisor.remedy.constraints import Constraints
    from advisor.rendering.checked import Checked

__all__ = [
    "check",
    "check_text",
    "diagnose",
    "label",
    "load_knowledge",
    "nutrition",
    "read_formula",
    "scale_up",
]


@cache
def load_knowledge() -> Knowledge:
    """Read rules/ and knowledge/ once, with the user's own ingredients; the result is frozen and shared.

    Raises:
        advisor.knowledge_base.faults.KnowledgeFault: a file does not hold what it should; names file and line.
    """
    from advisor.knowledge_base.cached import load
    from advisor.knowledge_base.places import find_places, own_ingredients_path

    shipped = load(find_places())
    if not own_ingredients_path().exists():
        return shipped
    from advisor.knowledge_base.own_ingredients import with_own_ingredients

    return with_own_ingredients(shipped, own_ingredients_path())


@cache
def default_advisor(engine: str = "auto") -> Advisor:
    """Compile the shared knowledge once for one rule engine ("auto", "durable" or "clips").

    Raises:
        ValueError: the engine does not run on this Python.
    """
    from advisor.diagnosis.pipeline import Examiner, graphs_of
    from advisor.knowledge_base.cached import remembered
    from advisor.knowledge_base.places import find_places
    from advisor.remedy.assessing import Advisor

    knowledge = load_knowledge()
    graphs = remembered("graphs", find_places(), dict, lambda: dict(graphs_of(knowledge)))
    return Advisor(Examiner(knowledge, engine, graphs))


def read_formula(text: str, *, name: str = "formula", region: str = "us") -> Formula:
    """Read a formula as people write it; `region` (us, metric, uk, au) says which cup and spoon are meant.

    Raises:
        advisor.formula.faults.FormulaFault: what cannot be read, with line and column and what to do.
    """
    from advisor.formula.reading import read_formula_text

    return read_formula_text(text, load_knowledge(), name=name, region=region)


def check(formula: Formula | str, constraints: Constraints | None = None) -> Assessment:
    """Say before the bake what will go wrong, and what prevents it; `formula` may be its text.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
    """
    return default_advisor().check(_read(formula), constraints)


def check_text(
    text: str,
    constraints: Constraints | None = None,
    *,
    name: str = "formula",
    region: str = "us",
    in_full: bool = False,
) -> Checked:
    """Check one text of many, and put into the result what is wrong with it, instead of raising.

    So it can be mapped over a catalogue by any pool or cluster engine: it can be pickled, what it gives is small, and
    a process that calls it for the first time reads the knowledge for itself.

    Args:
        text: a formula as `read_formula` takes it.
        constraints: limits that count as a fault when broken.
        name: stands in the result and before each problem.
        region: whose cups and spoons (us, metric, uk, au).
        in_full: also give the whole answer, with proposals, as JSON text; takes several times as long.
    """
    from advisor.remedy.constraints import Constraints
    from advisor.rendering.checked import AskedOfMany, checked

    limit = load_knowledge().coefficient("risk_limit")
    asked = AskedOfMany(
        limits=constraints or Constraints(), risk_limit=limit, region=region, documents=in_full
    )
    return checked(name, lambda: read_formula(text, name=name, region=region), default_advisor, asked)


def diagnose(
    formula: Formula | str,
    *,
    saw: Iterable[str] = (),
    not_seen: Iterable[str] = (),
    answers: Mapping[str, str] | None = None,
) -> Assessment:
    """Say why a baked loaf failed: `saw` and `not_seen` hold symptom ids, `answers` question to answer.

    `formula` may be its text.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
        KeyError: a symptom, question or answer that is not known.
    """
    return default_advisor().diagnose(_read(formula), saw=saw, not_seen=not_seen, answers=answers)


def nutrition(formula: Formula | str) -> NutritionAnswer:
    """Work out what 100 g and a slice of the baked loaf hold, unrounded; an estimate, not for sale.

    Energy in kJ and kcal, parts in g, sodium in mg; where no table knows the saturates or sugars of an ingredient,
    `saturates_up_to` and `sugars_up_to` are above `saturates` and `sugars`. `formula` may be its text.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
    """
    from advisor.explanation.label import nutrition_answer

    return nutrition_answer(_read(formula), load_knowledge())


def label(formula: Formula | str) -> LabelAnswer:
    """Work out what would stand on a label: ingredients, allergens, the European form and that of the United States.

    Figures are rounded as each form asks (knowledge/label_parts.yaml); an estimate, not for sale.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
    """
    from advisor.explanation.label import label_answer

    return label_answer(_read(formula), load_knowledge())


def scale_up(
    formula: Formula | str,
    loaves: int,
    *,
    batches: int = 1,
    oven_loads: int | None = None,
    mixer: str | None = None,
    room_c: float | None = None,
    flour_c: float | None = None,
    tap_c: float | None = None,
    dough_c: float | None = None,
) -> ScaleUpAnswer:
    """Plan a day's bake: batches to weigh, water or ice, oven loads, who waits and what that does, pans that are sold.

    Temperatures in C; what is left out is as the formula says, or usual (knowledge/coefficients.yaml, mixers.yaml).

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
        advisor.formula.writing.scaling.ScalingFault: more batches than loaves, or fewer loaves than one.
    """
    from advisor.explanation import scale_up as planning

    bakery = planning.Bakery(
        loaves=loaves, batches=batches, oven_loads=oven_loads, mixer=mixer, room_c=room_c, flour_c=flour_c,
        tap_c=tap_c, dough_c=dough_c,
    )  # fmt: skip
    return planning.scale_up(_read(formula), bakery, default_advisor().examiner)


def _read(formula: Formula | str) -> Formula:
    return read_formula(formula) if isinstance(formula, str) else formula
