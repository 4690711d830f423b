"""Puts what sentences tell of the oven and of the rises into steps, in the order in which it is told."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from advisor.formula.method.facts import SAME_C, Fact
from advisor.formula.process.process_values import Value
from advisor.formula.process.steps import OvenStep, Rise, whole_time_min

_OF_ITS_TIME = re.compile(r"(?:min\w*|hours?|hrs?|h|[0-9])\.?\s*(?:at|@|on)\s*(?:about\s+)?$", re.IGNORECASE)
"""A time right in front of a heat: "then 30 min at 190"."""
_SAME_MIN = 0.5
_LEAST_NIGHT_MIN = 240.0
_THEN = re.compile(r"\b(?:then|next|after(?:wards)?|followed)\b", re.IGNORECASE)
_CORRECTS = re.compile(
    r"\bedit\b|\bno\s+wait\b|\bcorrection\b|\bsorry\b|\bchanged\s+(?:that|it)\b|\bi\s+meant\b", re.IGNORECASE
)
"""Words of a sentence that puts right what was told before."""
_TURNED = re.compile(r"\b(?:drop|reduce|lower|turn|down|then|raise|up)\w*\s+(?:\w+\s+){0,4}$", re.IGNORECASE)
"""Words in front of a heat to which the oven is turned later: what was told before it was baked at another."""

_HEATS_UP = re.compile(
    r"\b(?:stone|steel|tray|sheet\s+pan|pre-?heat\w*|heat(?:ed|ing)|as\s+(?:hot|high)\s+as|at\s+its\s+hottest)\b",
    re.IGNORECASE,
)
"""Words in front of the minutes for which a stone or an empty oven is heated."""
_COLDEST_RISE_C = 1.5
_LEAST_HEATING_MIN, _MOST_ON_STONE_MIN = 20.0, 15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldSteps:
    """Fields of a process, what was assumed on the way, and whether two tellings contradict each other."""

    fields: dict[str, Value]
    said: tuple[str, ...] = ()
    differ: bool = False
    unused: tuple[Fact, ...] = ()


def oven_told(facts: Sequence[tuple[int, Fact]], preheat_c: float | None) -> ToldSteps:
    """Give the oven's steps: a heat begins one, a time ends it; a time without a heat keeps that before.

    A heat that never gets a time, with another behind it, is what the oven was heated to. Times in front of their
    heat ("20 min lid on, 22 min lid off at 450 F") take it afterwards.
    """
    steps: list[OvenStep] = []
    said: list[str] = []
    unused: list[Fact] = []
    fields: dict[str, Value] = {}
    lid: bool | None = None
    steam: bool | None = None
    total: float | None = None
    foil_last: float | None = None
    dropped: float | None = None
    for _, fact in facts:
        value = fact.value
        said += fact.said
        if fact.what == "celsius" and isinstance(value, float):
            before = fact.source[: fact.start]
            turned = _TURNED.search(before) and not _OF_ITS_TIME.search(before)
            if steps and steps[-1].celsius is None and turned:
                steps = _filled(steps, preheat_c, said)  # what came before was baked at the heat before
                steps.append(OvenStep(celsius=value))
            elif steps and steps[-1].celsius is None:
                steps = [replace(s, celsius=value) if s.celsius is None else s for s in steps]
            elif steps and steps[-1].minutes is None:
                if abs((steps[-1].celsius or 0.0) - value) > SAME_C:
                    preheat_c = steps[-1].celsius if preheat_c is None and len(steps) == 1 else preheat_c
                    dropped = steps[-1].celsius
                    steps[-1] = OvenStep(celsius=value)
            elif len(steps) == 1 and _CORRECTS.search(fact.source):
                steps[0] = replace(steps[0], celsius=value)
            elif steps and not fact.linked:
                if not any(abs((s.celsius or value) - value) <= SAME_C for s in steps):
                    return ToldSteps(fields={}, differ=True)
            else:
                steps.append(OvenStep(celsius=value))
        elif fact.what == "last minutes" and isinstance(value, float) and _holds(steps, value):
            steps[-1] = replace(steps[-1], minutes=(steps[-1].minutes or 0.0) - value)
            steps.append(OvenStep(celsius=steps[-1].celsius, minutes=value, lid=lid, steam=steam))
            lid = steam = None
        elif fact.what == "first minutes" and isinstance(value, float) and _holds(steps, value):
            step = steps[-1]
            wet = True if steam or step.steam else None
            steps[-1] = replace(step, minutes=value, lid=lid, steam=wet)
            steps.append(OvenStep(celsius=step.celsius, minutes=(step.minutes or 0.0) - value))
            lid = steam = None
        elif fact.what == "after minutes" and isinstance(value, float) and steps:
            whole = steps[-2].minutes if len(steps) > 1 else None
            if whole is not None and whole > value:
                steps[-2:] = [replace(steps[-2], minutes=value), replace(steps[-1], minutes=whole - value)]
            elif dropped is not None and steps[-1].minutes is None:
                preheat_c = None if preheat_c == dropped else preheat_c
                steps[-1:] = [OvenStep(celsius=dropped, minutes=value, lid=lid, steam=steam), steps[-1]]
            else:
                steps.append(OvenStep(celsius=steps[-1].celsius, minutes=value))
            lid = steam = None
        elif fact.what.endswith("minutes") and isinstance(value, float):
            if steps and steps[-1].minutes is None:
                steps[-1] = replace(steps[-1], minutes=value, lid=lid, steam=steam)
            elif steps and not fact.linked:
                times = [s.minutes or 0.0 for s in steps]
                same = any(abs(t - value) <= _SAME_MIN for t in (*times, sum(times)))
                if not same:
                    unused.append(fact)
                if not same and any(f.sentence == fact.sentence and f.what == "celsius" for _, f in facts):
                    return ToldSteps(fields={}, differ=True)
            else:
                steps.append(OvenStep(minutes=value, lid=lid, steam=steam))
            lid = steam = None
        elif fact.what == "lid" and isinstance(value, bool):
            lid = value
        elif fact.what == "steam":
            steam = True
        elif fact.what == "fan" and isinstance(value, bool):
            fields["oven_fan"] = value
        elif fact.what == "foil" and (so_far := whole_time_min(tuple(steps))):
            fields.setdefault("tented_at_min", so_far)
        elif fact.what == "foil at last" and isinstance(value, float):
            foil_last = value
        elif fact.what == "total" and isinstance(value, float):
            if len(steps) == 1 and steps[0].minutes is None:
                steps[0] = replace(steps[0], minutes=value)
            else:
                total = value
    steps = _after_heating_up(_filled(steps, preheat_c, said), facts)
    if total is not None and steps:
        known = sum(s.minutes or 0.0 for s in steps[:-1])
        steps[-1] = replace(steps[-1], minutes=max(total - known, 0.0))
    elif total is not None:
        steps = [OvenStep(celsius=preheat_c, minutes=total)]
    if foil_last is not None and (whole := whole_time_min(tuple(steps))):
        fields["tented_at_min"] = max(whole - foil_last, 0.0)
    if preheat_c is not None:
        fields["preheat_c"] = preheat_c
    if steps:
        fields |= {"oven_steps": tuple(steps), "oven_c": None, "bake_min": None}
    return ToldSteps(fields=fields, said=tuple(said), unused=tuple(unused))


def _holds(steps: list[OvenStep], minutes: float) -> bool:
    """Tell whether "the last 15 min" are part of the step before: they are not where that one is told with its lid."""
    last = steps[-1] if steps else None
    return last is not None and last.lid is not True and last.minutes is not None and last.minutes > minutes


def _after_heating_up(steps: list[OvenStep], facts: Sequence[tuple[int, Fact]]) -> list[OvenStep]:
    """Leave out the time for which a stone is heated before a few minutes of baking: "steel in for 45 min, bake 8"."""
    if len(steps) < 2 or any((s.minutes or 0.0) > _MOST_ON_STONE_MIN for s in steps[1:]):
        return steps
    first = steps[0]
    if (first.minutes or 0.0) < _LEAST_HEATING_MIN or first.celsius != steps[1].celsius:
        return steps
    heats = any(
        f.what == "minutes" and f.value == first.minutes and _HEATS_UP.search(f.source[: f.start])
        for _, f in facts
    )
    return steps[1:] if heats else steps


def _filled(steps: list[OvenStep], preheat_c: float | None, said: list[str]) -> list[OvenStep]:
    filled: list[OvenStep] = []
    for step in steps:
        heat = step.celsius if step.celsius is not None else (filled[-1].celsius if filled else preheat_c)
        if step.celsius is None and not filled and heat is not None:
            said.append("baked at the heat to which the oven was heated")
        filled.append(replace(step, celsius=heat))
    return filled


def rises_told(facts: Sequence[tuple[int, Fact]]) -> ToldSteps:
    """Give the rises in their order: each time is one, a heat belongs to the one before it in its sentence."""
    rises: list[tuple[int, Rise]] = []
    said: list[str] = []
    end_now = 0
    for _, fact in facts:
        value, here = fact.value, fact.sentence
        said += fact.said
        ended, end_now = end_now if rises and rises[-1][0] == here else 0, fact.end
        open_here = bool(rises) and rises[-1][0] == here
        if fact.what == "minutes" and isinstance(value, float):
            if open_here and rises[-1][1].until == "overnight" and value < _LEAST_NIGHT_MIN:
                rises.append((here, Rise(minutes=value)))  # "overnight in the fridge, then an hour out"
            elif open_here and rises[-1][1].minutes is None:
                rises[-1] = (here, replace(rises[-1][1], minutes=value))
            elif not any(r.minutes == value for n, r in rises if n != here) or fact.linked:
                rises.append((here, Rise(minutes=value)))
        elif fact.what == "celsius" and isinstance(value, float) and value < _COLDEST_RISE_C:
            continue  # "until the crown is 1 in above the rim"
        elif fact.what == "celsius" and isinstance(value, float):
            open_ones = [k for k, (n, r) in enumerate(rises) if n == here and r.celsius is None]
            if not open_ones:
                rises.append((here, Rise(celsius=value)))
            for k in open_ones:
                rises[k] = (here, replace(rises[k][1], celsius=value))
        elif isinstance(value, str):
            behind = fact.source[ended : fact.start] if open_here else ""
            if not open_here or (rises[-1][1].minutes is not None and _THEN.search(behind)):
                rises.append((here, Rise()))
            at, rise = rises[-1]
            rises[-1] = (
                at,
                replace(rise, place=value) if fact.what == "place" else replace(rise, until=value),
            )
    told = tuple(part for _, r in rises for part in _night_apart(r))
    if len(told) > 1:
        said.append("the last rise is the one that the oven goes on with")
    return ToldSteps(
        fields={"proofs": told, "proof_min": None, "proof_c": None} if told else {}, said=tuple(said)
    )


def _night_apart(rise: Rise) -> tuple[Rise, ...]:
    """Part "one hour at room temperature, in the fridge overnight", where no word begins the second rise."""
    if rise.until != "overnight" or rise.minutes is None or rise.minutes >= _LEAST_NIGHT_MIN:
        return (rise,)
    return (replace(rise, place="", until=""), Rise(place=rise.place, until=rise.until))


def times_told(facts: Sequence[tuple[int, Fact]], steps: str, total: str) -> ToldSteps:
    """Give the times of one work in their order; the same time told again on another line counts once."""
    times: list[tuple[int, float]] = []
    said: list[str] = []
    for line, fact in facts:
        if isinstance(fact.value, float) and not any(t == fact.value and n != line for n, t in times):
            times.append((line, fact.value))
            said += fact.said
    return ToldSteps(fields={steps: tuple(t for _, t in times), total: None}, said=tuple(said))
