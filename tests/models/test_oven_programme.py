"""An oven that does more than hold one heat: steps, lid, steam, a preheated oven or stone."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from advisor.knowledge_base.measured import Coefficient
from advisor.knowledge_base.reading import read_entries
from advisor.models.heat.oven import (
    LoafHeat,
    OutsideOvenModel,
    OvenCoefficients,
    OvenProgramme,
    OvenStage,
    bake,
    crust_browning,
)

FILE = Path(__file__).parents[2] / "knowledge" / "coefficients.yaml"
VALUES = {entry.id: entry.value for entry, _ in read_entries(FILE, FILE.name, Coefficient)}
OVEN = OvenCoefficients.read(VALUES.__getitem__)
HEARTH = LoafHeat(
    width_m=0.15,
    height_m=0.09,
    water_frac=0.40,
    protein_frac=0.07,
    fat_frac=0.01,
    carb_frac=0.505,
    ash_frac=0.015,
    density_kg_m3=320,
    start_c=26,
    oven_c=230,
    pan="free_standing",
)
OPEN = OvenStage(from_min=0, air_c=230)


def baked(*stages, until_min=40, **parts):
    loaf = replace(HEARTH, programme=OvenProgramme(stages=stages, **parts))
    return bake(loaf, OVEN, until_min, 78, target_c=94)


def test_one_stage_is_the_plain_oven():
    plain, told = bake(HEARTH, OVEN, 40, 78, target_c=94), baked(OPEN)
    assert told.core_c.tolist() == plain.core_c.tolist()
    assert told.water_lost_frac.tolist() == plain.water_lost_frac.tolist()


def test_oven_turned_down_lies_between_both_heats():
    hot, cool = baked(OPEN), baked(OvenStage(from_min=0, air_c=190))
    down = baked(OPEN, OvenStage(from_min=15, air_c=190))
    assert hot.core_at(14) == pytest.approx(down.core_at(14), abs=0.05)
    assert cool.core_at(30) < down.core_at(30) < hot.core_at(30)
    browned = [crust_browning(curves, 40, OVEN) for curves in (cool, down, hot)]
    assert browned == sorted(browned)


def test_the_moment_of_turning_moves_the_core_smoothly():
    cores = [baked(OPEN, OvenStage(from_min=8 + n, air_c=190)).core_reaches(90) for n in range(8)]
    steps = [later - sooner for sooner, later in pairwise(cores)]
    assert all(step < 0 for step in steps)
    assert max(steps) - min(steps) < 0.2


def test_preheated_hotter_than_the_bake_browns_more():
    plain = baked(OPEN)
    assert crust_browning(baked(OPEN, preheat_c=260), 40, OVEN) > crust_browning(plain, 40, OVEN)


def test_under_a_lid_a_loaf_dries_and_browns_less_and_catches_up_without():
    lid = OvenStage(from_min=0, air_c=230, lid=True)
    opened, covered, uncovered = baked(OPEN), baked(lid), baked(lid, OvenStage(from_min=20, air_c=230))
    losses = [curves.water_lost_at(20) for curves in (covered, opened)]
    assert losses[0] < 0.6 * losses[1]
    browned = [crust_browning(curves, 40, OVEN) for curves in (covered, uncovered, opened)]
    assert browned == sorted(browned)
    assert browned[1] > browned[0] + 0.1


def test_steam_keeps_water_early_and_warms_the_skin():
    steamed, dry = baked(OvenStage(from_min=0, air_c=230, steam=True)), baked(OPEN)
    assert steamed.water_lost_at(5) < dry.water_lost_at(5)
    assert steamed._value(steamed.surface_top_c, 1.0) > dry._value(dry.surface_top_c, 1.0) + 3
    assert steamed.core_reaches(94) <= dry.core_reaches(94)


def test_hot_stone_bakes_sooner_than_a_cold_tray():
    cold, hot = baked(OPEN), baked(OPEN, base_c=230)
    assert hot.core_reaches(80) < cold.core_reaches(80) - 0.3


def test_stages_out_of_order_are_refused():
    with pytest.raises(ValueError, match="begin at 0 min"):
        OvenProgramme(stages=(OvenStage(from_min=5, air_c=200),))
    with pytest.raises(ValueError, match="follow each other"):
        OvenProgramme(stages=(OPEN, OvenStage(from_min=9, air_c=200), OvenStage(from_min=5, air_c=200)))


def test_stage_that_no_oven_does_is_refused():
    with pytest.raises(OutsideOvenModel, match="40 C lies outside"):
        baked(OPEN, OvenStage(from_min=10, air_c=40))
