"""Where a lever stops: past the near edge of a measure's band, a little way in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from advisor.inference.bands import BandTable
from advisor.knowledge_base.rule_entries import LeverTarget

INSIDE = 0.15
"""Share of the band's width past the edge at which a lever aims. A fifth went more than a tenth past the loaf that a
baker had before the fault, where that loaf lies near an edge of a wide band."""

FAR_INSIDE = 0.3
"""The same where the measure is half a band's width and more past its edge: so far out a loaf was not meant to lie near
that edge, and bakers who had such loaves went most of the way to the middle."""

JUST_INSIDE = 0.05
"""Second aim, where going further into the band does more harm than good."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Aim:
    """The value to reach, the side from which it is reached, and the range that counts as reached."""

    measure: str
    value: float
    low: float | None
    high: float | None
    rising: bool

    def reached(self, value: float | None) -> bool:
        """Whether a value lies where the lever wanted it."""
        if value is None:
            return False
        return (self.low is None or value >= self.low - 1e-9) and (
            self.high is None or value <= self.high + 1e-9
        )


def away_from_an_edge(
    target: LeverTarget, now: float | None, table: BandTable, weights: Mapping[str, float]
) -> Aim | None:
    """Aim well inside the band for a measure that lies in it close to an edge; `None` where it does not.

    For a loaf that says what its number does not: that edge is no edge of this loaf.
    """
    edges = table.edges(target.measure, weights) if target.into == "band" else None
    if now is None or edges is None or edges.low is None or edges.high is None:
        return None
    rising = now - edges.low < edges.high - now
    near = now - edges.low if rising else edges.high - now
    if not 0 <= near < INSIDE * 2 * edges.half:
        return None
    inward = FAR_INSIDE * 2 * edges.half
    value = edges.low + inward if rising else edges.high - inward
    return Aim(measure=target.measure, value=value, low=edges.low, high=edges.high, rising=rising)


def aim_at(
    target: LeverTarget,
    now: float | None,
    table: BandTable,
    weights: Mapping[str, float],
    inside: float = INSIDE,
) -> Aim | None:
    """Turn a lever's target into a number; `None` where the measure has no value or is there already."""
    if now is None:
        return None
    if target.above is not None:
        scale = max(abs(target.above), 1e-9)
        if now >= target.above:
            return None
        return Aim(
            measure=target.measure,
            value=target.above + 0.02 * scale,
            low=target.above,
            high=None,
            rising=True,
        )
    if target.below is not None:
        scale = max(abs(target.below), 1e-9)
        if now <= target.below:
            return None
        return Aim(
            measure=target.measure,
            value=target.below - 0.02 * scale,
            low=None,
            high=target.below,
            rising=False,
        )
    edges = table.edges(target.measure, weights)
    if edges is None:
        return None
    if (
        edges.aim is not None
        and inside == INSIDE
        and ((edges.low is not None and now < edges.low) or (edges.high is not None and now > edges.high))
    ):
        return Aim(
            measure=target.measure, value=edges.aim, low=edges.low, high=edges.high, rising=now < edges.aim
        )
    both = edges.low is not None and edges.high is not None
    if both and inside == INSIDE and not edges.near_edge:
        past = max((edges.low or now) - now, now - (edges.high or now)) / edges.half
        inside += (FAR_INSIDE - INSIDE) * min(past, 1.0)
    inward = inside * edges.half * (2 if both else 1)
    if edges.low is not None and now < edges.low:
        return Aim(
            measure=target.measure, value=edges.low + inward, low=edges.low, high=edges.high, rising=True
        )
    if edges.high is not None and now > edges.high:
        return Aim(
            measure=target.measure, value=edges.high - inward, low=edges.low, high=edges.high, rising=False
        )
    return None
