"""How well one condition holds: past its edge (excess), inside its band (depth), or how far from holding.

The engines decide which rules match; this module does the arithmetic on what matched, and tells `why not` how
far a condition was from holding. Quantities are rounded to six decimals first, as the engines see them.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Set
from dataclasses import dataclass, field

from advisor.inference.phases import Phase
from advisor.inference.situation import Judged, Situation
from advisor.knowledge_base.rule_entries import Condition

STRUCTURE_HOLDS_ABOVE = 0.35
DECIMALS = 6


class SituationFault(ValueError):
    """Raised when a number of the situation is not finite: names it."""


@dataclass(slots=True, kw_only=True)
class Known:
    """What is known so far in one assessment."""

    situation: Situation
    structures: Mapping[str, float] = field(default_factory=dict)
    judged: Mapping[str, Judged] = field(default_factory=dict)
    states: Set[str] = frozenset()
    suspects: Set[str] = frozenset()
    structure_holds_above: float = STRUCTURE_HOLDS_ABOVE


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionResult:
    """A condition laid against what is known; `excess` and `depth` are `None` where it has none."""

    holds: bool
    excess: float | None = None
    depth: float | None = None
    distance: float | None = None
    """How far the number is from the edge where the condition would hold, in the number's own unit."""


def to_six_decimals(value: float, name: str) -> float:
    """Round to six decimals.

    Raises:
        SituationFault: when the value is not finite.
    """
    if not math.isfinite(value):
        raise SituationFault(f"{name} is {value}: every number of a situation must be finite")
    return round(value, DECIMALS)


def edges(condition: Condition, phase: Phase) -> tuple[float | None, float | None]:
    """Give the edges that a number must be above and below.

    With `over`, a structure takes hold gradually on both sides of the stated edge, so that it begins half of
    `over` before it; elsewhere `over` only grades what lies past the edge.
    """
    early = condition.over / 2 if condition.over is not None and phase == "structure" else 0.0
    above = None if condition.above is None else round(condition.above - early, DECIMALS)
    below = None if condition.below is None else round(condition.below + early, DECIMALS)
    return above, below


def read_condition(condition: Condition, phase: Phase, known: Known) -> ConditionResult:
    """Lay one condition against what is known."""
    situation = known.situation
    name = condition.name
    match condition.subject:
        case "measure":
            if condition.is_ is not None:
                return _read_band(condition.is_, known.judged.get(name))
            return _read_number(condition, phase, situation.measures.get(name))
        case "trait":
            amount = situation.traits.get(name, 0.0)
            if condition.above is None and condition.below is None:
                return ConditionResult(holds=to_six_decimals(amount, name) > 0)
            return _read_number(condition, phase, amount)
        case "process":
            return _read_process(condition, phase, situation)
        case "symptom":
            return ConditionResult(holds=situation.symptoms.get(name) is (condition.seen is not False))
        case "answer":
            return ConditionResult(holds=situation.answers.get(name) == condition.is_)
        case "structure":
            weight = known.structures.get(name, 0.0)
            return ConditionResult(
                holds=weight > known.structure_holds_above,
                distance=max(0.0, known.structure_holds_above - weight),
            )
        case "state":
            return ConditionResult(holds=name in known.states)
    return ConditionResult(holds=name in known.suspects)


def _read_process(condition: Condition, phase: Phase, situation: Situation) -> ConditionResult:
    name = condition.name
    if condition.is_ is not None and situation.process_words.get(name) != condition.is_:
        return ConditionResult(holds=False)
    if condition.stated is not None and (name in situation.stated) != condition.stated:
        return ConditionResult(holds=False)
    if condition.above is None and condition.below is None:
        return ConditionResult(holds=True)
    return _read_number(condition, phase, situation.process_numbers.get(name))


def _read_number(condition: Condition, phase: Phase, value: float | None) -> ConditionResult:
    if value is None:
        return ConditionResult(holds=False)
    value = to_six_decimals(value, condition.name)
    above, below = edges(condition, phase)
    past = [value - above] if above is not None else []
    if below is not None:
        past.append(below - value)
    least = min(past)
    if least <= 0:
        return ConditionResult(holds=False, distance=-least)
    return ConditionResult(
        holds=True, excess=1.0 if condition.over is None else min(1.0, least / condition.over)
    )


def _read_band(wanted: str, judged: Judged | None) -> ConditionResult:
    if judged is None:
        return ConditionResult(holds=False)
    match wanted:
        case "low" | "high":
            if judged.state == wanted:
                return ConditionResult(holds=True, excess=judged.excess)
            edge = judged.low if wanted == "low" else judged.high
            return ConditionResult(holds=False, distance=None if edge is None else abs(judged.value - edge))
        case "in":
            if judged.state == "in":
                return ConditionResult(holds=True, depth=judged.depth)
            edge = judged.low if judged.state == "low" else judged.high
            return ConditionResult(holds=False, distance=None if edge is None else abs(judged.value - edge))
        case "not_low":
            return _read_one_side(judged, "low", judged.low, judged.high)
    return _read_one_side(judged, "high", judged.high, judged.low)


def _read_one_side(judged: Judged, shunned: str, edge: float | None, other: float | None) -> ConditionResult:
    """Read "not past this edge": a gate without excess, as deep as the value lies away from that edge."""
    if judged.state == shunned:
        return ConditionResult(holds=False, distance=None if edge is None else abs(judged.value - edge))
    if judged.state != "in" or edge is None:
        return ConditionResult(holds=True, depth=1.0)
    # Depth counts from the nearer edge; where that is the other one, this edge is at least half a band away.
    nearer_other = other is not None and abs(judged.value - other) < abs(judged.value - edge)
    return ConditionResult(holds=True, depth=1.0 if nearer_other else judged.depth)
