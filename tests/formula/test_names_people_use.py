"""Names from other kitchens find their ingredient; what is only counted as one is said."""

from __future__ import annotations

import pytest

from advisor import load_knowledge
from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text


def reading(line: str) -> Formula:
    return read_formula_text(f"Loaf\n2000 g vital wheat gluten\n{line}", load_knowledge())


@pytest.mark.parametrize(
    ("line", "ingredient"),
    [
        ("200 g chakki atta", "whole_wheat_flour"),
        ("300 g 00 flour", "all_purpose_flour"),
        ("30 g rye chops", "cracked_rye"),
        ("50 g Roggenmehl 1150", "rye_flour"),
        ("20 g Süßrahmbutter", "butter"),
        ("100 g hung curd", "greek_yoghurt"),
        ("25 g sat isabgol", "psyllium_husk"),
        ("40 g skyr", "greek_yoghurt"),
        ("2 cloves garlic", "garlic"),
        ("1 onion, chopped", "onion"),
        ("2 tbsp golden syrup", "golden_syrup"),
        ("1 tsp saleratus", "baking_soda"),
        ("20 ml dark rum", "spirits"),
        ("60 g bacon lardons", "bacon"),
        ("80 g grovt rågmjöl", "dark_rye_flour"),
        ("40 g gresskarkjerner", "pumpkin_seeds"),
        ("30 g kartoffelmel", "potato_starch"),
        ("20 g egg, whole, powdered", "whole_egg_powder"),
        ("60 g golden linseed, milled fine", "ground_flaxseed"),
        ("60 g ground golden flax", "ground_flaxseed"),
        ("60 g oats, ground", "oat_flour"),
        ("60 g golden linseed, roughly milled", "flaxseed_whole"),
        ("100 g garlic and herb soft cheese", "cream_cheese"),
        ("80 g freekeh flour", "ancient_wheat_flour"),
        ("200 g red lentils, soaked overnight", "lentil_flour"),
        ("400 g soaked red lentils", "soaked_lentils"),
        ("100 g okara, fresh", "fresh_okara"),
        ("60 g creamed coconut", "coconut_butter"),
        ("100 g coconut, grated fresh", "fresh_coconut"),
        ("100 g cooked rice", "cooked_rice"),
        ("30 g puffed rice", "puffed_rice"),
        ("80 g frozen peas", "green_peas"),
        ("300 g wholemeal self-raising flour", "self_raising_wholemeal"),
        ("2 flax eggs", "flax_egg"),
        ("2 hard-boiled eggs, chopped", "boiled_egg"),
        ("40 g apricot jam", "jam"),
        ("200 g khoya", "khoya"),
        ("10 g beetroot powder", "vegetable_powder"),
        ("1 tsp fruit salt", "fruit_salt"),
    ],
)
def test_a_name_of_another_kitchen_finds_its_ingredient(line: str, ingredient: str) -> None:
    assert ingredient == reading(line).lines[1].ingredient.id


def test_a_food_that_is_only_counted_as_another_is_said() -> None:
    assert any(
        "coconut sugar is counted as brown sugar" in said for said in reading("30 g coconut sugar").assumed
    )
    assert not any("counted as" in said for said in reading("30 g soft brown sugar").assumed)


@pytest.mark.parametrize("name", ["farina", "gær", "egg albumen", "farin", "okara"])
def test_a_name_of_two_things_is_asked(name: str) -> None:
    with pytest.raises(FormulaFault, match="can be"):
        reading(f"50 g {name}")


def test_what_is_soaked_behind_its_name_was_weighed_dry() -> None:
    assert any("weighed dry" in said for said in reading("200 g red lentils, soaked overnight").warnings)
    assert not any("weighed dry" in said for said in reading("400 g soaked red lentils").warnings)


def test_an_oil_of_another_allergen_is_no_sunflower_oil() -> None:
    assert ("peanut",) == reading("30 g groundnut oil").lines[1].ingredient.allergens
    assert ("sesame",) == reading("30 g toasted sesame oil").lines[1].ingredient.allergens


