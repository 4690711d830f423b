"""How far a formula is from what good formulas of its kind have been: no corner of a model is a bread.

For each part of a style z = (share - usual) / half of the spread. The square is summed over the parts, and what lies
outside the spread counts more; the root of the mean is the distance: below 1 it is made as such breads are made.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from advisor.formula.formula import Formula, Line
from advisor.formula_design.dough_parts import DoughParts, always_there
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.style_entries import Style


@dataclass(frozen=True, slots=True, kw_only=True)
class OutOfUsual:
    """A part of which a formula holds more or less than good ones do, g per 100 g of dough."""

    part: str
    share: float
    least: float
    most: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Plausibility:
    """The distance (-), and the parts that lie outside."""

    style: str
    distance: float
    outside: tuple[OutOfUsual, ...]


def plausibility_of(
    lines: Sequence[Line], style: Style, parts: DoughParts, knowledge: Knowledge
) -> Plausibility:
    """Lay amounts against the spreads of a style."""
    return _laid_against(*parts.shares_in(lines, style), style, knowledge)


def distance_of(shares: Mapping[str, float], style: Style, knowledge: Knowledge) -> float:
    """How far the shares of parts of a dough (g per 100 g) are from a style (-)."""
    held: dict[str, float] = {}
    foreign: dict[str, float] = {}
    for part, share in shares.items():
        place = next((name for name, one in style.parts.items() if part in one.takes), None)
        into = foreign if place is None else held
        into[place or part] = into.get(place or part, 0.0) + share
    return _laid_against(held, foreign, style, knowledge).distance


def _laid_against(
    held: Mapping[str, float], foreign: Mapping[str, float], style: Style, knowledge: Knowledge
) -> Plausibility:
    c = knowledge.coefficient
    outside, summed, count = [], 0.0, 0
    for name, part in style.parts.items():
        share, spread = held.get(name, 0.0), part.share
        if not share and not always_there(part):
            continue
        count += 1
        summed += ((share - spread.usual) / spread.half) ** 2
        past = max(spread.least - share, share - spread.most, 0.0)
        if past > c("start_rounding_slack") * spread.half:
            summed += c("start_outside_weight") * (past / spread.half) ** 2
            outside.append(OutOfUsual(part=name, share=share, least=spread.least, most=spread.most))
    for share in foreign.values():
        count += 1
        summed += c("start_outside_weight") * (share / c("start_foreign_share")) ** 2
    return Plausibility(
        style=style.id,
        distance=(summed / max(count, 1)) ** 0.5,
        outside=tuple(outside),
    )


def nearest_style(formula: Formula, kind: str, knowledge: Knowledge) -> Plausibility | None:
    """Find the style of a kind that a formula is nearest to; `None` where the knowledge has none of that kind."""
    parts = DoughParts(knowledge)
    some = [s for s in knowledge.styles.values() if any(kind in bake.kinds for bake in s.bakes)]
    found = [plausibility_of(formula.lines, style, parts, knowledge) for style in some]
    return min(found, key=lambda p: p.distance, default=None)
