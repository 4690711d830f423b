"""Amounts as a baker weighs them: whole eggs, 5 g of what is much, half a gram of what is little."""

from __future__ import annotations

from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.change import round_to


def baker_step(grams: float, knowledge: Knowledge) -> float:
    """The step in which a baker weighs this much, g."""
    c = knowledge.coefficient
    if grams >= c("start_much_from_g"):
        return c("start_step_much_g")
    return 1.0 if grams >= c("start_middle_from_g") else c("start_step_little_g")


def piece_g(ingredient: Ingredient, knowledge: Knowledge, region: str = "us") -> float | None:
    """Grams of one piece of what is counted (a large egg where no size is said); `None` for what is weighed."""
    if ingredient.countable is None or "egg" not in ingredient.roles:
        return None
    text = f"title: one piece\n1 large {ingredient.countable}"
    return read_formula_text(text, knowledge, region=region).lines[0].grams


def nearest_amount(grams: float, each_g: float | None, knowledge: Knowledge) -> float:
    """The amount nearest to some grams that a baker counts or weighs, g."""
    if each_g is not None:
        return round_to(round(grams / each_g) * each_g, 0.1)
    return round_to(grams, baker_step(grams, knowledge))


def without_drops(formula: Formula, knowledge: Knowledge) -> Formula:
    """The formula without so little water that nobody would pour it."""
    least = knowledge.coefficient("start_least_water_pct") * formula.dough_g / 100
    kept = tuple(x for x in formula.lines if "water" not in x.ingredient.roles or x.grams >= least)
    return formula if len(kept) == len(formula.lines) else formula.with_lines(kept)
