"""Limits of a slice as rows of a linear programme over the amounts: exact but for what yeast eats."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from advisor.formula_design.style_fit import Slot
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.composition import USUAL_CONVENTION, energy_kcal, part_of_dough
from advisor.remedy.constraints import LIMITS, Constraints
from advisor.remedy.plan.programme import Row


def limit_rows(
    limits: Constraints, slots: Sequence[Slot], pieces: int, knowledge: Knowledge, *, but: str = ""
) -> list[Row]:
    """Rows: sum of grams x (what a gram brings) / pieces on the right side of the limit; `but` names one left out.

    Sugar that yeast is given counts as eaten.
    """
    yeasted = any("yeast" in slot.ingredient.roles for slot in slots)
    rows = []
    for limit in LIMITS:
        bound = getattr(limits, limit.name)
        if bound is None or limit.name == but:
            continue
        brings = (_PER_GRAM[limit.of](slot.ingredient, yeasted, knowledge) for slot in slots)
        rows.append(
            Row(
                name=limit.name,
                coefficients=tuple(limit.sign * one / pieces for one in brings),
                bound=limit.sign * bound,
            )
        )
    return rows


def _net_carb(ingredient: Ingredient, yeasted: bool, knowledge: Knowledge) -> float:
    if yeasted and "sugar" in ingredient.roles:
        return 0.0
    c, counted = ingredient.per_100g, knowledge.net_carb[USUAL_CONVENTION]
    out = c.fibre * counted.fibre + c.erythritol * counted.erythritol
    out += c.allulose * counted.allulose + c.polyols * counted.polyols
    return max(c.carbohydrate_with_fibre - out, 0.0) / 100


def _energy(ingredient: Ingredient, yeasted: bool, knowledge: Knowledge) -> float:
    if yeasted and "sugar" in ingredient.roles:
        return 0.0
    return energy_kcal(part_of_dough(ingredient, 1.0), 0.0, knowledge, "us")


_PER_GRAM: dict[str, Callable[[Ingredient, bool, Knowledge], float]] = {
    "net_carb": _net_carb,
    "protein": lambda ingredient, _, __: ingredient.per_100g.protein / 100,
    "energy": _energy,
    "sodium": lambda ingredient, _, __: ingredient.per_100g.sodium_mg / 100,
    "cost": lambda ingredient, _, __: (ingredient.price_per_kg or 0.0) / 1000,
}
"""What a gram of an ingredient brings: g, kcal, mg or money."""
