"""Solving a lever: the setting at which its measure comes a little way into its band, then kitchen rounding."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.measured import MeasureEntry
from advisor.models.heat.warming import Warming
from advisor.models.measuring import dough_state_of, measure, values_of_amounts, values_of_oven
from advisor.remedy.change import Changed, round_to
from advisor.remedy.levers.root_finding import crossing
from advisor.remedy.levers.target import Aim
from advisor.remedy.levers.turning import Dial, steps_for

_OUT_OF_REACH = "even at its limit this does not bring the measure into its band"
_PART_OF_THE_WAY = 0.3
"""Share of the way to the band from which a change that does not reach it is still worth naming."""
_CLOSE_ENOUGH = 0.1
"""Share of the finest rounding within which a crossing is closed: what follows is rounded anyhow."""
_OVEN_GROUPS = frozenset({"baking"})
_OVEN_MEASURES = frozenset({"slice_g", "energy_kcal_per_slice"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """A setting that reaches its aim after rounding, or the reason why there is none."""

    changed: Changed | None
    setting: float
    reason: str = ""
    note: str = ""
    """What must be said beside a change that does not get all the way."""
    done: float = 1.0
    """Share of the way to the band that it comes, 0..1."""


Reader = Callable[[Formula], float | None]


def measure_reader(
    name: str,
    weights: Mapping[str, float],
    shortfall_edge: float | None,
    knowledge: Knowledge,
    warmed_like: Warming | None = None,
) -> Reader:
    """Give a function that computes one measure of a changed formula with the structure held fixed.

    Where the measure is none of the oven's, gas follows the warming of the loaf before the change.
    """
    entry = knowledge.measures[name]
    with_bake = entry.group in _OVEN_GROUPS or name in _OVEN_MEASURES

    def read(formula: Formula) -> float | None:
        dough_state = dough_state_of(formula, knowledge)
        if name in dough_state.values:
            return dough_state.values[name]
        if entry.group in _OVEN_GROUPS and name in (oven := values_of_oven(dough_state, knowledge)):
            value = oven[name]
            return value if value is not None and entry.allows(value) else None
        if with_bake:
            return measure(dough_state, knowledge).measures.value(name)
        wanted = "specific_volume" if name == "lift_shortfall" else name
        moved = values_of_amounts(dough_state, knowledge, warmed_like)
        if wanted in moved:
            value = moved[wanted]
            value = value if value is not None and knowledge.measures[wanted].allows(value) else None
        else:
            measures = measure(dough_state, knowledge, with_bake=False, warmed_like=warmed_like).measures
            value = measures.value(wanted)
        if name != "lift_shortfall":
            return value
        return None if value is None or shortfall_edge is None else max(shortfall_edge - value, 0.0)

    return read


def solve(dial: Dial, aim: Aim, read: Reader) -> Solved:
    """Find the smallest turn of the dial that reaches the aim.

    The measure is followed outwards from where the dial stands, in both directions that the limits allow, until it
    crosses the aim; the crossing is then closed by Brent's method, the setting rounded to what a kitchen
    weighs or counts, to the far side, and both neighbours tried.
    """

    def gap(x: float) -> float | None:
        value = read(dial.turn(x, None).formula)
        return None if value is None else value - aim.value

    bracket = _bracket(dial, gap)
    if bracket is None:
        return Solved(changed=None, setting=dial.now, reason=_OUT_OF_REACH)
    (low, at_low), (high, at_high) = bracket
    finest = steps_for(dial, high)[-1]
    root = crossing(
        lambda x: gap(x) or 0.0, low, high, at_low=at_low, at_high=at_high, within=_CLOSE_ENOUGH * finest
    )
    return _rounded(dial, aim, read, root)


def solve_partly(dial: Dial, aim: Aim, read: Reader, now: float, entry: MeasureEntry) -> Solved:
    """Turn a dial to its limit where that brings the measure a good part of the way to its band, and say so."""
    edge = aim.low if aim.rising else aim.high
    if edge is None:
        return Solved(changed=None, setting=dial.now, reason=_OUT_OF_REACH)
    best: tuple[float, Changed, float] | None = None
    for end in (dial.lowest, dial.highest):
        step = steps_for(dial, end)[-1]
        changed = dial.turn(dial.now + round_to(end - dial.now, step), step)
        value = read(changed.formula) if changed.formula.lines else None
        if value is None or abs(end - dial.now) < step:
            continue
        done = (value - now) / (edge - now)
        past_the_band = done > 1 and not aim.reached(value)
        if done >= _PART_OF_THE_WAY and not past_the_band and (best is None or done > best[0]):
            best = (done, changed, value)
    if best is None:
        return Solved(changed=None, setting=dial.now, reason=_OUT_OF_REACH)
    note = ""
    if not aim.reached(best[2]):
        note = f"{entry.name} comes to {best[2]:.{entry.decimals}f}, not all the way to {edge:.{entry.decimals}f}"
    done = 1.0 if aim.reached(best[2]) else min(best[0], 1.0)
    return Solved(changed=best[1], setting=dial.now, note=note, done=done)


Point = tuple[float, float]
"""A setting of the dial, and how far its measure is from the aim."""


def _bracket(dial: Dial, gap: Callable[[float], float | None]) -> tuple[Point, Point] | None:
    start = gap(dial.now)
    if start is None:
        return None
    for end in (dial.lowest, dial.highest):
        if abs(end - dial.now) < 1e-9:
            continue
        before = (dial.now, start)
        for part in (0.125, 0.3, 0.6, 1.0):
            x = dial.now + (end - dial.now) * part
            value = gap(x)
            if value is None:
                break
            if value == 0:
                return ((x, value), (x, value))
            if (value > 0) != (start > 0):
                return (min(before, (x, value)), max(before, (x, value)))
            before = (x, value)
    return None


def _rounded(dial: Dial, aim: Aim, read: Reader, root: float) -> Solved:
    """Round away from where the dial stands, so that rounding never undoes the cure; then try the neighbours."""
    away = 1 if root > dial.now else -1
    for step in steps_for(dial, root):
        base = dial.now if dial.piece is not None or dial.kind == "add" else 0.0
        near = base + round_to(root - base, step)
        for x in (near, near + away * step, near - away * step):
            if not dial.lowest - 1e-6 <= x <= dial.highest + 1e-6 or abs(x - dial.now) < step / 2:
                continue
            changed = dial.turn(round(x, 6), step)
            if aim.reached(read(changed.formula)):
                return Solved(changed=changed, setting=x)
    return Solved(
        changed=None, setting=root, reason="no amount that a kitchen can weigh or count reaches the band"
    )
