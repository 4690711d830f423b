"""Flat, griddled, steamed and dried pieces against analytic series and the times of the trade.

Series: Carslaw and Jaeger 1959, 3.11 (slab) and the product of slab and cylinder. Times: common practice, no source;
what a tortilla loses and the wet bulb of hot dry air are from memory.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from test_conduction_series import slab_centre

from advisor.knowledge_base.measured import Coefficient
from advisor.knowledge_base.reading import read_entries
from advisor.models.heat.conduction import Face, Oven, Pace, Section, conduct, tabulate
from advisor.models.heat.cooling import middle_decay
from advisor.models.heat.dried import dry, wet_surface_c
from advisor.models.heat.loaf_heat import HeatCoefficients, LoafHeat, OvenCoefficients
from advisor.models.heat.oven import OutsideOvenModel
from advisor.models.heat.oven_air import Air
from advisor.models.heat.section_grid import read_closer
from advisor.models.heat.steamed import steam
from advisor.models.heat.thin_piece import ThinPiece, in_oven, on_griddle

FILE = Path(__file__).parents[2] / "knowledge" / "coefficients.yaml"
VALUES = {entry.id: entry.value for entry, _ in read_entries(FILE, FILE.name, Coefficient)}
OVEN, HEAT = OvenCoefficients.read(VALUES.__getitem__), HeatCoefficients.read(VALUES.__getitem__)
FLAT = LoafHeat(
    width_m=0.2,
    height_m=0.01,
    water_frac=0.36,
    protein_frac=0.07,
    fat_frac=0.06,
    carb_frac=0.49,
    ash_frac=0.02,
    density_kg_m3=1100,
    start_c=25,
    oven_c=230,
    pan="flat",
)
BUN = replace(
    FLAT, width_m=0.075, height_m=0.05, fat_frac=0.01, carb_frac=0.54, density_kg_m3=430, pan="rolls"
)


def even_material(conductivity, capacity):
    temps, even = np.array([0.0, 400.0]), np.ones(2)
    return tabulate(temps, capacity * even, conductivity * even, 0 * even, 0.0)


@pytest.mark.parametrize("biot", [0.5, 3.0, 30.0])
def test_heat_through_a_thin_piece_follows_the_slab(biot):
    half, conductivity, capacity = 0.002, 0.4, 2.8e6
    face = Face(convection=biot * conductivity / half)
    history = conduct(
        even_material(conductivity, capacity),
        Section(
            half_width_m=0.05, height_m=2 * half, turned=False, side=Face(convection=0.0), base=face, top=face
        ),
        start_c=20.0,
        oven=Oven(air=Air(set_c=200.0)),
        until_s=60.0,
        core_target_c=20.0,
        limit_s=60.0,
        pace=Pace(first_s=0.2, growth=0.05, later_s=1.0, later_growth=0.0),
        cells=(2, 14),
        finest=0.4,
    )
    core = read_closer(history.cells).along_middle(history.heat / capacity).min(axis=1)
    for seconds, core_c in zip(history.seconds, core, strict=True):
        fourier = seconds * conductivity / capacity / half**2
        if 0.1 < fourier < 3:
            assert core_c == pytest.approx(200 - 180 * slab_centre(biot, fourier), abs=0.005 * 180)


def test_heat_into_a_round_bun_follows_the_short_cylinder():
    radius, half, h, conductivity, capacity = 0.035, 0.025, 300.0, 0.4, 1.3e6
    face = Face(convection=h)
    history = conduct(
        even_material(conductivity, capacity),
        Section(half_width_m=radius, height_m=2 * half, turned=True, side=face, base=face, top=face),
        start_c=25.0,
        oven=Oven(air=Air(set_c=99.0)),
        until_s=1500.0,
        core_target_c=25.0,
        limit_s=1500.0,
        pace=Pace(first_s=3.0, growth=0.05, later_s=10.0, later_growth=0.0),
        cells=(14, 24),
    )
    core = read_closer(history.cells).along_middle(history.heat / capacity).min(axis=1)
    decay = middle_decay((radius, half, half), True, h, conductivity, capacity)
    late = history.seconds > 1000  # a Fourier number of 0.25: the first term is all there is
    left = decay.amplitude * np.exp(-decay.rate * history.seconds[late])
    assert core[late] == pytest.approx(99 - 74 * left, abs=0.005 * 74)


def test_tortilla_takes_a_minute_on_the_plate_and_loses_about_a_tenth():
    baked = on_griddle(
        ThinPiece(thickness_m=0.002, dough=FLAT),
        OVEN,
        plate_c=220,
        sides_min=(0.5, 0.5),
        set_c=75,
        heat=HEAT,
        room_c=22,
    )
    assert 90 < baked.core_c < 101
    assert baked.core_set_min < 0.6
    assert 0.07 < baked.water_lost_frac < 0.14
    assert baked.water_left_frac >= HEAT.pliable_water


def test_flatbread_left_on_the_plate_goes_dry():
    thin = ThinPiece(thickness_m=0.002, dough=FLAT)
    left = [
        on_griddle(thin, OVEN, plate_c=220, sides_min=(m, m), set_c=75, heat=HEAT, room_c=22)
        for m in (0.4, 0.8, 1.6)
    ]
    losses = [baked.water_lost_frac for baked in left]
    assert losses == sorted(losses)
    assert left[-1].water_left_frac < HEAT.pliable_water


def test_turning_bakes_both_faces():
    thick = ThinPiece(thickness_m=0.012, dough=FLAT)
    once = on_griddle(thick, OVEN, plate_c=180, sides_min=(8,), set_c=75, heat=HEAT, room_c=22)
    twice = on_griddle(thick, OVEN, plate_c=180, sides_min=(4, 4), set_c=75, heat=HEAT, room_c=22)
    assert twice.core_c > once.core_c + 5


def test_flatbread_in_the_oven_sets_within_minutes():
    baked = in_oven(
        ThinPiece(thickness_m=0.008, dough=replace(FLAT, density_kg_m3=700)),
        OVEN,
        oven_c=250,
        minutes=6,
        set_c=75,
    )
    assert 1 < baked.core_set_min < 3
    assert 0.05 < baked.water_lost_frac < 0.25


def test_bun_of_a_fist_steams_in_ten_to_fifteen_minutes_and_dries_nowhere():
    curves = steam(BUN, OVEN, minutes=20, set_c=78, heat=HEAT)
    assert 8 < curves.core_reaches(94) < 15
    assert curves.water_lost_at(20) < 0.005
    assert curves.core_c.max() < curves.boiling_c


@pytest.mark.parametrize(
    ("mm", "oven_c", "low", "high"), [(2, 175, 5, 14), (3, 165, 9, 20), (5, 150, 15, 40)]
)
def test_crackers_are_crisp_when_the_trade_says(mm, oven_c, low, high):
    dried = dry(replace(FLAT, oven_c=oven_c), OVEN, heat=HEAT, thickness_m=mm / 1000)
    assert low < dried.crisp_min < high


def test_cracker_loses_no_more_water_than_it_has_and_slows_without_a_jump():
    dried = dry(replace(FLAT, oven_c=160), OVEN, heat=HEAT, thickness_m=0.003)
    minutes = np.linspace(0, 60, 601)
    water = np.array([dried.water_at(m) for m in minutes])
    assert water[0] == pytest.approx(0.36 / 0.64)
    assert (np.diff(water) <= 0).all() and water[-1] > HEAT.balance_water
    after = np.diff(water)[minutes[:-1] > dried.warm_min + 0.1]
    assert np.abs(np.diff(after)).max() < 0.1 * np.abs(after).max()
    assert dried.water_at(dried.minutes_to(0.1)) == pytest.approx(0.1)
    assert dried.minutes_to(HEAT.balance_water) is None


def test_wet_bulb_without_radiation_is_that_of_hot_dry_air():
    """Dry air at 60 C has a wet bulb a little above 20 C, from memory."""
    bare = replace(OVEN, emissivity_crust=0.0)
    assert wet_surface_c(replace(FLAT, oven_c=60), bare) == pytest.approx(21.5, abs=1.5)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: in_oven(ThinPiece(thickness_m=0.0002, dough=FLAT), OVEN, oven_c=250, minutes=5, set_c=75),
        lambda: in_oven(ThinPiece(thickness_m=0.005, dough=FLAT), OVEN, oven_c=60, minutes=5, set_c=75),
        lambda: dry(replace(FLAT, oven_c=40), OVEN, heat=HEAT, thickness_m=0.003),
        lambda: dry(FLAT, OVEN, heat=HEAT, thickness_m=0.03),
        lambda: steam(replace(BUN, width_m=0.5), OVEN, minutes=20, set_c=78, heat=HEAT),
        lambda: on_griddle(
            ThinPiece(thickness_m=0.002, dough=FLAT),
            OVEN,
            plate_c=80,
            sides_min=(1,),
            set_c=75,
            heat=HEAT,
            room_c=22,
        ),
    ],
)
def test_what_no_model_covers_is_refused_with_a_reason(wrong):
    with pytest.raises(OutsideOvenModel, match="lies outside"):
        wrong()
