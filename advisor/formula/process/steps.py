"""Steps of a process, in their order: rises of the dough, and what the oven does one after the other."""

from __future__ import annotations

from dataclasses import dataclass, replace

SAME = 1e-6
DOUGH_FREEZES_C = -5.0
"""Colder than this a dough is frozen and does not rise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rise:
    """One rise of the dough: how long [min], how warm [C], where, and what it waits for."""

    minutes: float | None = None
    celsius: float | None = None
    place: str = ""
    """"fridge", "counter", "oven light"; empty where nothing is said."""
    until: str = ""
    """"doubled", "at the rim"; empty where only the clock counts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OvenStep:
    """One step in the oven: how hot [C], how long [min], with or without lid and steam (`None`: not said)."""

    celsius: float | None = None
    minutes: float | None = None
    lid: bool | None = None
    steam: bool | None = None


def whole_time_min(steps: tuple[OvenStep, ...]) -> float | None:
    """Minutes of all steps; `None` where one of them has no time."""
    times = [step.minutes for step in steps]
    return None if any(t is None for t in times) else sum(t or 0.0 for t in times)


def mean_heat_c(steps: tuple[OvenStep, ...]) -> float | None:
    """Heat of all steps, weighed by their time [C]; that of the first where a time is missing."""
    heats = [step.celsius for step in steps if step.celsius is not None]
    if not heats:
        return None
    total = whole_time_min(steps)
    if not total or len(heats) < len(steps):
        return heats[0]
    return sum((s.celsius or 0.0) * (s.minutes or 0.0) for s in steps) / total


def steps_as_set(
    steps: tuple[OvenStep, ...], oven_c: float | None, bake_min: float | None
) -> tuple[OvenStep, ...]:
    """Bring steps to another mean heat [C] and another whole time [min]: all are shifted, the last is stretched.

    So a change that moves "the oven" or "the bake" by so much keeps the steps of the baker. Steps behind an earlier
    end fall away.
    """
    total = whole_time_min(steps)
    before = mean_heat_c(steps)
    if oven_c is not None and before is not None and abs(oven_c - before) <= SAME:
        oven_c = None  # it is the mean of these steps, and moves with their times
    if bake_min is not None and total is not None and abs(bake_min - total) > SAME:
        kept: list[OvenStep] = []
        left = bake_min
        for number, step in enumerate(steps, 1):
            minutes = left if number == len(steps) else min(step.minutes or 0.0, left)
            if minutes > SAME or not kept:
                kept.append(replace(step, minutes=minutes))
            left -= minutes
        steps = tuple(kept)
    mean = mean_heat_c(steps)
    if oven_c is not None and mean is not None and abs(oven_c - mean) > SAME:
        shift = oven_c - mean
        steps = tuple(replace(s, celsius=None if s.celsius is None else s.celsius + shift) for s in steps)
    return steps


def is_plain(step: OvenStep) -> bool:
    """Tell whether a step says no more than a heat and a time."""
    return step.lid is None and step.steam is None
