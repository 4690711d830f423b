"""Bowl, rest, proof, oven and cooling on one axis of minutes, with the gas let go and the share set."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.leavening.fermentation import ferment
from advisor.models.leavening.leavening_time import oven_steps
from advisor.models.leavening.neutralisation import given_over_time
from advisor.models.measuring import Workings

StageName = Literal["mixing", "rest", "proof", "oven"]
MarkName = Literal["core set", "core done", "door", "probe", "pull", "leave shut until"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One stage of the work, minutes since the bowl."""

    name: StageName
    start: float
    end: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """Something that happens at a minute since the bowl; `oven_min` is the same since loading."""

    name: MarkName
    minute: float
    oven_min: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Timeline:
    """Curves over `minutes` since the bowl, all of one length.

    Gas in mL of CO2 (25 C, 101.325 kPa) per 100 g of dough, summed up; `set_share` 0..1; `core_c` in degrees C, the
    dough's temperature before the oven. Without a bake it ends at the oven's door.
    """

    minutes: tuple[float, ...]
    soda_gas: tuple[float, ...]
    yeast_gas: tuple[float, ...]
    set_share: tuple[float, ...]
    core_c: tuple[float, ...]
    stages: tuple[Stage, ...]
    marks: tuple[Mark, ...]

    @property
    def gas(self) -> tuple[float, ...]:
        """All gas so far, mL per 100 g."""
        return tuple(a + b for a, b in zip(self.soda_gas, self.yeast_gas, strict=True))


def timeline(work: Workings, knowledge: Knowledge) -> Timeline:
    """Lay the workings of one formula on the clock."""
    import numpy as np

    dough_state, before, with_defaults = work.dough_state, work.before, work.dough_state.with_defaults
    stages = _stages(work)
    door = stages[-1].start if work.bake is not None else stages[-1].end
    per_100g = 100 / dough_state.dough.total
    in_bowl, in_pan, hot = given_over_time(before.soda, before.standing, work.warming, before.rates)
    minutes = [0.0, with_defaults.mix_min]
    soda, core = [0.0, in_bowl], [dough_state.dough_c, dough_state.dough_c]
    bench = np.linspace(with_defaults.mix_min, door, 40)[1:] if door > with_defaults.mix_min else np.array([])
    for minute in bench.tolist():
        # Between bowl and oven the acids' own curve is smooth: a share of the way is near enough to draw.
        way = (minute - with_defaults.mix_min) / (door - with_defaults.mix_min)
        minutes.append(minute)
        soda.append(in_bowl + (in_pan - in_bowl) * (1 - (1 - way) ** 2))
        core.append(dough_state.dough_c + (before.into_oven_c - dough_state.dough_c) * way)
    yeast = _yeast_gas(work, knowledge, minutes, door)
    share = [0.0] * len(minutes)
    if work.bake is not None and work.set_course is not None:
        oven = work.warming.minutes.tolist()
        minutes += [door + m for m in oven]
        soda += (hot @ work.warming.share).tolist()
        core += np.interp(oven, work.bake.curves.minutes, work.bake.curves.core_c).tolist()
        share += work.set_course.share
    return Timeline(
        minutes=tuple(minutes),
        soda_gas=tuple(per_100g * x for x in soda),
        yeast_gas=tuple(per_100g * x for x in _padded(yeast, len(minutes))),
        set_share=tuple(share),
        core_c=tuple(core),
        stages=stages,
        marks=_marks(work, door),
    )


def _stages(work: Workings) -> tuple[Stage, ...]:
    with_defaults = work.dough_state.with_defaults
    pairs: list[tuple[StageName, float]] = [
        ("mixing", with_defaults.mix_min),
        ("rest", sum(minutes for minutes, _ in work.before.standing.after) - with_defaults.proof_min),
        ("proof", with_defaults.proof_min),
    ]
    if work.bake is not None:
        pairs.append(("oven", work.bake.pulled_at_min))
    out, now = [], 0.0
    for name, minutes in pairs:
        if minutes > 0:
            out.append(Stage(name=name, start=now, end=now + minutes))
            now += minutes
    return tuple(out)


def _yeast_gas(work: Workings, knowledge: Knowledge, cold: Sequence[float], door: float) -> list[float]:
    """Gas of the yeast at the cold minutes, then at those of the warming; it lags mixing as it does in the models."""
    import numpy as np

    before, mixed = work.before, work.dough_state.with_defaults.mix_min
    if before.yeast is None:
        return [0.0] * (len(cold) + work.warming.minutes.size)
    course = (*before.rest, *before.proof)
    made = np.interp(cold, [mixed + p.minutes for p in course], [p.made for p in course]).tolist()
    steps = ferment(before.yeast, before.fermented, oven_steps(work.warming, knowledge), knowledge)
    hot = [before.fermented.made, *(p.made for p in steps)]
    return [*made, *_padded(hot, work.warming.minutes.size)]


def _padded(values: Sequence[float], length: int) -> list[float]:
    """Hold the last value to the end: a yeast that is dead makes no more."""
    return [*values[:length], *([values[-1]] * max(length - len(values), 0))]


def _marks(work: Workings, door: float) -> tuple[Mark, ...]:
    if work.bake is None:
        return ()
    process = work.dough_state.formula.process
    found: list[tuple[MarkName, float | None]] = [
        ("core set", work.bake.core_set_min),
        ("core done", work.bake.core_done_min),
        ("leave shut until", work.measures.value("do_not_disturb_until_min")),
        ("door", process.opened_at_min),
        ("probe", process.probed_at_min),
        ("pull", work.bake.pulled_at_min),
    ]
    marks = [Mark(name=n, minute=door + m, oven_min=m) for n, m in found if m is not None]
    return tuple(sorted(marks, key=lambda mark: mark.minute))
