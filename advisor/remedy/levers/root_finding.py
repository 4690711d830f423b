"""Where a curve crosses nought between two settings on either side of it.

Brent's method (R. P. Brent, Algorithms for Minimization without Derivatives, 1973, chapter 4): a secant or an
inverse parabola through the last three points where that closes in quickly enough, else a bisection, so that it
never leaves the bracket. It stands here because importing a library for it takes longer than a whole check.
"""

from __future__ import annotations

from collections.abc import Callable


def crossing(
    curve: Callable[[float], float],
    low: float,
    high: float,
    *,
    at_low: float,
    at_high: float,
    within: float = 1e-3,
    relative: float = 1e-6,
    steps: int = 40,
) -> float:
    """Give a setting within `within` + `relative` x setting of a crossing; after `steps` the nearest one so far.

    `at_low` and `at_high` are the curve's values at the ends, which are known where a bracket was looked for.

    Raises:
        ValueError: the values at the ends have the same sign, so that no crossing need lie between them.
    """
    if at_low == 0.0 or at_high == 0.0:
        return low if at_low == 0.0 else high
    if (at_low > 0.0) == (at_high > 0.0):
        raise ValueError(f"no change of sign from {low:g} to {high:g}")
    before, y_before = low, at_low
    best, y_best = high, at_high
    other, y_other = before, y_before  # always on the other side of the crossing than `best`
    step = last_step = best - before
    for _ in range(steps):
        if y_before != 0.0 and y_best != 0.0 and (y_before > 0.0) != (y_best > 0.0):
            other, y_other = before, y_before
            step = last_step = best - before
        if abs(y_other) < abs(y_best):
            before, best, other = best, other, best
            y_before, y_best, y_other = y_best, y_other, y_best
        least = (within + relative * abs(best)) / 2
        half = (other - best) / 2
        if y_best == 0.0 or abs(half) < least:
            break
        if abs(last_step) > least and abs(y_best) < abs(y_before):
            tried = _interpolated(before, y_before, best, y_best, other, y_other)
            closes_in = 2 * abs(tried) < min(abs(last_step), 3 * abs(half) - least)
            last_step, step = (step, tried) if closes_in else (half, half)
        else:
            last_step = step = half
        before, y_before = best, y_best
        best += step if abs(step) > least else (least if half > 0 else -least)
        y_best = curve(best)
    return best


def _interpolated(a: float, y_a: float, b: float, y_b: float, c: float, y_c: float) -> float:
    """The step from b to where a line, or an inverse parabola through three points, crosses nought."""
    if a == c:
        return -y_b * (b - a) / (y_b - y_a)
    slope_a, slope_c = (y_a - y_b) / (a - b), (y_c - y_b) / (c - b)
    return -y_b * (y_c * slope_c - y_a * slope_a) / (slope_c * slope_a * (y_c - y_a))
