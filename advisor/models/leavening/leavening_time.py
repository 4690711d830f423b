"""Gas on the clock: bowl, rest, proof and oven as one time axis, for soda and yeast together."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.assumptions import ProcessWithDefaults
from advisor.models.dough.thermal import pressure_pa
from advisor.models.heat.warming import Warming, drifting_c, even_warming
from advisor.models.leavening.acid_release import ReleaseRates
from advisor.models.leavening.fermentation import (
    Food,
    Progress,
    Step,
    Surroundings,
    Yeast,
    YeastGas,
    amylase_rate,
    dying_rate,
    ferment,
    relative_rate,
    yeast_gas,
    yeast_in,
)
from advisor.models.leavening.neutralisation import ChemicalGas, SodaAndAcids, Standing, chemical_gas

LONGEST_STEP_MIN = 2.0
"""Of the fermentation's stepping, where it is not an overnight proof: numerical, not of the trade."""
STAGE_STEPS = 80


@dataclass(frozen=True, slots=True)
class _Hashed:
    """Lets a cache hold on to one Knowledge by identity."""

    knowledge: Knowledge

    def __hash__(self) -> int:
        return id(self.knowledge)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Hashed) and other.knowledge is self.knowledge


@dataclass(frozen=True, slots=True, kw_only=True)
class BeforeOven:
    """The dough as it goes into the oven: its temperature, what has been let go, and what is left to come."""

    standing: Standing
    soda: SodaAndAcids
    rates: ReleaseRates
    yeast: Yeast | None
    rest: tuple[Progress, ...]
    proof: tuple[Progress, ...]
    into_oven_c: float

    @property
    def fermented(self) -> Progress:
        """How far the yeast has come at the oven's door."""
        return (*self.rest, *self.proof)[-1]


def before_oven(
    formula: Formula,
    with_defaults: ProcessWithDefaults,
    soda: SodaAndAcids,
    around: Surroundings,
    dough_c: float,
    knowledge: Knowledge,
) -> BeforeOven:
    """Follow a dough from the bowl to the oven's door.

    It rests at its own temperature and rises at one that drifts towards the rise's, once or several times; `rest`
    is all up to the last shaping. Where nothing is stated it still takes the minutes of panning.
    """
    c = knowledge.coefficient
    yeast = yeast_in(formula, around, dough_c, knowledge)
    drift = c("dough_drift_min")
    panning = max(c("assumed_panning_min") - with_defaults.stood_min, 0.0)
    rest = (with_defaults.rest_min + panning, dough_c)
    first, shaped_c = list[tuple[float, float]](), dough_c
    for minutes, celsius in with_defaults.earlier:
        first += _drifting(shaped_c, celsius, minutes, drift)
        shaped_c = drifting_c(shaped_c, celsius, minutes, drift)
    earlier = tuple(first)
    proof = _drifting(shaped_c, with_defaults.proof_c, with_defaults.proof_min, drift)
    rested, proofed = _raised(yeast, rest, earlier, proof, _Hashed(knowledge))
    return BeforeOven(
        standing=Standing(
            mix_min=with_defaults.mix_min,
            last_min=c("acid_last_mix_min"),
            dough_c=dough_c,
            after=(rest, *_coarser(earlier), *_coarser(proof)),
        ),
        soda=soda,
        rates=ReleaseRates.read(knowledge),
        yeast=yeast,
        rest=rested,
        proof=proofed,
        into_oven_c=drifting_c(shaped_c, with_defaults.proof_c, with_defaults.proof_min, drift),
    )


_Stages = tuple[tuple[float, float], ...]
"""Stretches of time: minutes, and the dough's temperature, C."""


def _drifting(from_c: float, to_c: float, minutes: float, drift_min: float) -> _Stages:
    """A proof cut into steps, in each the temperature of its middle."""
    if minutes <= 0:
        return ()
    parts = _parts(minutes)
    each = minutes / parts
    return tuple((each, drifting_c(from_c, to_c, (n + 0.5) * each, drift_min)) for n in range(parts))


def _parts(minutes: float) -> int:
    return max(min(math.ceil(minutes / LONGEST_STEP_MIN), STAGE_STEPS), 1)


# Whoever turns the oven asks for the same proof again and again.
@lru_cache(maxsize=64)
def _raised(
    yeast: Yeast | None, rest: tuple[float, float], earlier: _Stages, proof: _Stages, by: _Hashed
) -> tuple[tuple[Progress, ...], tuple[Progress, ...]]:
    """Progress of the yeast through rest and proof, from the wetting on; that of the rest begins with the start."""
    start = Progress(minutes=0.0, made=0.0, could=0.0, food=yeast.food if yeast else Food())
    if yeast is None:
        return (start,), ()
    minutes, temp_c = rest
    parts = _parts(minutes)
    stages = _steps(((minutes / parts, temp_c),), by) * parts + _steps(earlier, by)
    rested = (start, *ferment(yeast, start, stages, by.knowledge))
    return rested, tuple(ferment(yeast, rested[-1], _steps(proof, by), by.knowledge))


