"""Bakes that are kept: whoever asks for the same loaf again gets the same curves."""

from __future__ import annotations

import math
from functools import lru_cache

from advisor.models.heat.bake_curves import BakeCurves
from advisor.models.heat.loaf_heat import LoafHeat, OvenCoefficients
from advisor.models.heat.oven import LIMIT_MIN, bake

_UNTIL_STEP_MIN = 5.0


class _Followed:
    """One loaf in one oven, as far as it was followed until now."""

    curves: BakeCurves | None = None


@lru_cache(maxsize=512)
def _followed(loaf: LoafHeat, coefficients: OvenCoefficients, set_c: float, target: float) -> _Followed:
    return _Followed()


def forget_bakes() -> None:
    """Forget every bake, for those who time them."""
    _followed.cache_clear()


def cached_bake(
    loaf: LoafHeat, coefficients: OvenCoefficients, until_min: float, set_c: float, *, target_c: float = 96.0
) -> BakeCurves:
    """Bake, and keep the last 512 loaves that differ in anything at all.

    Nothing is rounded: a small step of an amount moves the curves by little, never by zero and then by a jump. Up to
    `until_min` the answer depends on the inputs alone, never on what was asked before; the curve may run on. Safe
    between threads.
    """
    followed = _followed(loaf, coefficients, set_c, target_c)
    curves = followed.curves
    if curves is None or curves.minutes[-1] < min(until_min, LIMIT_MIN) - 1e-9:
        until = math.ceil(min(until_min, LIMIT_MIN) / _UNTIL_STEP_MIN) * _UNTIL_STEP_MIN
        curves = followed.curves = bake(loaf, coefficients, until, set_c, target_c=target_c)
    return curves
