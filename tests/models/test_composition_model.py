"""What a dough is made of: sums, net carbohydrate, energy by two regulations, salt in its water."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest
from case_files import balanced_names, demo

from advisor.formula.reading import read_formula_text
from advisor.models.dough.composition import (
    DoughComposition,
    allergens,
    dough_composition,
    dry_base,
    energy_kcal,
    net_carbohydrate,
    salt_in_water,
)

EMPTY = DoughComposition(**{f.name: 0.0 for f in fields(DoughComposition)})
# 10 g protein, 5 g fat, 20 g carbohydrate by difference: fibre 6, xylitol 3, erythritol 4, allulose 2, so 5 digested
WORKED = replace(
    EMPTY,
    protein=10.0,
    fat=5.0,
    carbohydrate=20.0,
    fibre=6.0,
    polyols=3.0,
    erythritol=4.0,
    allulose=2.0,
    total=100.0,
)


def dough(text, knowledge):
    return dough_composition(read_formula_text(text, knowledge))


def test_an_egg_and_its_double_by_hand(knowledge):
    """NDB 01123 per 100 g: 76.15 water, 12.56 protein, 9.51 fat; a large egg is 50 g."""
    one, two = dough("1 large egg", knowledge), dough("2 large eggs", knowledge)
    assert (38.075, 6.28, 4.755) == pytest.approx((one.water, one.protein, one.fat))
    for part in fields(DoughComposition):
        assert 2 * getattr(one, part.name) == pytest.approx(getattr(two, part.name)), part.name


@pytest.mark.parametrize("name", balanced_names())
def test_the_parts_of_a_demo_formula_make_up_its_mass(name):
    d = dough_composition(demo(name))
    parts = d.water + d.protein + d.fat + d.carbohydrate + d.ash + d.alcohol + d.organic_acid
    assert d.total == pytest.approx(parts, rel=0.03)
    assert d.fibre + d.sugars + d.starch + d.polyols + d.erythritol + d.allulose <= 1.03 * d.carbohydrate + 1


def test_net_carbohydrate_shows_each_term(knowledge):
    """20 - 6 - 4 - 2 - half of 3 = 6.5; two grams of it fermented leave 4.5."""
    net = net_carbohydrate(WORKED, 0.0, knowledge)
    assert (20, 6, 4, 2, 1.5, 0, 6.5) == pytest.approx(
        (
            net.carbohydrate,
            net.fibre,
            net.erythritol,
            net.allulose,
            net.polyols_counted_out,
            net.fermented,
            net.net,
        )
    )
    assert 4.5 == pytest.approx(net_carbohydrate(WORKED, 2.0, knowledge).net)


def test_net_carbohydrate_is_never_below_nothing(knowledge):
    found = net_carbohydrate(WORKED, 50.0, knowledge)
    assert (0, 6.5) == pytest.approx((found.net, found.fermented))
    assert 0 == net_carbohydrate(replace(WORKED, fibre=25.0), 0.0, knowledge).net


def test_energy_by_the_code_of_federal_regulations(knowledge):
    """21 CFR 101.9(c)(1)(i): 4-4-9, soluble fibre 2, xylitol 2.4, erythritol 0; allulose 0.4 by FDA 2020.

    4 x 10 + 9 x 5 + 4 x 5 + 2 x 6 + 2.4 x 3 + 0 x 4 + 0.4 x 2 = 125.0
    """
    assert 125.0 == pytest.approx(energy_kcal(WORKED, 0.0, knowledge, "us"))


def test_energy_by_the_european_regulation(knowledge):
    """Regulation (EU) No 1169/2011, Annex XIV: erythritol 0; allulose has no factor and counts as carbohydrate.

    4 x 10 + 9 x 5 + 4 x 5 + 2 x 6 + 2.4 x 3 + 0 x 4 + 4 x 2 = 132.2
    """
    assert 132.2 == pytest.approx(energy_kcal(WORKED, 0.0, knowledge, "eu"))
    sour = replace(WORKED, organic_acid=10.0)
    assert 132.2 + 3 * 10 == pytest.approx(energy_kcal(sour, 0.0, knowledge, "eu"))


def test_fermented_sugar_feeds_the_yeast_alone(knowledge):
    for rule in ("us", "eu"):
        fed, left = (energy_kcal(WORKED, g, knowledge, rule) for g in (0.0, 3.0))
        assert 12 == pytest.approx(fed - left)


def test_there_is_no_third_rule(knowledge):
    with pytest.raises(KeyError):
        energy_kcal(WORKED, 0.0, knowledge, "moon")


def test_salt_is_judged_in_all_water(knowledge):
    # 2 g salt in 100 g water; soda and powder bring sodium that does not taste salty
    plain = salt_in_water(read_formula_text("100 g water\n2 g salt", knowledge))
    with_soda = salt_in_water(read_formula_text("100 g water\n2 g salt\n10 g baking soda", knowledge))
    assert 2.0 == pytest.approx(plain, rel=0.02)
    assert plain == pytest.approx(with_soda, rel=2e-3)
    assert salt_in_water(read_formula_text("100 g olive oil", knowledge)) is None


def test_allergens_stand_in_the_order_of_what_carries_them(knowledge):
    found = allergens(
        read_formula_text("300 g almond flour\n2 large eggs\n20 g butter\n10 g water", knowledge)
    )
    assert ("nuts", "egg", "milk") == found


def test_the_dry_base_of_a_wheat_dough_is_its_flour(knowledge):
    formula = read_formula_text(
        "500 g bread flour\n325 g water\n9 g salt\n7 g instant yeast\n10 g sugar", knowledge
    )
    assert 500 == dry_base(formula)


def test_kilocalories_of_simple_foods_are_near_those_of_the_tables(knowledge):
    """The tables use factors of their own for each food, so within 8 %: egg 143, butter 717, wheat flour 361 kcal."""
    for text, known in (("100 g whole egg", 143), ("100 g butter", 717), ("100 g bread flour", 361)):
        assert known == pytest.approx(energy_kcal(dough(text, knowledge), 0.0, knowledge, "us"), rel=0.08)
