"""The knowledge and the compiled advisor that all calls share, and formulas from what a caller has at hand."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from advisor.formula.formula import Formula
    from advisor.knowledge_base.knowledge import Knowledge
    from advisor.remedy.assessing import Advisor


@cache
def load_knowledge() -> Knowledge:
    """Read rules/ and knowledge/ once, with the user's own ingredients; the result is frozen and shared.

    Raises:
        advisor.knowledge_base.faults.KnowledgeFault: a file does not hold what it should; names file and line.
    """
    from advisor.knowledge_base.cached import load, remembered
    from advisor.knowledge_base.knowledge import Knowledge
    from advisor.knowledge_base.own_folder import looked_through
    from advisor.knowledge_base.places import find_places, own_ingredients_path

    places = find_places()
    if places.over is not None:
        looked_through(places.over)  # what cannot be used is refused before anything is read
    shipped = load(replace(places, over=None))
    if places.over is not None:
        from advisor.api.linted import laid_over_and_linted

        shipped = remembered("own", places, Knowledge, lambda: laid_over_and_linted(shipped, places))
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


def as_formula(formula: Formula | str) -> Formula:
    """Give a formula as it is, or read its text."""
    return read_formula(formula) if isinstance(formula, str) else formula
