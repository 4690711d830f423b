"""What happens to an oven while a loaf is in it, and what the pan's wall does."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from advisor.knowledge_base.measured import Coefficient
from advisor.knowledge_base.reading import read_entries
from advisor.models.heat.loaf_heat import pan_wall
from advisor.models.heat.oven import LoafHeat, OvenCoefficients, bake, crust_browning
from advisor.models.heat.oven_air import Air, Opening
from advisor.models.heat.time_steps import Clock, Pace, TimeStep

FILE = Path(__file__).parents[2] / "knowledge" / "coefficients.yaml"
VALUES = {entry.id: entry.value for entry, _ in read_entries(FILE, FILE.name, Coefficient)}
OVEN = OvenCoefficients.read(VALUES.__getitem__)
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


def sets_at(loaf: LoafHeat) -> float:
    reached = bake(loaf, OVEN, 10, 80, target_c=90).core_reaches(80)
    assert reached is not None
    return reached


def browned(loaf: LoafHeat, until_min: float = 70) -> float:
    return crust_browning(bake(loaf, OVEN, until_min, 80), until_min, OVEN)


def test_loaf_looked_at_early_sets_later():
    looked = [sets_at(replace(LOAF, opened_at_min=20, opened_for_s=s)) for s in (0, 10, 30, 120)]
    assert looked == sorted(looked)
    assert 0.5 < looked[2] - looked[0] < 5
    assert looked[0] == sets_at(LOAF)


def test_long_open_door_has_let_out_all_that_it_can():
    long, longer = (sets_at(replace(LOAF, opened_at_min=20, opened_for_s=s)) for s in (200, 400))
    assert long == pytest.approx(longer, abs=0.01)


def test_door_opened_behind_the_set_changes_nothing_before():
    plain = sets_at(LOAF)
    assert sets_at(replace(LOAF, opened_at_min=plain + 2, opened_for_s=60)) == pytest.approx(plain, abs=1e-6)


@pytest.mark.parametrize("at_s", [600.0, 607.0, 615.0, 622.0])
def test_steps_end_where_something_happens_and_are_short_behind_it(at_s):
    clock = Clock(Pace(first_s=5, growth=0.1, later_s=30, later_growth=0), (at_s, math.inf, 0.0))
    steps = [clock.go_on() for _ in range(60)]
    assert [a.to_s for a in steps[:-1]] == [b.from_s for b in steps[1:]]
    behind = next(step for step in steps if step.from_s == at_s)
    assert behind.length_s == pytest.approx(5)
    assert behind.ratio is None


def test_slope_from_steps_of_any_length_is_that_of_a_cubic():
    step = TimeStep(from_s=10, to_s=13, before_s=2, earlier_s=5)
    newest, of_last, of_earlier = step.differences
    cubic = np.poly1d([0.3, -2.0, 5.0, 1.0])
    last, earlier = cubic(10) - cubic(8), cubic(8) - cubic(3)
    slope = newest * (cubic(13) - cubic(10)) - of_last * last - of_earlier * earlier
    assert slope == pytest.approx(cubic.deriv()(13))


def test_openings_add_up():
    air = Air(set_c=180, openings=(Opening(at_s=0, drop_k=20), Opening(at_s=60, drop_k=30)), recovery_s=100)
    one, other = (Air(set_c=180, openings=(o,), recovery_s=100) for o in air.openings)
    assert 180 - air.at(90) == pytest.approx(360 - one.at(90) - other.at(90))


def test_cold_oven_bakes_later_and_starts_at_the_room():
    cold = replace(LOAF, cold_c=21)
    assert Air(set_c=180, cold_c=21, warming_s=360).at(0) == pytest.approx(21)
    assert 3 < sets_at(cold) - sets_at(LOAF) < 15


def test_hotter_oven_never_sets_later():
    sets = [sets_at(replace(LOAF, oven_c=oven_c)) for oven_c in range(160, 240, 10)]
    assert sets == sorted(sets, reverse=True)


def test_tented_loaf_browns_less_and_bakes_on():
    tented = replace(LOAF, tented_at_min=35)
    assert browned(tented) < 0.85 * browned(LOAF)
    assert browned(tented, 34) == pytest.approx(browned(LOAF, 34))
    assert sets_at(LOAF) <= sets_at(tented) < sets_at(LOAF) + 3


def wall_sets_at(material: str | None) -> float:
    return sets_at(replace(LOAF, wall=pan_wall(material, VALUES.__getitem__)))


def test_walls_bake_in_the_order_of_the_trade():
    """Common practice, no source: dark before bright metal; thick ware and silicone take longest."""
    dark, used, bright = map(wall_sets_at, ("dark metal", "metal", "shiny metal"))
    assert dark < used < bright
    for slow in ("glass", "ceramic", "silicone", "cast iron"):
        assert dark < wall_sets_at(slow) < 1.35 * used
    assert wall_sets_at("glass") < wall_sets_at("ceramic")


def test_unknown_wall_is_metal_in_use():
    assert pan_wall("bamboo", VALUES.__getitem__) == pan_wall(None, VALUES.__getitem__)
    assert wall_sets_at("metal") == sets_at(LOAF)


def test_altitude_lowers_the_plateau_step_by_step():
    plateaus = [
        bake(replace(LOAF, altitude_m=height), OVEN, 120, 75, target_c=99).core_c[-1]
        for height in (0, 1000, 2000, 3000, 4000)
    ]
    assert plateaus == sorted(plateaus, reverse=True)
    assert plateaus[0] - plateaus[-1] > 10