@pytest.mark.parametrize(
    ("line", "ingredient"),
    [
        ("5 g sugar to wake the yeast", "sugar"),
        ("300 g water from our well", "water"),
        ("2 med eggs", "whole_egg"),
        ("2 lg fresh eggs", "whole_egg"),
        ("40 g pea protein conc", "pea_protein"),
        ("60 g hazelnut... no sorry, walnut meal", "walnut_meal"),
        ("20 g flaxseed (no wait, chia seeds)", "chia"),
        ("300 g good quality unbleached bread flour", "bread_flour"),
        ("400 g gluten-free rolled oats", "rolled_oats"),
        ("1 cup large flake rolled oats", "rolled_oats"),
        ("1 tbsp white sesame", "sesame_seeds"),
        ("300 g of runny tahini", "tahini"),
        ("1/4 cup psyllium husks the FLAKY kind", "psyllium_husk"),
        ("600 g wheat flour, medium strong", "bread_flour"),
        ("Wheat T80   70%   5,60 kg", "all_purpose_flour"),
        ("960 g old dough", "old_dough"),
        ("1 egg white, beaten", "egg_white"),
    ],
)
def test_words_around_a_name_change_nothing(line: str, ingredient: str) -> None:
    assert ingredient == reading(line).lines[1].ingredient.id


def test_a_little_of_what_is_not_known_is_left_out_and_told_first() -> None:
    formula = reading("1 tsp zorblax")
    assert 1 == len(formula.lines)
    assert "1 tsp zorblax" in formula.warnings[0]
    assert "left out" in formula.warnings[0]


@pytest.mark.parametrize("line", ["100 g zorblax", "30 g zorblax\n30 g quibblet", "3 zorblax"])
def test_more_of_what_is_not_known_is_asked_back(line: str) -> None:
    with pytest.raises(FormulaFault, match="no ingredient is called"):
        reading(line)


@pytest.mark.parametrize("line", ["100 g water with honey", "60 g powdered honey"])
def test_a_second_food_behind_a_name_is_not_dropped(line: str) -> None:
    with pytest.raises(FormulaFault):
        reading(line)


@pytest.mark.parametrize("line", ["Keeps 4 days in the fridge.", "100 g keep", "100 g sorbet", "60 g bries"])
def test_a_word_is_not_mended_into_another_food(line: str) -> None:
    try:
        formula = reading(line)
    except FormulaFault:
        return
    assert not any("is read as" in said for said in formula.assumed)


def test_a_fresh_chilli_is_no_bell_pepper():
    """Two jalapenos are some 28 g: taken for bell peppers they put 220 g of watery vegetable into a loaf."""
    text = "x\n200 g wheat gluten\n200 g water\n2 jalapeños, chopped\n1 red pepper\n"
    weights = [round(line.grams) for line in read_formula_text(text, load_knowledge(), name="x").lines[2:]]
    assert weights[0] < 40 < 100 < weights[1]


@pytest.mark.parametrize(
    ("line", "read_as", "ingredient"),
    [
        ("alm fl 200 g", "almond flour", "almond_flour"),
        ("psy pdr 25", "psyllium husk powder", "psyllium_powder"),
        ("140 g tapioca st.", "tapioca starch", "tapioca_starch"),
        ("bkwht 60 g", "buckwheat flour", "buckwheat_flour"),
        ("90 g oat fl (GF)", "oat flour", "oat_flour"),
        ("psy whole 24 g", "whole psyllium husk", "psyllium_husk"),
        ("12 g crm tart", "cream of tartar", "cream_of_tartar"),
        ("2 c sunfl meal, ground fresh", "sunflower seeds", "sunflower_seeds"),
        ("40 g bamboo f.", "bamboo fibre", "bamboo_fibre"),
        ("25 g psyll pwdr", "psyllium husk powder", "psyllium_powder"),
    ],
)
def test_a_name_shortened_word_by_word_is_read_and_said(line: str, read_as: str, ingredient: str) -> None:
    formula = reading(line)
    assert ingredient == formula.lines[1].ingredient.id
    assert any(said.endswith(f"is read as {read_as}") for said in formula.assumed)


