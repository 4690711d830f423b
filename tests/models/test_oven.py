"""The oven holds published and practised bakes with one set of coefficients, and behaves as an oven must."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from advisor.knowledge_base.measured import Coefficient
from advisor.knowledge_base.reading import read_entries
from advisor.models.heat.kept_bakes import cached_bake
from advisor.models.heat.loaf_heat import pan_wall
from advisor.models.heat.oven import LoafHeat, OvenCoefficients, bake, boiling_point_c, crust_browning

FILE = Path(__file__).parents[2] / "knowledge" / "coefficients.yaml"
VALUES = {entry.id: entry.value for entry, _ in read_entries(FILE, FILE.name, Coefficient)}
OVEN = OvenCoefficients.read(VALUES.__getitem__)
DARK = pan_wall("dark metal", VALUES.__getitem__)

HEAVY = LoafHeat(  # gluten, egg and cheese in a tin
    width_m=0.10,
    height_m=0.09,
    water_frac=0.52,
    protein_frac=0.22,
    fat_frac=0.15,
    carb_frac=0.08,
    ash_frac=0.03,
    density_kg_m3=480,  # 1.03 kg in 2.15 L, the mean of proofed and set
    start_c=26,
    oven_c=175,
)
WHEAT = LoafHeat(
    width_m=0.11,
    height_m=0.103,
    water_frac=0.39,
    protein_frac=0.07,
    fat_frac=0.02,
    carb_frac=0.505,
    ash_frac=0.015,
    density_kg_m3=300,  # 0.85 kg in 2.83 L
    start_c=28,
    oven_c=220,
)
BATTER = LoafHeat(  # almond and egg, 6 cm deep
    width_m=0.10,
    height_m=0.055,
    water_frac=0.36,
    protein_frac=0.15,
    fat_frac=0.31,
    carb_frac=0.15,
    ash_frac=0.03,
    density_kg_m3=600,
    start_c=22,
    oven_c=170,
)
ROLL = LoafHeat(  # 75 g
    width_m=0.07,
    height_m=0.045,
    water_frac=0.55,
    protein_frac=0.16,
    fat_frac=0.10,
    carb_frac=0.16,
    ash_frac=0.03,
    density_kg_m3=433,
    start_c=26,
    oven_c=180,
    pan="rolls",
)
ALL = {"heavy": HEAVY, "wheat": WHEAT, "batter": BATTER, "roll": ROLL}


def minutes(loaf, temp_c, *, refine=1.0):
    reached = bake(loaf, OVEN, 10, 79, target_c=temp_c, refine=refine).core_reaches(temp_c)
    assert reached is not None
    return reached


# Common practice, no source: a heavy loaf 10 cm wide is left alone for the first hour, a wheat tin loaf takes
# 30 to 40 minutes, an almond batter 40 to 55, small rolls are through in about a quarter of an hour.
@pytest.mark.parametrize(
    ("loaf", "temp_c", "low", "high"),
    [
        (HEAVY, 79, 45, 66),
        (HEAVY, 94, 56, 80),
        (WHEAT, 94, 30, 40),
        (BATTER, 94, 40, 56),
        (ROLL, 94, 13, 22),
    ],
    ids=["heavy set", "heavy done", "wheat done", "batter done", "roll done"],
)
def test_one_set_of_coefficients_bakes_unlike_loaves(loaf, temp_c, low, high):
    assert low < minutes(loaf, temp_c) < high


def test_industrial_tin_loaf_is_baked_through_in_under_half_an_hour():
    """Therdthai, Zhou and Adamczak 2002, J Food Eng 55:41: crumb at 99 C in 27.4 min, tins at 115-176 C.

    The tin stands at the mean of the four zones; the loaf's size is not in the abstract and is assumed.
    """
    tin = replace(OVEN, h_still=1000, door_drop_c=0, pan_heat=0, skin_drying=0)
    loaf = replace(WHEAT, oven_c=(115 + 130 + 156 + 176) / 4, start_c=35, width_m=0.10, height_m=0.10)
    curves = bake(loaf, tin, 27.4, 75)
    assert 96 < curves.core_at(27.4) < 100
    assert curves.core_at(13.7) < 90


@pytest.mark.parametrize("name", sorted(ALL))
def test_crumb_tends_to_the_boiling_point_and_crust_passes_it(name):
    """Zanoni, Peri and Pierucci 1993, J Food Eng 19:389: crumb tends to 100 C, crust to the oven's."""
    loaf = ALL[name]
    curves = bake(loaf, OVEN, 170, 79)
    assert 97 < curves.core_c[-1] <= curves.boiling_c + OVEN.front_width_c
    assert curves.surface_top_c[-1] > 110
    assert max(curves.surface_top_c) < loaf.oven_c


