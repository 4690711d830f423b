"""The solver with constant properties against the analytic series of the slab and the infinite square bar.

Carslaw and Jaeger 1959, 3.11 (slab, convection on both faces) and 5.6 (product of two slabs for the bar).
"""

import math

import numpy as np
import pytest

from advisor.models.heat.conduction import Face, Oven, Pace, Section, conduct, tabulate
from advisor.models.heat.oven_air import Air
from advisor.models.heat.section_grid import read_closer

CONDUCTIVITY, CAPACITY, HALF_M = 0.5, 2.0e6, 0.05
START_C, AIR_C = 20.0, 180.0


def slab_centre(biot, fourier):
    """Centre temperature of a slab, as the share of the first difference that is left."""
    total = 0.0
    for n in range(60):
        low, high = n * math.pi + 1e-12, n * math.pi + math.pi / 2 - 1e-12
        for _ in range(80):
            middle = (low + high) / 2
            low, high = (middle, high) if middle * math.tan(middle) < biot else (low, middle)
        root = (low + high) / 2
        total += 4 * math.sin(root) / (2 * root + math.sin(2 * root)) * math.exp(-root * root * fourier)
    return total


def solve(biot, bar, until_s, step_s=10.0, cells=(20, 40)):
    face = Face(convection=biot * CONDUCTIVITY / HALF_M)
    shut = Face(convection=0.0)
    temps = np.array([0.0, 400.0])
    even = np.ones(2)
    material = tabulate(temps, CAPACITY * even, CONDUCTIVITY * even, 0 * even, 0.0)
    section = Section(
        half_width_m=HALF_M,
        height_m=2 * HALF_M,
        turned=False,
        side=face,
        base=face if bar else shut,
        top=face if bar else shut,
    )
    return conduct(
        material,
        section,
        start_c=START_C,
        oven=Oven(air=Air(set_c=AIR_C)),
        until_s=until_s,
        core_target_c=START_C,
        limit_s=until_s,
        pace=Pace(first_s=step_s, growth=0.08, later_s=2 * step_s, later_growth=0.0),
        cells=cells,
    )


def coldest_c(history):
    """Coldest point at each moment, read between the cells as a bake reads it."""
    return read_closer(history.cells).along_middle(history.heat / CAPACITY).min(axis=1)


@pytest.mark.parametrize("bar", [False, True], ids=["slab", "bar"])
@pytest.mark.parametrize("biot", [0.2, 1.0, 4.0, 20.0])
def test_centre_follows_the_series(biot, bar):
    until_s = 2.0 * HALF_M**2 * CAPACITY / CONDUCTIVITY / (2 if bar else 1)
    history = solve(biot, bar, until_s)
    checked = 0
    for seconds, core_c in zip(history.seconds, coldest_c(history), strict=True):
        fourier = seconds * CONDUCTIVITY / CAPACITY / HALF_M**2
        if fourier < 0.1:
            continue
        left = slab_centre(biot, fourier) ** (2 if bar else 1)
        expected = AIR_C - (AIR_C - START_C) * left
        # 0.5 % of the whole rise
        assert core_c == pytest.approx(expected, abs=0.005 * (AIR_C - START_C))
        checked += 1
    assert checked > 20


def test_bar_heats_sooner_than_slab():
    slab, bar = solve(4.0, False, 6000.0), solve(4.0, True, 6000.0)
    assert coldest_c(bar)[-1] > coldest_c(slab)[-1] + 10


def test_heat_in_is_heat_held():
    history = solve(4.0, True, 5400.0)
    held = (history.heat[-1] * history.cells.weights).sum() - (history.heat[0] * history.cells.weights).sum()
    assert held == pytest.approx(history.taken_j_m3[-1], rel=0.005)
