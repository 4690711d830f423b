"""A loaf cools as solids cool and as long as the trade says, and a pan keeps it warm."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest

from advisor.knowledge_base.measured import Coefficient
from advisor.knowledge_base.reading import read_entries
from advisor.models.heat.cooling import cool
from advisor.models.heat.loaf_heat import LoafHeat
from advisor.models.heat.piece_shape import PieceShape

FILE = Path(__file__).parents[2] / "knowledge" / "coefficients.yaml"
VALUES = {entry.id: entry.value for entry, _ in read_entries(FILE, FILE.name, Coefficient)}
HEAVY = LoafHeat(
    width_m=0.10,
    height_m=0.09,
    water_frac=0.52,
    protein_frac=0.22,
    fat_frac=0.15,
    carb_frac=0.08,
    ash_frac=0.03,
    density_kg_m3=480,
    start_c=26,
    oven_c=175,
)
ROLL = replace(HEAVY, width_m=0.07, height_m=0.045, density_kg_m3=430, pan="rolls")


def brick(width: float, height: float, length: float) -> PieceShape:
    volume = width * height * length
    return PieceShape(width_cm=width, height_cm=height, section_width_cm=width, volume_ml=volume)


LOAF_SHAPE, ROLL_SHAPE = brick(10, 9, 21), brick(7, 4.5, 5.5)


def cooled(loaf=HEAVY, shape=LOAF_SHAPE, start_c=95.0, in_pan_min=0.0, **coefficients):
    knowledge = SimpleNamespace(coefficient={**VALUES, **coefficients}.__getitem__)
    return cool(loaf, shape, start_c=start_c, in_pan_min=in_pan_min, knowledge=knowledge)


def test_heavy_loaf_takes_two_to_three_hours_and_a_roll_about_half_an_hour():
    """Common practice, no source."""
    assert 115 < cooled().sliceable_after_min < 180
    assert 20 < cooled(ROLL, ROLL_SHAPE).sliceable_after_min < 45


def test_core_at_that_minute_is_what_can_be_sliced():
    for pan_min in (0, 20, 400):
        cooling = cooled(in_pan_min=pan_min)
        assert cooling.core_at(cooling.sliceable_after_min) == pytest.approx(cooling.sliceable_core_c)


def test_pan_keeps_a_loaf_warm():
    times = [cooled(in_pan_min=minutes).sliceable_after_min for minutes in (0, 10, 30, 60, 600)]
    assert times == sorted(times)
    assert times[-1] > 1.4 * times[0]
    assert len(set(times)) == len(times)


def test_rolls_on_a_tray_have_no_pan_to_leave():
    assert cooled(ROLL, ROLL_SHAPE, in_pan_min=20) == cooled(ROLL, ROLL_SHAPE)


def test_curve_falls_from_the_start_to_the_room():
    cores = [cooled().core_at(minute) for minute in range(0, 601, 5)]
    assert cores[0] == pytest.approx(95)
    assert cores == sorted(cores, reverse=True)
    assert cores[-1] == pytest.approx(VALUES["room_c"], abs=1)


def test_room_too_warm_never_lets_it_be_sliced():
    assert cooled(room_c=40.0).sliceable_after_min is None


def test_cool_loaf_can_be_sliced_at_once():
    assert cooled(start_c=35.0).sliceable_after_min == 0


@pytest.mark.parametrize("slower", [brick(12, 9, 21), brick(10, 11, 21), brick(10, 9, 30)])
def test_larger_loaf_cools_later(slower):
    assert cooled(shape=slower).sliceable_after_min > cooled().sliceable_after_min