@lru_cache(maxsize=64)
def _steps(stages: _Stages, by: _Hashed) -> tuple[Step, ...]:
    return tuple(
        Step(
            minutes=minutes,
            relative=relative_rate(temp_c, by.knowledge),
            amylase=amylase_rate(temp_c, by.knowledge),
            dying=dying_rate(temp_c, by.knowledge),
        )
        for minutes, temp_c in stages
    )


def proof_need_min(
    before: BeforeOven, with_defaults: ProcessWithDefaults, dough_g: float, knowledge: Knowledge
) -> float | None:
    """Minutes until yeast has made the gas of a full proof; `None` without yeast or where it never does.

    From mixing; of a dough that was knocked back from its last shaping, what shaping left in it counted: a share of
    what it held, which was no more than a full proof, however long it had stood. Read off the fermentation as it is
    followed; past its end the last pace is carried on while food lasts. In thinner air less gas fills the dough.
    """
    if before.yeast is None or dough_g <= 0:
        return None
    thinner = pressure_pa(with_defaults.altitude_m) / pressure_pa(0.0)
    wanted = knowledge.coefficient("proof_gas_ml") * thinner * dough_g / 100
    steps, since = (*before.rest, *before.proof), 0.0
    if with_defaults.earlier:
        shaped = before.rest[-1]
        steps, since = (shaped, *before.proof), shaped.minutes
        held = min(shaped.made, wanted)
        wanted += shaped.made - knowledge.coefficient("gas_kept_through_shaping") * held
    for earlier, later in pairwise(steps):
        if later.made >= wanted > earlier.made:
            way = (wanted - earlier.made) / (later.made - earlier.made)
            return earlier.minutes - since + way * (later.minutes - earlier.minutes)
    last = steps[-1]
    if len(steps) < 2 or wanted > last.made + last.food.total:
        return None
    pace = (last.made - steps[-2].made) / max(last.minutes - steps[-2].minutes, 1e-9)
    return last.minutes - since + (wanted - last.made) / pace if pace > 1e-9 else None


def stood_over_need(with_defaults: ProcessWithDefaults, need_min: float | None) -> float | None:
    """How many times the minutes that it needs a yeast dough stands since it was shaped; `None` without a need (-).

    The rise alone does not show it: a dough past its best has lost what it gained (common practice, no source).
    """
    if not need_min:
        return None
    stood = with_defaults.proof_min if with_defaults.earlier else with_defaults.stood_min
    return stood / need_min


def gas_through_oven(
    before: BeforeOven, warming: Warming, set_c: float, knowledge: Knowledge
) -> tuple[ChemicalGas, YeastGas]:
    """All the gas up to the end of the warming, that of the oven split at the set of each shell (`set_c`)."""
    soda = chemical_gas(before.soda, before.standing, warming, set_c, before.rates)
    if before.yeast is None:
        return soda, YeastGas()
    proofed = before.fermented
    oven = ferment(before.yeast, proofed, oven_steps(warming, knowledge), knowledge)
    return soda, yeast_gas(before.yeast, before.rest[-1], proofed, oven[-1] if oven else proofed, knowledge)


def expected_warming(before: BeforeOven, knowledge: Knowledge) -> Warming:
    """Warm the loaf at a usual pace: for the size at which it is baked, before its own curve is known."""
    c = knowledge.coefficient
    return even_warming(
        float(round(before.into_oven_c + 1e-9)),
        c("usual_warming_c_per_min"),
        c("target_core_c"),
        c("usual_hold_min"),
    )


def oven_steps(warming: Warming, knowledge: Knowledge) -> tuple[Step, ...]:
    """Steps of the young oven: the mean over the shells of how fast yeast and amylase work, until both are dead."""
    return _oven_steps(warming, _Hashed(knowledge))


@lru_cache(maxsize=256)
def _oven_steps(warming: Warming, by: _Hashed) -> tuple[Step, ...]:
    knowledge = by.knowledge
    dead = knowledge.coefficient("yeast_max_c")
    steps = []
    minutes, shares = warming.minutes.tolist(), warming.share.tolist()
    middles = ((warming.temp_c[1:] + warming.temp_c[:-1]) / 2).tolist()
    for before, after, temps in zip(minutes, minutes[1:], middles, strict=False):
        if min(temps) >= dead:
            break
        steps.append(
            Step(
                minutes=after - before,
                relative=sum(w * relative_rate(t, knowledge) for w, t in zip(shares, temps, strict=True)),
                amylase=sum(w * amylase_rate(t, knowledge) for w, t in zip(shares, temps, strict=True)),
            )
        )
    return tuple(steps)


def _coarser(stages: _Stages) -> _Stages:
    """One stage with the mean temperature: acids do not need every two minutes of a proof."""
    minutes = sum(m for m, _ in stages)
    return ((minutes, sum(m * t for m, t in stages) / minutes),) if minutes > 0 else ()
