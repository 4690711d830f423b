"""What a bake gives: temperatures, set share and water over time, and the colour of the crust."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor.models.dough.thermal import GAS_CONSTANT
from advisor.models.heat.loaf_heat import OvenCoefficients

if TYPE_CHECKING:
    from advisor.models.heat.conduction import Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BakeCurves:
    """Curves over the bake: minutes; C for core (coldest point), mean and top surface; shares 0..1.

    `set_share` is the share of the section that has reached `set_c`; `water_lost_frac` is over the dough's
    mass; heat is over the section's volume since loading, J/m3, taken in at the surface and held.

    `shell_c` (time, shell) is the mean temperature of parts of the section in the order in which they set, the
    outermost first and the core last; `shell_share` is each one's share of the mass. Weighted by it, the
    shells' mean is `mean_c`.
    """

    minutes: Array
    core_c: Array
    mean_c: Array
    shell_c: Array
    shell_share: Array
    set_share: Array
    surface_top_c: Array
    water_lost_frac: Array
    set_c: float
    boiling_c: float
    heat_taken_j_m3: Array
    heat_held_j_m3: Array

    def core_reaches(self, temp_c: float) -> float | None:
        """Minutes until the coldest point has `temp_c`; `None` if it does not within the curve."""
        index = bisect_left(self.core_c, temp_c)
        if index == len(self.core_c):
            return None
        if index == 0:
            return float(self.minutes[0])
        low, high = float(self.core_c[index - 1]), float(self.core_c[index])
        before, after = float(self.minutes[index - 1]), float(self.minutes[index])
        return before + (after - before) * (temp_c - low) / (high - low)

    def core_at(self, minute: float) -> float:
        """Core temperature at a minute, C; beyond the curve its last value."""
        return self._value(self.core_c, minute)

    def mean_at(self, minute: float) -> float:
        """Mean temperature at a minute, C; beyond the curve its last value."""
        return self._value(self.mean_c, minute)

    def water_lost_at(self, minute: float) -> float:
        """Water lost at a minute over the dough's mass, 0..1; beyond the curve its last value."""
        return self._value(self.water_lost_frac, minute)

    def _value(self, curve: Array, minute: float) -> float:
        index = bisect_left(self.minutes, minute)
        if index == 0:
            return float(curve[0])
        if index == len(curve):
            return float(curve[-1])
        before, after = float(self.minutes[index - 1]), float(self.minutes[index])
        share = (minute - before) / (after - before)
        return float(curve[index - 1]) * (1 - share) + float(curve[index]) * share


def crust_browning(curves: BakeCurves, until_min: float, coefficients: OvenCoefficients) -> float:
    """Heat dose of the top crust until a minute; 1 is a usual brown crust, below 0.4 pale, over 2.2 dark.

    Dose: the integral over time, while the surface is above the onset, of exp(E/R (1/T_ref - 1/T)), over
    the minutes at the reference temperature that brown a crust. Colour deepens ever more slowly: the dose is
    raised to a power below 1. It knows heat alone: sugar, milk, egg wash and pH shift the colour beside it.
    """
    import numpy as np

    energy = coefficients.browning_energy_kj_mol * 1000 / GAS_CONSTANT
    reference_k = coefficients.browning_reference_c + 273.15
    onset_c = coefficients.browning_onset_c
    inside = curves.minutes < until_min
    minutes = np.append(curves.minutes[inside], until_min)
    surface = np.append(
        curves.surface_top_c[inside], np.interp(until_min, curves.minutes, curves.surface_top_c)
    )
    hot = np.maximum(surface, onset_c)
    # Of a step that crosses the onset only the part above it counts, from where it crosses.
    swing = np.abs(np.diff(surface))
    still = np.minimum(surface[1:], surface[:-1]) >= onset_c
    above = np.where(still, 1.0, np.abs(np.diff(hot)) / np.maximum(swing, 1e-12))

    def rate(surface_c: Array) -> Array:
        return np.asarray(np.exp(energy * (1 / reference_k - 1 / (surface_c + 273.15))))

    middle = (hot[1:] + hot[:-1]) / 2
    mean = (rate(hot[1:]) + 4 * rate(middle) + rate(hot[:-1])) / 6
    dose = float((np.diff(minutes) * above * mean).sum())
    return float((dose / coefficients.browning_minutes) ** coefficients.browning_power)
