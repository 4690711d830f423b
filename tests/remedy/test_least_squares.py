"""Least squares within bounds: the same sum of squares as a general solver, and never outside the bounds."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from laws import examples
from scipy.optimize import least_squares as outside_solver

from advisor.remedy.least_squares import least_squares

numbers = st.floats(-5, 5).map(lambda v: round(v, 2))


@examples(40)
@given(
    st.lists(st.tuples(numbers, numbers, numbers), min_size=2, max_size=8),
    st.tuples(numbers, numbers),
    st.tuples(st.floats(0.5, 6), st.floats(0.5, 6)),
)
def test_a_linear_problem_has_the_optimum_of_a_second_solver(rows, low, width):
    """The problem is convex: whoever solves it, the least sum of squares is one and the same."""
    high = [a + w for a, w in zip(low, width, strict=True)]
    start = [(a + b) / 2 for a, b in zip(low, high, strict=True)]

    def residuals(x):
        return [a * x[0] + b * x[1] - c for a, b, c in rows] + [0.02 * x[0], 0.02 * x[1]]

    found = least_squares(residuals, start, low, high)
    expected = outside_solver(residuals, start, bounds=(low, high), method="trf", xtol=1e-12, ftol=1e-12)
    assert all(a <= v <= b for a, v, b in zip(low, found, high, strict=True))
    assert sum(r * r for r in residuals(found)) <= 2 * expected.cost + 1e-5


def test_a_curved_valley_is_followed_to_its_end():
    found = least_squares(
        lambda x: (10 * (x[1] - x[0] ** 2), 1 - x[0]), (-1.2, 1.0), (-2.0, -2.0), (2.0, 2.0)
    )
    assert found == pytest.approx((1.0, 1.0), abs=1e-2)


def test_where_nothing_leads_down_it_stays():
    assert (3.0,) == least_squares(lambda x: (1.0,), (3.0,), (0.0,), (9.0,))


def test_a_kink_does_not_throw_it_out():
    found = least_squares(lambda x: (math.floor(x[0]) - 4.5, 0.1 * x[0]), (9.5,), (0.0,), (20.0,))
    assert 0.0 <= found[0] <= 20.0
