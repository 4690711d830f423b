"""A formula out again: in other forms, what it holds, its label, a day's bake, a report."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Literal

from advisor.api.results import LabelResult, NutritionResult, ScaleUpResult, as_result
from advisor.api.shared import as_formula, default_advisor, load_knowledge

if TYPE_CHECKING:
    from advisor.formula.formula import Formula
    from advisor.remedy.assessing import Assessment

Form = Literal["text", "yaml", "percentages", "weighing-list"]


def write(formula: Formula | str, form: Form = "text") -> str:
    """Write a formula out in a form; "text" and "yaml" read back as the same formula.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
        ValueError: a process that no text can say.
        KeyError: no such form.
    """
    from advisor.formula.writing.as_text import write_formula_text
    from advisor.formula.writing.as_yaml import write_formula_yaml
    from advisor.formula.writing.percentage_table import percentage_table, write_percentage_table
    from advisor.formula.writing.weighing_list import write_weighing_list

    forms: dict[str, Callable[[Formula], str]] = {
        "text": write_formula_text,
        "yaml": write_formula_yaml,
        "percentages": lambda f: write_percentage_table(percentage_table(f)),
        "weighing-list": write_weighing_list,
    }
    return forms[form](as_formula(formula))


def nutrition(formula: Formula | str) -> NutritionResult:
    """Work out what 100 g and a slice of the baked loaf hold, unrounded; an estimate, not for sale.

    Energy in kJ and kcal, parts in g, sodium in mg; where no table knows the saturates or sugars of an ingredient,
    `saturates_up_to` and `sugars_up_to` are above `saturates` and `sugars`. `formula` may be its text.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
    """
    from advisor.explanation.label import nutrition_answer

    return as_result(NutritionResult, nutrition_answer(as_formula(formula), load_knowledge()))


def label(formula: Formula | str) -> LabelResult:
    """Work out what would stand on a label: ingredients, allergens, the European form and that of the United States.

    Figures are rounded as each form asks (knowledge/label_parts.yaml); an estimate, not for sale.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
    """
    from advisor.explanation.label import label_answer

    return as_result(LabelResult, label_answer(as_formula(formula), load_knowledge()))


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
) -> ScaleUpResult:
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
    found = planning.scale_up(as_formula(formula), bakery, default_advisor().examiner)
    return as_result(ScaleUpResult, found)


def report(found: Assessment) -> str:
    """Write what `check` or `diagnose` found as one page of HTML with pictures, which needs nothing from a network."""
    from advisor.explanation.answering import answer_of
    from advisor.explanation.further import Further
    from advisor.remedy.constraints import Constraints
    from advisor.rendering.report import pictures_of, report_page

    advisor, knowledge = default_advisor(), load_knowledge()
    answer = answer_of(found, knowledge, Further.of(advisor, found, Constraints(), joint=True))
    scenes, _ = pictures_of(found, advisor.examiner)
    return report_page(answer, found, advisor.examiner, scenes)
