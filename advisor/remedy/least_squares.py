"""Least squares over a few bounded unknowns: the steps of Levenberg and Marquardt, held within the bounds.

Sum of squares f(x) = |r(x)|^2; each step d solves (J'J + m diag(J'J)) d = -J'r over the unknowns that are free to
move, J by forward differences (K. Levenberg, Quart. Appl. Math. 2 (1944) 164; D. W. Marquardt, J. SIAM 11 (1963)
431). An unknown that stands at a bound and is pushed against it is held there for the step.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Vector = NDArray[np.float64]

Residuals = Callable[[Sequence[float]], Sequence[float]]
_ROUNDS = 40
_DIFFERENCE = 1e-3
"""Share of an unknown by which it is moved to see the slope."""
_ENOUGH = 1e-8
"""A step that takes a smaller share off the sum of squares ends the search."""
_FIRST_DAMPING, _LESS, _MORE, _MOST = 1e-3, 0.2, 5.0, 1e8


def least_squares(
    residuals: Residuals, start: Sequence[float], low: Sequence[float], high: Sequence[float]
) -> tuple[float, ...]:
    """Give the unknowns, each within `low` and `high`, at which the sum of the squared residuals is least.

    A valley near `start` is found, as for any method of its kind; the residuals may have kinks.
    """
    import numpy as np

    lowest, highest = np.array(low, dtype=float), np.array(high, dtype=float)
    x: Vector = np.clip(np.array(start, dtype=float), lowest, highest)
    r: Vector = np.array(residuals(tuple(x)), dtype=float)
    damping = _FIRST_DAMPING
    for _ in range(_ROUNDS):
        slopes = _slopes(residuals, x, r, highest)
        downhill: Vector = -slopes.T @ r
        free = ~(((x <= lowest) & (downhill < 0)) | ((x >= highest) & (downhill > 0)))
        if not free.any():
            break
        square: Vector = slopes.T @ slopes
        before = float(r @ r)
        while damping < _MOST:
            moved = np.clip(x + _step(square, downhill, free, damping), lowest, highest)
            new: Vector = np.array(residuals(tuple(moved)), dtype=float)
            if float(new @ new) < before:
                break
            damping *= _MORE
        else:
            break  # no step leads further down
        x, r, damping = moved, new, max(damping * _LESS, 1e-12)
        if before - float(r @ r) <= _ENOUGH * before:
            break
    return tuple(float(value) for value in x)


def _slopes(residuals: Residuals, x: Vector, r: Vector, highest: Vector) -> Vector:
    """J[i, j] = d r_i / d x_j, each unknown moved up, or down where it stands near its upper bound."""
    import numpy as np

    out = np.empty((len(r), len(x)))
    for place in range(len(x)):
        step = _DIFFERENCE * max(abs(float(x[place])), 1.0)
        if x[place] + step > highest[place]:
            step = -step
        beside = x.copy()
        beside[place] += step
        out[:, place] = (np.array(residuals(tuple(beside)), dtype=float) - r) / step
    return out


def _step(square: Vector, downhill: Vector, free: NDArray[np.bool_], damping: float) -> Vector:
    import numpy as np

    some = np.ix_(free, free)
    steep = np.diag(np.maximum(np.diag(square)[free], 1e-12))
    out = np.zeros(len(downhill))
    out[free] = np.linalg.solve(square[some] + damping * steep, downhill[free])
    return out