@pytest.mark.parametrize("name", sorted(ALL))
def test_heat_taken_in_is_sensible_and_latent_heat_held(name):
    """At the end to 1 %; on the way the steps in time lag by seconds, which finer steps take away."""
    curves = bake(ALL[name], OVEN, 40, 79)
    assert curves.heat_held_j_m3[-1] == pytest.approx(curves.heat_taken_j_m3[-1], rel=0.01)
    fine = bake(ALL[name], OVEN, 40, 79, refine=2)
    late = len(fine.minutes) // 3
    for taken, held in zip(fine.heat_taken_j_m3[late:], fine.heat_held_j_m3[late:], strict=True):
        assert held == pytest.approx(taken, rel=0.015)


@pytest.mark.parametrize("name", sorted(ALL))
def test_finer_cells_and_steps_change_little(name):
    until = {"heavy": 75, "wheat": 35, "batter": 50, "roll": 25}[name]
    coarse, fine = (bake(ALL[name], OVEN, until, 79, target_c=94, refine=r) for r in (1, 3))
    assert fine.core_reaches(79) == pytest.approx(coarse.core_reaches(79), rel=0.015)
    assert fine.core_reaches(94) == pytest.approx(coarse.core_reaches(94), rel=0.02)
    assert fine.water_lost_at(until) == pytest.approx(coarse.water_lost_at(until), rel=0.02)
    browned = [crust_browning(curves, until, OVEN) for curves in (coarse, fine)]
    assert browned[1] == pytest.approx(browned[0], rel=0.03, abs=0.02)


@pytest.mark.parametrize(
    "slower",
    [
        {"oven_c": 165},
        {"width_m": 0.12},
        {"height_m": 0.12},
        {"density_kg_m3": 850},
        {"start_c": 15},
    ],
    ids=lambda change: next(iter(change)),
)
def test_what_takes_longer(slower):
    assert minutes(replace(HEAVY, **slower), 90) > minutes(HEAVY, 90) + 0.5


@pytest.mark.parametrize("quicker", [{"fan": True}, {"wall": DARK}], ids=["fan", "dark pan"])
def test_what_bakes_sooner(quicker):
    assert minutes(replace(HEAVY, **quicker), 90) < minutes(HEAVY, 90) - 0.5


def test_a_fan_is_worth_about_fifteen_to_twenty_degrees():
    """Common practice, no source."""
    still = minutes(HEAVY, 94)
    assert minutes(replace(HEAVY, fan=True, oven_c=160), 94) == pytest.approx(still, rel=0.1)


def test_altitude_lowers_the_plateau_and_keeps_a_high_target_from_being_met():
    curves = bake(replace(HEAVY, altitude_m=3000), OVEN, 150, 79)
    assert boiling_point_c(3000) < 91
    assert curves.core_c[-1] <= curves.boiling_c + OVEN.front_width_c
    assert curves.core_reaches(94) is None
    assert curves.core_reaches(80) is not None


