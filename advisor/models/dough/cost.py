"""What a loaf costs, where the user's own file gives prices."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.formula.formula import Formula


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """Money for the whole dough, a loaf and a slice, in the currency of the user's prices, and what has no price."""

    total: float
    per_loaf: float
    per_slice: float
    without_price: tuple[str, ...]
    """Names of ingredients that no price is known of; they count as nothing."""
    priced_share: float
    """Share of the dough's mass that is priced or is water from the tap (-)."""


def cost_of(formula: Formula, *, slices: int, loaves: int = 1) -> Cost | None:
    """Cost = sum m_i price_i / 1000 [money], over `loaves` loaves of `slices` slices each.

    Water without a price counts as free. `None` where no ingredient has a price: nothing can be said then.

    Raises:
        ValueError: no slice or no loaf.
    """
    if slices < 1 or loaves < 1:
        raise ValueError("a cost needs one loaf and one slice at the least")
    if not any(line.ingredient.price_per_kg is not None for line in formula.lines):
        return None
    total = known = 0.0
    missing: dict[str, None] = {}
    for line in formula.lines:
        price = line.ingredient.price_per_kg
        if price is None and "water" in line.ingredient.roles:
            price = 0.0
        if price is None:
            missing[line.ingredient.name] = None
            continue
        total += line.grams * price / 1000
        known += line.grams
    return Cost(
        total=total,
        per_loaf=total / loaves,
        per_slice=total / loaves / slices,
        without_price=tuple(missing),
        priced_share=known / formula.dough_g if formula.dough_g > 0 else 0.0,
    )
