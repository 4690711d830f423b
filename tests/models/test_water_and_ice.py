"""Water and ice bring a dough to its heat: the balance closes, and the trade's sum agrees where it may."""

from __future__ import annotations

from dataclasses import replace

import pytest

from advisor import read_formula
from advisor.models.dough.dough_temperature import dough_temperature_c, mixing_heat, named_mixer
from advisor.models.dough.water_and_ice import water_plan, with_temperatures

WHEAT = "Loaf\n1000 g bread flour\n{water} g water\n20 g salt\nmix: 8 min\nmixer: {mixer}\n"


def plan_of(knowledge, wanted, *, water=650, mixer="spiral", room=21.0, flour=21.0, tap=15.0):
    formula = with_temperatures(read_formula(WHEAT.format(water=water, mixer=mixer)), room, flour)
    return formula, water_plan(formula, wanted, 8.0, flour, tap, knowledge)


@pytest.mark.parametrize("wanted", [24.0, 27.0, 30.0])
def test_water_of_that_heat_gives_that_dough(wanted, knowledge):
    formula, plan = plan_of(knowledge, wanted)
    assert wanted == pytest.approx(dough_temperature_c(formula, plan.needed_c, 8.0, knowledge), abs=1e-6)
    assert plan.water_g == pytest.approx(plan.tap_g + plan.ice_g)


@pytest.mark.parametrize(("wanted", "room", "tap"), [(20.0, 30.0, 20.0), (18.0, 26.0, 12.0)])
def test_ice_takes_up_what_the_tap_brings_in(wanted, room, tap, knowledge):
    _, plan = plan_of(knowledge, wanted, room=room, flour=room, tap=tap)
    assert "ice" == plan.way
    melts, heat = knowledge.coefficient("ice_melts_j_per_g"), knowledge.coefficient("water_heat_j_per_g_c")
    taken = plan.ice_g * (melts + heat * plan.needed_c)
    assert taken == pytest.approx(plan.tap_g * heat * (tap - plan.needed_c), rel=1e-9)


def test_the_trades_sum_agrees_for_a_plain_wheat_dough(knowledge):
    # Its equal shares are near those of 63 parts of water: 4.19 x 630 against 1.7 x 1000 J/K and the machine's heat.
    for wanted in (24.0, 26.0):
        _, plan = plan_of(knowledge, wanted, water=630)
        assert plan.needed_c == pytest.approx(plan.trade_sum_c, abs=6)


def test_a_warmer_flour_asks_for_colder_water(knowledge):
    needed = [plan_of(knowledge, 26.0, flour=flour)[1].needed_c for flour in (15.0, 21.0, 28.0)]
    assert needed == sorted(needed, reverse=True)


def test_out_of_reach_is_said(knowledge):
    assert "too_warm" == plan_of(knowledge, 2.0, water=150, room=30.0, flour=35.0)[1].way
    assert "too_cold" == plan_of(knowledge, 45.0)[1].way
    dry = read_formula("Loaf\n100 g almond flour\n100 g eggs\n5 g baking powder\n")
    assert "no_water" == water_plan(dry, 24.0, 3.0, 21.0, 15.0, knowledge).way


@pytest.mark.parametrize(
    ("said", "mixer"),
    [("spiral", "spiral"), ("by hand", "by_hand"), ("a big planetary mixer", "planetary"),
     ("food-processor", "food_processor"),
     ("stand mixer", "stand_mixer"), ("a churn", None), ("handsome", None)],
)  # fmt: skip
def test_mixers_are_known_by_their_words(said, mixer, knowledge):
    found = named_mixer(said, knowledge)
    assert mixer == (found.id if found else None)


def test_a_named_mixer_warms_by_its_own_figure(knowledge):
    formula = read_formula(WHEAT.format(water=650, mixer="by hand"))
    assert mixing_heat(formula, knowledge) == knowledge.mixers["by_hand"].heat_c_per_min.value
    unnamed = replace(formula, process=replace(formula.process, mixer=None))
    assert mixing_heat(unnamed, knowledge) == knowledge.coefficient("mixing_heat_c_per_min")
