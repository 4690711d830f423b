"""Yeast: sugar to gas, temperature, and what slows it."""

from __future__ import annotations

import pytest

from advisor.formula.reading import read_formula_text
from advisor.models.cardinal import cardinal_rate
from advisor.models.fermentation import HEXOSE_G_PER_MOL, Surroundings, yeast_gas
from advisor.models.neutralisation import ML_PER_MOL

CALM = Surroundings(salt_per_100g_water=0, sugar_per_100g_water=0, acid_meq=0)


def fermented(knowledge, text="300 g water\n10 g instant yeast\n100 g sugar", around=CALM, **minutes):
    formula = read_formula_text(text, knowledge)
    stages = {"dough_c": 30.0, "rest_min": 0.0, "proof_min": 68.0, "proof_c": 30.0} | minutes
    return yeast_gas(formula, around, knowledge=knowledge, **stages)


def corners(knowledge):
    return tuple(knowledge.coefficient(f"yeast_{k}_c") for k in ("min", "optimum", "max"))


# Rates relative to 30 C, from memory of bakery handbooks ("shape only"): 0.15 either way, or a third where larger.
TABLE = {
    4: 0.05,
    10: 0.14,
    15: 0.25,
    20: 0.43,
    24: 0.62,
    27: 0.80,
    30: 1.0,
    33: 1.15,
    35: 1.22,
    38: 1.20,
    40: 1.05,
    43: 0.70,
    46: 0.30,
    50: 0.05,
    55: 0.0,
}


@pytest.mark.parametrize(("t_c", "known"), TABLE.items())
def test_rate_over_temperature_follows_the_bakers_table(t_c, known, knowledge):
    ours = cardinal_rate(t_c, *corners(knowledge)) / cardinal_rate(30, *corners(knowledge))
    assert abs(ours - known) <= max(0.15, known / 3), f"{ours:.2f} against {known}"


def test_cardinal_temperatures_are_the_limits(knowledge):
    low, best, high = corners(knowledge)
    assert [0, 0, 0, 0] == [cardinal_rate(t, low, best, high) for t in (low - 5, low, high, high + 5)]
    assert 1 == pytest.approx(cardinal_rate(best, low, best, high))
    rising = [cardinal_rate(low + i * (best - low) / 20, low, best, high) for i in range(21)]
    falling = [cardinal_rate(best + i * (high - best) / 20, low, best, high) for i in range(21)]
    assert rising == sorted(rising)
    assert falling == sorted(falling, reverse=True)
    assert all(0 <= r <= 1 for r in rising + falling)


def test_an_hour_of_yeast_at_30_c_gives_its_stated_rate(knowledge):
    """60 minutes past the lag, 10 g, sugar enough."""
    expected = 10 * knowledge.ingredients["instant_yeast"].yeast_rate.value
    assert expected == pytest.approx(
        fermented(knowledge, proof_min=60 + knowledge.coefficient("yeast_lag_min")).proof
    )


def test_yeast_never_makes_more_than_its_sugar_allows(knowledge):
    """1 mol of hexose gives 2 mol of CO2 at the practical yield; a little comes from the cells' own store."""
    found = fermented(knowledge, "300 g water\n10 g instant yeast\n2 g glucose", proof_min=600)
    sugar = 2 * knowledge.ingredients["glucose"].fermentable_sugars.value / 100
    most = sugar / HEXOSE_G_PER_MOL * 2 * ML_PER_MOL * knowledge.coefficient("yeast_yield")
    store = found.yeast_as_instant_g * knowledge.coefficient("yeast_own_store_ml_per_g")
    assert most + store == pytest.approx(found.total)
    assert found.potential > found.total
    assert sugar == pytest.approx(found.fermented_g)


def test_without_sugar_there_is_little_gas_not_none(knowledge):
    fed, hungry = fermented(knowledge), fermented(knowledge, "300 g water\n10 g instant yeast")
    assert 0 < hungry.total < fed.total / 5
    assert 0 == pytest.approx(hungry.fermented_g)


@pytest.mark.parametrize("idle", ["erythritol", "xylitol", "allulose", "whey protein concentrate"])
def test_polyols_and_lactose_feed_nothing(idle, knowledge):
    bare, given = (
        fermented(knowledge, f"300 g water\n10 g instant yeast{more}") for more in ("", f"\n50 g {idle}")
    )
    assert bare.sugar_limit == pytest.approx(given.sugar_limit, rel=0.02)


@pytest.mark.parametrize(
    "around",
    [
        Surroundings(salt_per_100g_water=6, sugar_per_100g_water=0, acid_meq=0),
        Surroundings(salt_per_100g_water=0, sugar_per_100g_water=40, acid_meq=0),
        Surroundings(salt_per_100g_water=0, sugar_per_100g_water=0, acid_meq=15),
    ],
    ids=["salt", "sugar", "acid"],
)
def test_salt_sugar_and_acid_slow_yeast(around, knowledge):
    assert fermented(knowledge, around=around).potential < 0.8 * fermented(knowledge).potential


def test_salt_enough_stops_it(knowledge):
    stop = knowledge.coefficient("yeast_salt_stops_at")
    around = Surroundings(salt_per_100g_water=stop + 1, sugar_per_100g_water=0, acid_meq=0)
    assert 0 == fermented(knowledge, around=around).potential


def test_cinnamon_slows_yeast_gram_for_gram_and_hardly_at_a_tenth(knowledge):
    """Wright, Bice, Fogelberg 1954, Cereal Chem 31:100, as transcribed elsewhere."""
    text = "300 g water\n10 g instant yeast\n100 g sugar"
    plain, tenth, gram = (
        fermented(knowledge, text + more).potential for more in ("", "\n1 g cinnamon", "\n10 g cinnamon")
    )
    assert 0.9 * plain < tenth < plain
    assert gram < 0.6 * plain


def test_gas_of_a_cold_proof_is_a_fraction(knowledge):
    assert fermented(knowledge, proof_c=5.0).proof < 0.1 * fermented(knowledge).proof


def test_three_kinds_of_yeast_are_worth_their_rates(knowledge):
    instant, dry, fresh = (
        knowledge.ingredients[i].yeast_rate.value
        for i in ("instant_yeast", "active_dry_yeast", "fresh_yeast")
    )
    # Conversions printed in bread texts: 1 fresh is 0.4 to 0.5 active dry and 0.33 to 0.35 instant.
    assert 0.3 <= fresh / instant <= 0.4
    assert 0.38 <= fresh / dry <= 0.55


def test_without_yeast_there_is_none_of_it(knowledge):
    found = fermented(knowledge, "300 g water\n20 g sugar")
    assert (0, 0, 0) == (found.total, found.potential, found.fermented_g)