def test_a_shortened_name_that_can_be_several_is_asked_with_those() -> None:
    with pytest.raises(FormulaFault) as caught:
        reading("100 g wh rice fl")
    (problem,) = caught.value.problems
    assert problem.offers == ("white rice flour", "brown rice flour")


@pytest.mark.parametrize(
    "line", ["scale 900 g", "tin 900 g", "20 g top", "30 g for or to", "int. 96 when pulled"]
)
def test_a_word_of_every_day_is_short_for_no_ingredient(line: str) -> None:
    try:
        lines = reading(line).lines
    except FormulaFault:
        return
    assert len(lines) == 1


@pytest.mark.parametrize("leaven", ["Levain", "Poolish", "Biga", "Old dough"])
@pytest.mark.parametrize(("used", "flour"), [(301, 500.0), (150.5, 425.0)])
def test_a_leaven_that_a_section_makes_is_counted_once(leaven: str, used: float, flour: float) -> None:
    text = f"""Loaf
{leaven}
150 g bread flour
150 g water
1 g instant yeast

Dough
{used} g {leaven.lower()}
350 g bread flour
200 g water
"""
    formula = read_formula_text(text, load_knowledge())
    assert flour == sum(x.grams for x in formula.lines if x.ingredient.id == "bread_flour")
    assert len(formula.lines) == 5
    assert any("counted once" in said for said in formula.assumed)


def test_what_is_free_of_gluten_is_no_wheat() -> None:
    with pytest.raises(FormulaFault, match="gluten-free wheat flour"):
        reading("200 g gluten-free wheat flour")


def test_a_word_beside_an_egg_is_no_second_egg() -> None:
    assert 100 == reading("2 eggs + 1 wite").grams_of("whole_egg")


@pytest.mark.parametrize(
    "line",
    [
        "20 g almond flour for dusting",
        "25 g sunflower seeds, on top",
        "Sunflower seeds on top, ½ dl",
        "1 tbsp sesame seeds, to sprinkle on top",
        "1 egg white to stick them on",
        "30 g butter for the tin",
        "2 l water for the pot",
        "oil for frying",
        "CRUST\n10 g sesame seeds",
        "Dip: 2 l boiling water + 50 g baking soda",
    ],
)
def test_what_goes_on_the_loaf_or_into_the_tin_is_in_no_dough_and_is_not_asked_for(line: str) -> None:
    formula = read_formula_text(f"Loaf\n200 g gluten\n150 g water\n{line}\n", load_knowledge())
    assert 350 == sum(entry.grams for entry in formula.lines)
    assert formula.unweighed
    assert not any(missing.what.startswith("how much") for missing in formula.asked)


def test_what_is_for_the_dough_or_makes_its_crust_is_counted() -> None:
    formula = read_formula_text("Pizza\nCrust\n200 g gluten\n150 g water for the dough\n", load_knowledge())
    assert 350 == sum(entry.grams for entry in formula.lines)


@pytest.mark.parametrize(("line", "grams"), [("1 tsp glycerine", 6.2), ("1/4 tsp carrageenan", 0.7)])
def test_a_spoon_of_what_is_seldom_used_is_weighed(line: str, grams: float) -> None:
    assert grams == pytest.approx(reading(line).lines[1].grams)


@pytest.mark.parametrize(
    ("said", "grams"),
    [
        ("EDIT: sorry, salt is 6g not 12g!!", 6.0),
        ("Correction: the salt should be 7 g, not 12 g.", 7.0),
        ("The salt is 6 g not 14 g in my other loaf.", 12.0),
    ],
)
def test_an_amount_that_is_taken_back_further_down_is_put_right(said: str, grams: float) -> None:
    text = f"Loaf\n200 g gluten\n150 g water\n12g salt\n\nMix all that for 6 minutes.\n{said}\n"
    formula = read_formula_text(text, load_knowledge())
    assert grams == formula.grams_of("salt")
    assert (grams != 12) == any("is counted for that of line 4" in a for a in formula.assumed)
