"""What a loaf costs, in one sentence, where the baker's own file gives prices."""

from __future__ import annotations

from advisor.formula.formula import Formula
from advisor.models.dough.cost import Cost, cost_of


def cost_line(formula: Formula, *, slices: int, loaves: int, piece: str = "slice") -> str | None:
    """Say the cost of a loaf and a slice; `None` where no ingredient has a price.

    `slices` are those of one loaf. The currency is that of the user's prices, which nobody told.
    """
    cost = cost_of(formula, slices=slices, loaves=loaves)
    if cost is None:
        return None
    # Rolls are pieces of one batch: nobody pays for a loaf of them.
    whole = "the whole batch" if piece != "slice" else "a loaf"
    said = f"Cost by your own prices: {cost.per_loaf:.2f} {whole}, {cost.per_slice:.2f} a {piece}"
    return f"{said}{_without(cost)}."


def _without(cost: Cost) -> str:
    if not cost.without_price:
        return ""
    names = ", ".join(cost.without_price[:4])
    more = f" and {len(cost.without_price) - 4} more" if len(cost.without_price) > 4 else ""
    return f", without {names}{more}, which have no price ({100 * cost.priced_share:.0f} % of the dough is priced)"
