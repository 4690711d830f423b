"""What each of several formulas is best at, and what it pays for it, beside the others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from advisor.formula_design.starting import FirstFormula

Trait = Literal["net_carb", "protein", "cost", "volume", "risk", "unusual"]
BETTER: Mapping[Trait, int] = {
    "net_carb": -1, "protein": 1, "cost": -1, "volume": 1, "risk": -1, "unusual": -1,
}  # fmt: skip
"""1 where more of it is better, -1 where less is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trade:
    """The figures of one formula, and those in which it is clearly the best or the worst of all."""

    values: Mapping[Trait, float | None]
    best_at: tuple[Trait, ...]
    pays_in: tuple[Trait, ...]


def figures(one: FirstFormula) -> dict[Trait, float | None]:
    """g or money a slice, mL per g, the largest risk (0..1), and the distance from good formulas."""
    return {
        "net_carb": one.slice.net_carb,
        "protein": one.slice.protein,
        "cost": one.slice.cost,
        "volume": one.volume,
        "risk": one.worst[1],
        "unusual": one.usual.distance,
    }


def trades(formulas: Sequence[FirstFormula], clear: float, unusual_from: float) -> tuple[Trade, ...]:
    """Lay formulas beside each other; `clear` is the share by which a figure has to stand out.

    How usual they are is told only where one of them is not: a distance of `unusual_from` or more.
    """
    all_of_them = [figures(one) for one in formulas]
    out = []
    for place, mine in enumerate(all_of_them):
        others = [f for n, f in enumerate(all_of_them) if n != place]
        told = [t for t in BETTER if t != "unusual" or max(f[t] or 0.0 for f in all_of_them) >= unusual_from]
        best = tuple(t for t in told if _stands_out(t, mine, others, BETTER[t], clear))
        worst = tuple(t for t in told if _stands_out(t, mine, others, -BETTER[t], clear))
        out.append(Trade(values=mine, best_at=best, pays_in=worst))
    return tuple(out)


def _stands_out(
    trait: Trait,
    mine: Mapping[Trait, float | None],
    others: Sequence[Mapping[Trait, float | None]],
    sign: int,
    clear: float,
) -> bool:
    own, rest = mine[trait], [value for o in others if (value := o[trait]) is not None]
    if own is None or not rest:
        return False
    next_best = max(sign * value for value in rest)
    return sign * own > next_best + clear * abs(next_best)
