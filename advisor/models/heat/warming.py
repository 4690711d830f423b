"""How the parts of a loaf get hot: the time axis on which gas and set meet in the oven."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from advisor.models.heat.bake_curves import BakeCurves
    from advisor.models.heat.conduction import Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Warming:
    """Temperatures of k shells of the loaf at n minutes after loading.

    `minutes` (n), `temp_c` (n, k) in degrees C, `share` (k) of the loaf's mass, adding up to 1.
    """

    minutes: Array
    temp_c: Array
    share: Array

    def first_at(self, temp_c: float) -> NDArray[np.intp]:
        """Index (k) of the first minute at which each shell has `temp_c`; the last one where it never has."""
        import numpy as np

        reached = self.temp_c >= temp_c
        return np.where(reached.any(axis=0), reached.argmax(axis=0), self.minutes.size - 1)


@lru_cache(maxsize=256)
def warming_until(curves: BakeCurves, until_min: float) -> Warming:
    """Give the shells of a bake up to the pull; the last point stands at `until_min`."""
    import numpy as np

    inside = curves.minutes < until_min - 1e-6
    minutes = np.append(curves.minutes[inside], until_min)
    columns = [np.interp(minutes, curves.minutes, column) for column in curves.shell_c.T]
    return Warming(minutes=minutes, temp_c=np.stack(columns, axis=1), share=curves.shell_share)


@lru_cache(maxsize=64)
def even_warming(start_c: float, c_per_min: float, to_c: float, hold_min: float) -> Warming:
    """Warm a whole loaf alike, for a size of the loaf before its own bake is known.

    From `start_c` to `to_c` at a constant rate, then held for `hold_min`.
    """
    import numpy as np

    climb = max((to_c - start_c) / c_per_min, 0.5)
    minutes = np.append(np.linspace(0.0, climb, 60), climb + hold_min)
    temps = np.append(np.linspace(start_c, to_c, 60), to_c)
    return Warming(minutes=minutes, temp_c=temps[:, None], share=np.ones(1))


def summed_rate(warming: Warming, rate_per_min: Callable[[Array], Array]) -> Array:
    """Integral over time of a rate that depends on temperature, for each shell (n, k); by trapezia."""
    import numpy as np

    rate = rate_per_min(warming.temp_c)
    steps = np.diff(warming.minutes)[:, None] * (rate[1:] + rate[:-1]) / 2
    return np.concatenate((np.zeros((1, rate.shape[1])), np.cumsum(steps, axis=0)))


def drifting_c(start_c: float, towards_c: float, minutes: float, time_constant_min: float) -> float:
    """Temperature of a dough that stands in other air [C]: Newton's law with one time constant."""
    return towards_c + (start_c - towards_c) * math.exp(-minutes / time_constant_min)
