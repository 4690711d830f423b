"""Soda against acids: what reacts, what is left, and when its gas comes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.measured import Acid
from advisor.models.heat.warming import Warming
from advisor.models.leavening.acid_release import ReleaseRates, gated_hazard, oven_hazards

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from advisor.models.heat.conduction import Array

    Places = NDArray[np.intp]

SODA_G_PER_MOL = 84.0066
"""NaHCO3, from IUPAC 2021 atomic weights (checked in tests/outside against periodictable)."""
ML_PER_MOL = 24_465.4
"""Ideal gas at 25 C and 101.325 kPa: R T / P with R = 8.314462618 J/(mol K) (CODATA 2018)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DoughAcid:
    """An acid in the dough, in meq of soda that it can neutralise; `last`: it goes in when all else is mixed."""

    acid: Acid
    meq: float
    last: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SodaAndAcids:
    """What the whole dough holds of soda and acids, meq."""

    soda_meq: float
    acids: tuple[DoughAcid, ...]
    fresh_soda_meq: float = 0.0
    """The soda that there was when its tin was opened."""

    @property
    def strength(self) -> float | None:
        """What age has left of the soda (0..1); `None` without soda."""
        return self.soda_meq / self.fresh_soda_meq if self.fresh_soda_meq > 0 else None

    @property
    def acid_meq(self) -> float:
        """Soda that the acids could neutralise, meq."""
        return sum(a.meq for a in self.acids)

    @property
    def left_soda_meq(self) -> float:
        """Soda without acid, meq."""
        return max(self.soda_meq - self.acid_meq, 0.0)

    @property
    def left_acid_meq(self) -> float:
        """Acid without soda, meq."""
        return max(self.acid_meq - self.soda_meq, 0.0)

    @property
    def potential_ml(self) -> float:
        """CO2 when all has reacted, mL at 25 C and 101.325 kPa: soda without acid gives half of its own."""
        return (self.soda_meq - self.left_soda_meq / 2) * ML_PER_MOL / 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The dough before the oven: minutes mixed at `dough_c`, then minutes of rest and proof with temperatures.

    `last_min` is how long something that is added last is still mixed.
    """

    mix_min: float
    last_min: float
    dough_c: float
    after: tuple[tuple[float, float], ...] = ()
    """(minutes, degrees C) of each stage between bowl and oven."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChemicalGas:
    """CO2 of soda and acids in mL at 25 C and 101.325 kPa by stage, for the whole dough up to the pull."""

    mix: float = 0.0
    bench: float = 0.0
    early_oven: float = 0.0
    late_oven: float = 0.0

    @property
    def total(self) -> float:
        """All chemical CO2 up to the pull, mL."""
        return self.mix + self.bench + self.early_oven + self.late_oven


def soda_and_acids(formula: Formula, knowledge: Knowledge) -> SodaAndAcids:
    """Add up soda and acids [meq]: 1 meq of soda is 84.007 mg of NaHCO3.

    NV = parts of NaHCO3 neutralised by 100 parts of acid. A powder that is old, where the formula says how
    old, has lost part of both (knowledge/coefficients.yaml).
    """
    last = (formula.process.added_last or "").lower()
    soda = fresh = 0.0
    meq: dict[tuple[str, bool], float] = {}
    starter_last = any(
        line.ingredient.name.lower() == last and {"soda", "powder"} & set(line.ingredient.roles)
        for line in formula.lines
    )
    for line in formula.lines:
        strength = math.exp(-line.age_months / knowledge.coefficient("powder_age_months"))
        if line.ingredient.soda_per_100g:
            fresh += line.grams * line.ingredient.soda_per_100g.value / 100
            soda += strength * line.grams * line.ingredient.soda_per_100g.value / 100
        sour_last = line.ingredient.name.lower() == last and "acid" in line.ingredient.roles
        for name, figure in line.ingredient.acids_per_100g.items():
            keeps = strength if line.ingredient.soda_per_100g else 1.0
            grams = keeps * line.grams * figure.value / 100
            nv = knowledge.acids[name].neutralising_value.value
            key = (name, starter_last or sour_last)
            meq[key] = meq.get(key, 0.0) + grams * nv / 100 / SODA_G_PER_MOL * 1000
    return SodaAndAcids(
        soda_meq=soda / SODA_G_PER_MOL * 1000,
        fresh_soda_meq=fresh / SODA_G_PER_MOL * 1000,
        acids=tuple(
            DoughAcid(acid=knowledge.acids[n], meq=v, last=late) for (n, late), v in sorted(meq.items())
        ),
    )