def test_set_share_grows_from_none_to_all_and_the_core_sets_last():
    curves = bake(HEAVY, OVEN, 120, 79)
    assert curves.set_share[0] == 0
    assert curves.set_share[-1] == pytest.approx(1)
    half, most = np.interp([0.5, 0.95], curves.set_share, curves.minutes)
    core = curves.core_reaches(79)
    assert core is not None
    assert 5 < half < most < core + 3


@pytest.mark.parametrize("name", sorted(ALL))
def test_shells_weigh_the_same_and_mean_what_the_loaf_means(name):
    curves = bake(ALL[name], OVEN, 40, 79)
    assert curves.shell_share == pytest.approx([1 / 6] * 6)
    assert curves.shell_c.shape == (len(curves.minutes), 6)
    assert curves.shell_c @ curves.shell_share == pytest.approx(curves.mean_c)


@pytest.mark.parametrize("name", sorted(ALL))
def test_shells_set_from_the_crust_to_the_core(name):
    curves = bake(ALL[name], OVEN, 40, 79)
    sets = [int((shell < 79).sum()) for shell in curves.shell_c.T]
    assert sets == sorted(sets)
    assert curves.minutes[sets[0]] < 0.5 * curves.core_reaches(79)
    assert 0.7 * curves.core_reaches(79) < curves.minutes[sets[-1]] <= curves.core_reaches(79) + 1


@pytest.mark.parametrize("shell", range(6))
def test_shells_hardly_hang_on_the_grid(shell):
    coarse, fine = (bake(HEAVY, OVEN, 60, 79, refine=r) for r in (1, 2))
    for minute in (10, 20, 40):
        found = [c._value(c.shell_c[:, shell], minute) for c in (coarse, fine)]
        assert found[0] == pytest.approx(found[1], abs=1.0)


def test_bake_loss_is_that_of_the_trade():
    """Common practice, no source: a tin loaf loses roughly a tenth or less, small rolls a little more."""
    assert 0.04 < bake(WHEAT, OVEN, 35, 75).water_lost_at(35) < 0.13
    assert 0.06 < bake(ROLL, OVEN, 20, 79).water_lost_at(20) < 0.17
    assert 0.03 < bake(HEAVY, OVEN, 80, 79).water_lost_at(80) < 0.13


def test_wheat_loaf_with_its_ends_loses_about_a_tenth():
    """Published for ordinary tin loaves: 8 to 12 %, from memory. A short loaf loses more than a long one."""
    losses = [bake(replace(WHEAT, length_m=m), OVEN, 35, 75).water_lost_at(35) for m in (0.5, 0.25, 0.15)]
    assert losses == sorted(losses)
    assert 0.08 < losses[1] < 0.12
    whole = bake(WHEAT, OVEN, 35, 75).water_lost_at(35)
    assert whole < losses[0] < whole + 0.01


def browning(loaf, until_min):
    return crust_browning(bake(loaf, OVEN, until_min, 79), until_min, OVEN)


def test_usual_bakes_brown_usually_and_odd_ones_do_not():
    assert 0.7 < browning(WHEAT, 35) < 1.6
    assert 0.7 < browning(HEAVY, 80) < 1.5
    assert browning(WHEAT, 18) < browning(WHEAT, 35) / 2
    assert browning(HEAVY, 30) < browning(HEAVY, 80) / 2
    assert browning(replace(WHEAT, oven_c=250), 50) > 2.2


def test_core_set_does_not_hang_on_how_long_the_bake_goes_on():
    short, long = bake(HEAVY, OVEN, 20, 79), bake(HEAVY, OVEN, 150, 79)
    assert short.core_reaches(79) == pytest.approx(long.core_reaches(79), abs=1e-9)


