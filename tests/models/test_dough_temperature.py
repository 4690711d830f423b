"""Dough temperature, and the water that gives a wanted one."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from laws import examples

from advisor import load_knowledge
from advisor.formula.reading import read_formula_text
from advisor.models.dough.assumptions import fill_defaults
from advisor.models.dough.dough_temperature import dough_temperature_c, water_for_dough_c

KNOWLEDGE = load_knowledge()
WHEAT = "1000 g bread flour\n620 g water\n20 g salt\n10 g instant yeast"


def read(text):
    return read_formula_text(text, KNOWLEDGE)


def test_water_counts_for_more_than_its_weight():
    """By hand: flour at 12 % water has about 1.8 kJ/(kg K), water 4.18; 21 C and 40 C give near 32 C before mixing."""
    mixed = dough_temperature_c(read(WHEAT), 40.0, 0.0, KNOWLEDGE)
    by_hand = (0.62 * 4.18 * 40 + 1.0 * 1.8 * 21 + 0.03 * 1.5 * 21) / (0.62 * 4.18 + 1.0 * 1.8 + 0.03 * 1.5)
    assert by_hand == pytest.approx(mixed, abs=0.6)


@examples(40)
@given(st.floats(15, 35), st.floats(0, 15))
def test_the_water_for_a_wanted_dough_gives_that_dough(wanted, minutes):
    formula = read(WHEAT)
    water = water_for_dough_c(formula, wanted, minutes, KNOWLEDGE)
    assert wanted == pytest.approx(dough_temperature_c(formula, water, minutes, KNOWLEDGE))


def test_a_wanted_dough_temperature_sets_the_water_and_says_so():
    with_defaults = fill_defaults(read(WHEAT + "\nmix: 8 min\ntarget dough temp: 26 C"), KNOWLEDGE)
    assert 20 < with_defaults.water_c < 32
    assert (
        f"water at {{{with_defaults.water_c:.0f} C}}, for a dough at {{26 C}}"
        in with_defaults.assumed.values()
    )


def test_stated_water_stands_and_the_right_one_is_told():
    with_defaults = fill_defaults(read(WHEAT + "\nwater temp: 38 C\ntarget dough temp: 24 C"), KNOWLEDGE)
    assert 38 == with_defaults.water_c
    assert any(
        s.startswith("for a dough at {24 C} the water would be at") for s in with_defaults.assumed.values()
    )


def test_water_is_never_ice_nor_scalding():
    cold, hot = (
        fill_defaults(read(WHEAT + f"\nmix: 15 min\ntarget dough temp: {t} C"), KNOWLEDGE) for t in (5, 45)
    )
    assert (1, 45) == (cold.water_c, hot.water_c)
    assert all("no nearer" in s.assumed["dough_wanted_c"] for s in (cold, hot))


def test_the_line_is_written_back():
    from advisor.formula.writing.as_text import process_values

    assert "25 C" == process_values(read(WHEAT + "\ntarget dough temp: 77 F").process)["target dough temp"]


def test_a_dough_without_water_says_that_it_cannot():
    with_defaults = fill_defaults(
        read("300 g whole egg\n100 g almond flour\ntarget dough temp: 24 C"), KNOWLEDGE
    )
    assert "no water" in with_defaults.assumed["dough_wanted_c"]


def test_a_cold_ingredient_makes_the_dough_colder_and_a_warm_kitchen_warmer():
    base = "200 g vital wheat gluten\n150 g water\n100 g whole milk"
    plain, cold, warm = (
        dough_temperature_c(read(text), 30, 5, KNOWLEDGE)
        for text in (base, f"{base} at 4 C", f"{base}\nroom temp: 30 C")
    )
    assert cold < plain < warm


def test_a_night_in_the_fridge_is_filled_in_and_said():
    filled = fill_defaults(read(f"{WHEAT}\nproof: overnight in the fridge"), KNOWLEDGE)
    assert (KNOWLEDGE.coefficient("overnight_min"), KNOWLEDGE.coefficient("fridge_c")) == (
        filled.proof_min,
        filled.proof_c,
    )
    assert {"proof_min", "proof_c"} <= set(filled.assumed)


def test_a_dough_mixed_for_days_boils_and_gets_no_hotter():
    assert dough_temperature_c(read(f"{WHEAT}\nmixer: spiral"), 20.0, 4450.0, KNOWLEDGE) == 100.0
    assert dough_temperature_c(read(WHEAT), 20.0, 4450.0, KNOWLEDGE) < 40.0
    assert dough_temperature_c(read(WHEAT), 20.0, 10.0, KNOWLEDGE) < 40.0
