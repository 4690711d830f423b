"""Bakes that are kept: whoever asks for the same loaf again gets the same curves."""

from __future__ import annotations

import math
from dataclasses import fields, replace
from functools import lru_cache
from typing import Any

from advisor.models.heat.bake_curves import BakeCurves
from advisor.models.heat.loaf_heat import LoafHeat, OvenCoefficients
from advisor.models.heat.oven import LIMIT_MIN, bake

_ROUNDING = {
    "width_m": 3,
    "height_m": 3,
    "density_kg_m3": -1,
    "start_c": 0,
    "oven_c": 0,
    "altitude_m": -2,
    "water_activity": 2,
    "cold_c": 0,
    "opened_at_min": 0,
    "opened_for_s": 0,
    "tented_at_min": 0,
}
_UNTIL_STEP_MIN = 5.0
_DUST = 1e-9
"""Added before rounding, so that the last digit of a sum does not decide on which side of a half it falls."""


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
    """Bake with inputs rounded to what a baker can tell apart, and keep the last 512 results.

    Up to `until_min` the answer depends on the rounded inputs alone, never on what was asked before; the curve may
    run on. Safe between threads.
    """
    rounded: dict[str, Any] = {  # only numbers, field by field
        field.name: round(float(value) + _DUST, _ROUNDING.get(field.name, 3))
        for field in fields(LoafHeat)
        if isinstance(value := getattr(loaf, field.name), float | int) and not isinstance(value, bool)
    }
    set_c, target_c = round(set_c, 1), round(target_c, 1)
    loaf = replace(loaf, **rounded)
    followed = _followed(loaf, coefficients, set_c, target_c)
    curves = followed.curves
    if curves is None or curves.minutes[-1] < min(until_min, LIMIT_MIN) - 1e-9:
        until = math.ceil(min(until_min, LIMIT_MIN) / _UNTIL_STEP_MIN) * _UNTIL_STEP_MIN
        curves = followed.curves = bake(loaf, coefficients, until, set_c, target_c=target_c)
    return curves