def chemical_gas(
    dough: SodaAndAcids, standing: Standing, warming: Warming, set_c: float, rates: ReleaseRates
) -> ChemicalGas:
    """Place the gas in time: bowl, bench, oven before each shell of the loaf sets (at `set_c`), after.

    Acids are released each at its own pace (acid_release.py) and take what soda is left, so that the fast ones have
    first call on it. Base U that no acid has met yet splits by heat, 2 NaHCO3 -> Na2CO3 + CO2 + H2O, first
    order; what acid comes later meets bicarbonate and carbonate alike. The gas given so far is then exactly
    soda - U (1 + exp(-h)) / 2, h the integral of the splitting rate: all of it where U is zero, half
    where no acid comes.
    """
    if dough.soda_meq <= 0:
        return ChemicalGas()
    import numpy as np

    set_at = warming.first_at(set_c)
    in_bowl = _given(dough, _cold_demand(dough, standing, rates, mixing_only=True), 0.0)
    in_pan = _given(dough, _cold_demand(dough, standing, rates, mixing_only=False), 0.0)
    shells = np.arange(warming.share.size)
    # Between two moments of the warming the gas is taken to come evenly, so that nothing moves in stairs.
    earlier = _given_hot(dough, standing, warming, rates, np.maximum(set_at - 1, 0), shells)
    at_set = earlier + _way(warming, set_at, set_c) * (
        _given_hot(dough, standing, warming, rates, set_at, shells) - earlier
    )
    at_end = _given_hot(
        dough, standing, warming, rates, np.full_like(set_at, warming.minutes.size - 1), shells
    )
    before_set = float(warming.share.dot(at_set))
    ml = ML_PER_MOL / 1000
    return ChemicalGas(
        mix=in_bowl * ml,
        bench=max(in_pan - in_bowl, 0.0) * ml,
        early_oven=max(before_set - in_pan, 0.0) * ml,
        late_oven=max(float(warming.share.dot(at_end)) - before_set, 0.0) * ml,
    )


def _way(warming: Warming, at: Places, temp_c: float) -> Array:
    """Way (k) of each shell from the moment before `at` to that moment at which it has `temp_c` (0..1)."""
    import numpy as np

    shells = np.arange(warming.share.size)
    before, after = warming.temp_c[np.maximum(at - 1, 0), shells], warming.temp_c[at, shells]
    rises = np.maximum(after - before, 1e-9)
    way: Array = np.clip((temp_c - before) / rises, 0.0, 1.0)
    return way


def given_over_time(
    dough: SodaAndAcids, standing: Standing, warming: Warming, rates: ReleaseRates
) -> tuple[float, float, Array]:
    """CO2 given so far, mL: at the end of mixing, at the oven's door, and over the warming (n, k)."""
    import numpy as np

    ml = ML_PER_MOL / 1000
    steps, shells = np.meshgrid(np.arange(warming.minutes.size), np.arange(warming.share.size), indexing="ij")
    return (
        ml * _given(dough, _cold_demand(dough, standing, rates, mixing_only=True), 0.0),
        ml * _given(dough, _cold_demand(dough, standing, rates, mixing_only=False), 0.0),
        ml * _given_hot(dough, standing, warming, rates, steps, shells),
    )


def _given(dough: SodaAndAcids, demand_meq: float, split: float) -> float:
    """CO2 given, in mmol, when the acids have claimed `demand_meq` and heat has acted for the integral `split`."""
    unmet = max(dough.soda_meq - demand_meq, 0.0)
    return dough.soda_meq - unmet * (1 + math.exp(-split)) / 2


def _cold_hazards(
    a: DoughAcid, standing: Standing, rates: ReleaseRates, *, mixing_only: bool
) -> tuple[float, float, float, float]:
    """Integrals of the four rates before the oven."""
    bowl = min(standing.mix_min, standing.last_min) if a.last else standing.mix_min
    early_half, late_half = rates.halves(a.acid)
    stages = [(bowl, standing.dough_c)]
    if not mixing_only:
        stages += standing.after
    return (
        rates.mix * sum(minutes for minutes, _ in stages),
        sum(minutes * rates.bench_at(t) for minutes, t in stages),
        sum(minutes * rates.gated_at(t, early_half) for minutes, t in stages),
        sum(minutes * rates.gated_at(t, late_half) for minutes, t in stages),
    )


def _parts(acid: Acid) -> tuple[float, float, float, float]:
    return acid.release_mix, acid.release_bench, acid.release_early_oven, acid.release_late_oven


def _cold_demand(dough: SodaAndAcids, standing: Standing, rates: ReleaseRates, *, mixing_only: bool) -> float:
    """Acid released so far [meq], whether or not soda is left for it."""
    return sum(
        a.meq * part * -math.expm1(-h)
        for a in dough.acids
        for part, h in zip(
            _parts(a.acid), _cold_hazards(a, standing, rates, mixing_only=mixing_only), strict=True
        )
    )


def _given_hot(
    dough: SodaAndAcids,
    standing: Standing,
    warming: Warming,
    rates: ReleaseRates,
    steps: Places,
    shells: Places,
) -> Array:
    """CO2 given in mmol, as if all the dough were like each shell, at the steps asked for (same shape)."""
    import numpy as np

    shared = oven_hazards(warming, rates)
    bench = shared.bench[steps, shells]
    minutes = warming.minutes[steps]
    demand = np.zeros(bench.shape)
    for a in dough.acids:
        cold = _cold_hazards(a, standing, rates, mixing_only=False)
        early_half, late_half = rates.halves(a.acid)
        hot = (
            rates.mix * minutes,
            bench,
            gated_hazard(warming, rates, early_half)[steps, shells],
            gated_hazard(warming, rates, late_half)[steps, shells],
        )
        for part, before, since in zip(_parts(a.acid), cold, hot, strict=True):
            if part > 0:
                demand -= a.meq * part * np.expm1(-before - since)
    unmet = np.maximum(dough.soda_meq - demand, 0.0)
    given: Array = dough.soda_meq - unmet * (1 + np.exp(-shared.soda[steps, shells])) / 2
    return given