def test_cache_gives_the_same_object_and_takes_no_other_loaf_for_it():
    first = cached_bake(HEAVY, OVEN, 61, 79)
    assert cached_bake(replace(HEAVY), OVEN, 64, 79) is first
    for change in ({"width_m": 0.1001}, {"oven_c": 175.2}, {"density_kg_m3": 480.5}, {"start_c": 26.1}):
        other = cached_bake(replace(HEAVY, **change), OVEN, 61, 79)
        assert 0 < abs(other.core_reaches(79) - first.core_reaches(79)) < 0.3, change
    with pytest.raises(ValueError, match="read-only"):
        first.core_c[0] = 0
    with pytest.raises(ValueError, match="read-only"):
        first.shell_c[0, 0] = 0


SMALL_STEPS = {
    "oven": lambda loaf, x: replace(loaf, oven_c=loaf.oven_c + 8 * x),
    "density": lambda loaf, x: replace(loaf, density_kg_m3=loaf.density_kg_m3 * (1 + 0.06 * x)),
    "height": lambda loaf, x: replace(loaf, height_m=loaf.height_m * (1 + 0.06 * x)),
    "width": lambda loaf, x: replace(loaf, width_m=loaf.width_m * (1 + 0.06 * x)),
    "start": lambda loaf, x: replace(loaf, start_c=loaf.start_c + 5 * x),
    "door": lambda loaf, x: replace(loaf, opened_at_min=11 + x, opened_for_s=30.0),
    "foil": lambda loaf, x: replace(loaf, tented_at_min=11 + x),
}


@pytest.mark.parametrize("step", sorted(SMALL_STEPS))
@pytest.mark.parametrize("name", ["heavy", "roll"])
def test_small_steps_move_times_colour_and_water_smoothly(name, step):
    """No saw teeth: what is left beside a cubic through sixteen steps is far less than a baker could tell."""
    x = np.linspace(0, 1, 16)
    rows = []
    for at in x:
        curves = bake(SMALL_STEPS[step](ALL[name], at), OVEN, 40, 79, target_c=94)
        rows.append([
            curves.core_reaches(79),
            curves.core_reaches(94),
            curves.core_at(20),
            100 * curves.water_lost_at(25),
            100 * np.interp(20, curves.minutes, curves.set_share),
            crust_browning(curves, 40, OVEN),
        ])  # fmt: skip
    for values, least in zip(np.array(rows).T, (0.04, 0.04, 0.04, 0.02, 0.2, 0.02), strict=True):
        left = values - np.polyval(np.polyfit(x, values, 3), x)
        assert np.abs(np.diff(left)).max() < least


def test_a_shorter_bake_is_the_beginning_of_a_longer_one():
    """Whoever asks for longer gets a longer run of the same loaf, and the same number at every minute."""
    loaf = replace(HEAVY, width_m=0.11)
    short = cached_bake(loaf, OVEN, 20, 79)
    long = cached_bake(loaf, OVEN, 120, 79)
    assert cached_bake(loaf, OVEN, 20, 79) is long
    both = len(short.minutes)
    assert 20 <= short.minutes[-1] < 120 <= long.minutes[-1]
    for name in ("minutes", "core_c", "mean_c", "shell_c", "set_share", "surface_top_c", "water_lost_frac"):
        assert np.array_equal(getattr(short, name), getattr(long, name)[:both]), name


def test_cache_serves_threads():
    loaves = [replace(ROLL, oven_c=180 + 5 * (i % 4)) for i in range(16)]
    with ThreadPoolExecutor(4) as pool:
        done = list(pool.map(lambda loaf: cached_bake(loaf, OVEN, 15, 79).core_reaches(90), loaves))
    assert done[:4] == done[4:8] == done[8:12] == done[12:]
    assert sorted(done[:4], reverse=True) == done[:4]


@pytest.mark.parametrize(
    "wrong",
    [{"width_m": 0.001}, {"start_c": -5}, {"oven_c": 500}, {"density_kg_m3": 5}, {"altitude_m": 20000}],
    ids=lambda change: next(iter(change)),
)
def test_what_no_oven_does_is_refused(wrong):
    with pytest.raises(ValueError, match="outside"):
        bake(replace(HEAVY, **wrong), OVEN, 10, 79)
