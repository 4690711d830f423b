"""The crossing of a curve: the same points as the library's root finder, and what it refuses."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq

from advisor.remedy.levers.root_finding import crossing

CURVES = {
    "line": lambda x: 3 * x - 41,
    "flat_then_steep": lambda x: (x - 30) ** 3,
    "growth": lambda x: math.exp(x / 20) - 9,
    "saturation": lambda x: x / (x + 12) - 0.55,
    "stairs": lambda x: math.floor(x / 4) * 4 - 37.5,
    "two_slopes": lambda x: 0.01 * (x - 60) if x < 60 else 5 * (x - 60),
}


@pytest.mark.parametrize("name", CURVES)
@given(low=st.floats(-5, 13), width=st.floats(30, 200))
def test_finds_the_very_point_that_the_library_finds(name: str, low: float, width: float) -> None:
    curve, high = CURVES[name], low + width
    at_low, at_high = curve(low), curve(high)
    assume(at_low * at_high < 0)
    asked: list[float] = []

    def watched(x: float) -> float:
        asked.append(x)
        return curve(x)

    found = crossing(watched, low, high, at_low=at_low, at_high=at_high)
    expected, report = brentq(
        curve, low, high, xtol=1e-3, rtol=1e-6, maxiter=40, full_output=True, disp=False
    )
    assert found == pytest.approx(expected, abs=1e-9)
    assert len(asked) == report.function_calls - 2  # the ends were known
    assert all(low <= x <= high for x in asked)


def test_an_end_that_is_the_crossing_is_given_back_at_once() -> None:
    def never(x: float) -> float:
        raise AssertionError(f"asked for {x}")

    assert crossing(never, 2.0, 5.0, at_low=0.0, at_high=1.0) == 2.0
    assert crossing(never, 2.0, 5.0, at_low=-1.0, at_high=0.0) == 5.0


def test_a_bracket_without_a_change_of_sign_is_refused() -> None:
    with pytest.raises(ValueError, match="no change of sign from 2 to 5"):
        crossing(lambda x: x, 2.0, 5.0, at_low=2.0, at_high=5.0)


def test_stops_after_the_steps_that_it_was_given() -> None:
    asked: list[float] = []
    crossing(lambda x: asked.append(x) or x - 1e-9, -1.0, 1e6, at_low=-1.0, at_high=1e6, within=0.0, steps=3)
    assert len(asked) == 3
