"""When an acid lets the gas go: parts of it that dissolve at once, on the bench, in the young oven and late.

Each part is released by first order, so that what is left of it is exp(-h) with h the integral of its rate over
time. That this is the right form was measured: one or two parallel first-order reactions for glucono-delta-lactone,
cream of tartar and acid pyrophosphate (Bellido, Scanlon, Sapirstein, Page 2008, J. Agric. Food Chem. 56, 9855;
abstract). The rates stand in knowledge/coefficients.yaml, the parts in knowledge/acids.yaml.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.measured import Acid
from advisor.models.dough.thermal import GAS_CONSTANT
from advisor.models.heat.warming import Warming, summed_rate

if TYPE_CHECKING:
    from advisor.models.heat.conduction import Array


@dataclass(frozen=True, slots=True, kw_only=True)
class ReleaseRates:
    """Rates per minute and temperatures in C of the four parts, and of soda's own splitting by heat."""

    mix: float
    bench: float
    bench_q10: float
    oven: float
    onset_c: float
    onset_to_half_c: float
    half_to_late_c: float
    latest_half_c: float
    width_c: float
    soda_energy_j_mol: float
    soda_per_min: float
    soda_wet: float

    @classmethod
    def read(cls, knowledge: Knowledge) -> ReleaseRates:
        """Take the constants from knowledge/coefficients.yaml."""
        c = knowledge.coefficient
        return cls(
            mix=c("acid_mix_per_min"),
            bench=c("acid_bench_per_min"),
            bench_q10=c("acid_bench_q10"),
            oven=c("acid_oven_per_min"),
            onset_c=c("acid_onset_c"),
            onset_to_half_c=c("acid_onset_to_half_c"),
            half_to_late_c=c("acid_half_to_late_c"),
            latest_half_c=c("acid_latest_half_c"),
            width_c=c("acid_width_c"),
            soda_energy_j_mol=1000 * c("soda_split_kj_mol"),
            soda_per_min=c("soda_split_per_min"),
            soda_wet=c("soda_split_wet_factor"),
        )

    def bench_at(self, temp_c: float) -> float:
        """Rate of the bench part [1/min]: a Q10 law about 27 C, the temperature of dough rate tests."""
        return self.bench * float(self.bench_q10 ** ((temp_c - 27.0) / 10))

    def halves(self, acid: Acid) -> tuple[float, float]:
        """Temperatures [C] at which the two oven parts have half their full rate."""
        early = (acid.onset_c if acid.onset_c is not None else self.onset_c) + self.onset_to_half_c
        return early, min(early + self.half_to_late_c, max(self.latest_half_c, early))

    def gated_at(self, temp_c: float, half_c: float) -> float:
        """Rate of an oven part [1/min]: a logistic step of temperature."""
        return self.oven / (1 + math.exp(-(temp_c - half_c) / self.width_c))

    def soda_at(self, temp_c: Array) -> Array:
        """Rate at which soda splits by heat alone [1/min], first order.

        Arrhenius with 105.8 kJ/mol and 6.7e12 per min: Wu and Shih 1993, Thermochim. Acta 223, 177 (abstract), for
        dry powder at 360 to 450 K; dissolved in a dough it goes faster by `soda_wet`, which is from memory.
        """
        import numpy as np

        energy = self.soda_energy_j_mol / GAS_CONSTANT
        return np.asarray(self.soda_wet * self.soda_per_min * np.exp(-energy / (temp_c + 273.15)))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OvenHazards:
    """Integrals of the rates over a warming, each (n, k): bench part, soda alone."""

    bench: Array
    soda: Array


@lru_cache(maxsize=256)
def oven_hazards(warming: Warming, rates: ReleaseRates) -> OvenHazards:
    """Follow the parts that all acids share through the oven."""
    import numpy as np

    # Past 60 C the bench part is gone in minutes whatever the law says: no need to follow it to 10^3.
    bench = summed_rate(
        warming, lambda t: rates.bench * rates.bench_q10 ** ((np.minimum(t, 60.0) - 27.0) / 10)
    )
    return OvenHazards(bench=bench, soda=summed_rate(warming, rates.soda_at))


@lru_cache(maxsize=1024)
def gated_hazard(warming: Warming, rates: ReleaseRates, half_c: float) -> Array:
    """Integral (n, k) of the rate of an oven part over a warming."""
    import numpy as np

    return summed_rate(warming, lambda t: rates.oven / (1 + np.exp(-(t - half_c) / rates.width_c)))
