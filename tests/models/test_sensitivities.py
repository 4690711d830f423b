"""Slopes of a bake: their signs, and that they predict what a larger change does."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from advisor.knowledge_base.measured import Coefficient
from advisor.knowledge_base.reading import read_entries
from advisor.models.heat.oven import LoafHeat, OvenCoefficients, OvenProgramme, OvenStage, bake
from advisor.models.heat.sensitivities import OvenProblem, bake_numbers, bake_slopes

FILE = Path(__file__).parents[2] / "knowledge" / "coefficients.yaml"
VALUES = {entry.id: entry.value for entry, _ in read_entries(FILE, FILE.name, Coefficient)}
LOAF = LoafHeat(
    width_m=0.10,
    height_m=0.08,
    water_frac=0.5,
    protein_frac=0.2,
    fat_frac=0.15,
    carb_frac=0.12,
    ash_frac=0.03,
    density_kg_m3=450,
    start_c=26,
    oven_c=180,
)
PROBLEM = OvenProblem(
    loaf=LOAF,
    coefficients=OvenCoefficients.read(VALUES.__getitem__),
    pulled_min=50,
    set_c=80,
    target_c=94,
)


def test_each_slope_has_the_sign_that_the_kitchen_knows():
    slopes = bake_slopes(PROBLEM)
    assert -0.6 < slopes.oven_c.core_set_min < -0.05
    assert slopes.oven_c.browning > 0 and slopes.oven_c.water_lost_frac > 0
    assert slopes.bake_min.core_set_min == 0
    assert slopes.bake_min.core_at_pull_c > 0 and slopes.bake_min.water_lost_frac > 0
    assert slopes.water.core_set_min > 0
    assert slopes.density.core_set_min > 0 and slopes.size.core_done_min > 0
    assert slopes.size.core_set_min > slopes.density.core_set_min > 0
    assert slopes.convection.core_set_min < 0 and slopes.vapour.core_set_min < 0


@pytest.mark.parametrize(
    ("name", "step", "changed"),
    [
        ("oven_c", 8.0, replace(LOAF, oven_c=188)),
        ("density", 0.1, replace(LOAF, density_kg_m3=495)),
        ("size", 0.08, replace(LOAF, width_m=0.108, height_m=0.0864)),
    ],
)
def test_slopes_tell_what_a_larger_change_does(name, step, changed):
    slope = getattr(bake_slopes(PROBLEM), name)
    here, there = (
        bake_numbers(PROBLEM, bake(loaf, PROBLEM.coefficients, 51, 80, target_c=94), 50)
        for loaf in (LOAF, changed)
    )
    for number in ("core_set_min", "core_done_min", "water_lost_frac"):
        moved = getattr(there, number) - getattr(here, number)
        assert step * getattr(slope, number) == pytest.approx(moved, rel=0.15), number


def test_core_that_is_never_done_has_no_slope():
    cool = replace(PROBLEM, loaf=replace(LOAF, oven_c=90), target_c=94.0)
    slopes = bake_slopes(cool)
    assert slopes.oven_c.core_done_min is None
    assert slopes.oven_c.core_at_pull_c > 0


def test_oven_of_several_steps_is_shifted_whole():
    programme = OvenProgramme(stages=(OvenStage(from_min=0, air_c=200), OvenStage(from_min=20, air_c=170)))
    stepped = replace(PROBLEM, loaf=replace(LOAF, programme=programme))
    assert bake_slopes(stepped).oven_c.core_set_min == pytest.approx(
        bake_slopes(PROBLEM).oven_c.core_set_min, rel=0.4
    )
