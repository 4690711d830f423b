"""What a loaf holds: parts that no table knows are spans, and the weight is that of the baked loaf."""

from __future__ import annotations

import pytest
from case_files import demo

from advisor import nutrition, read_formula
from advisor.knowledge_base.ingredient import Composition

WHEAT = """Wheat loaf
500 g bread flour
320 g water
{sugar} g sugar
10 g instant yeast
9 g salt
slices: 16
pan: 23 x 10 x 10 cm
mix: 8 min
proof: 60 min at 28 C
oven: 220 C for 35 min
"""


def test_a_hundred_grams_and_a_slice_agree():
    held = nutrition(demo("canteen-sandwich-loaf"))
    slice_g = held.per_piece.grams
    for name in ("energy_kj", "fat", "saturates", "protein", "salt", "sugars_up_to"):
        in_slice = getattr(held.per_piece, name)
        assert in_slice == pytest.approx(getattr(held.per_100g, name) * slice_g / 100)
    assert 16 * slice_g == pytest.approx(demo("canteen-sandwich-loaf").dough_g * (1 - held.bake_loss))
    assert "worked_out" == held.basis


def test_a_weighed_loaf_overrules_the_model():
    text = WHEAT.format(sugar=8)
    held = nutrition(text + "weight after: 720 g\n")
    assert "weighed" == held.basis
    assert 16 * held.per_piece.grams == pytest.approx(720)
    assert held.per_piece.protein == pytest.approx(nutrition(text).per_piece.protein)


def test_a_weight_that_no_loaf_can_have_is_not_taken():
    assert "worked_out" == nutrition(WHEAT.format(sugar=8) + "weight after: 1200 g\n").basis


def test_where_the_bake_cannot_be_followed_it_is_the_dough():
    held = nutrition("Bars\n100 g almonds\n50 g butter\nkind: unleavened seed loaf\n")
    assert held.basis in ("as_mixed", "worked_out")
    if "as_mixed" == held.basis:
        assert 0 == held.bake_loss


def test_yeast_takes_its_sugar_out_of_every_figure():
    sweet, plain = (
        nutrition(WHEAT.format(sugar=30)).per_100g,
        nutrition(WHEAT.format(sugar=30).replace("10 g instant yeast\n", "")).per_100g,
    )
    assert sweet.sugars < plain.sugars - 0.5
    assert sweet.carbohydrate < plain.carbohydrate
    assert sweet.sugars <= sweet.sugars_up_to <= sweet.carbohydrate_without_fibre


def test_milk_sugar_stays():
    text = WHEAT.format(sugar=0.1).replace("320 g water", "350 g whole milk")
    held = nutrition(text).per_100g
    lactose = 350 * 0.048 / (350 + 520) * 100
    assert held.sugars > 0.8 * lactose


def test_what_no_table_knows_is_a_span_and_named(knowledge):
    held = nutrition("Loaf\n100 g bread flour\n60 g water\n20 g vegan cheese\n2 g salt\n")
    assert held.per_100g.saturates_up_to > held.per_100g.saturates
    gap = next(part for part in held.unknown if "saturates" == part.part)
    assert any("cheese" in name for name in gap.ingredients)
    cheese = knowledge.ingredients["vegan_cheese"]
    assert cheese.per_100g.saturates is None
    spread = held.per_100g.saturates_up_to - held.per_100g.saturates
    assert spread == pytest.approx(
        20 * cheese.per_100g.fat / 100 / held.per_100g.grams * 100 / (182 * (1 - held.bake_loss)) * 100,
        rel=1e-6,
    )


def test_parts_that_are_not_written_may_be_all_that_is_left():
    base = {
        "data_set": "usda-sr28", "record": "x", "basis": "by_difference", "water": 10, "protein": 10, "fat": 10,
        "carbohydrate": 60, "fibre": 20, "starch": 30, "ash": 10, "grade": "demo",
    }  # fmt: skip
    unknown = Composition.model_validate(base)
    assert 10 == unknown.sugars_up_to
    assert 10 == unknown.saturates_up_to
    known = Composition.model_validate(base | {"sugars": 0, "saturates": 2})
    assert 0 == known.sugars_up_to
    assert 2 == known.saturates_up_to
    with pytest.raises(ValueError, match="more than fat"):
        Composition.model_validate(base | {"saturates": 11})


@pytest.mark.parametrize(
    ("sweetener", "usual", "all_out", "fibre_only"),
    [("erythritol", 0, 0, 1), ("xylitol", 0.5, 0, 1), ("allulose", 0, 0, 1), ("sugar", 1, 1, 1)],
)
def test_conventions_count_sweeteners_apart(sweetener, usual, all_out, fibre_only, knowledge):
    dough = "Cake\n100 g bread flour\n100 g eggs\n5 g baking powder\n"
    with_it, without = (nutrition(dough + extra) for extra in (f"100 g {sweetener}\n", ""))
    grams = knowledge.ingredients[sweetener].per_100g.carbohydrate_with_fibre
    for name, share in (("half_of_polyols", usual), ("all_sweeteners", all_out), ("fibre_alone", fibre_only)):
        added = sum(
            sign * held.pieces * held.per_piece.net_by_convention[name]
            for sign, held in ((1, with_it), (-1, without))
        )
        assert added == pytest.approx(share * grams, abs=0.6), name


def test_own_ingredient_hands_its_saturates_on():
    from advisor.knowledge_base.own_entry import OwnIngredient
    from advisor.knowledge_base.own_making import make_ingredient

    panel = {
        "per_g": 50, "calories": 200, "total_fat": 10, "sodium_mg": 10, "total_carbohydrate": 20, "protein": 8,
    }  # fmt: skip
    entry = {"name": "my meal", "roles": ["meal"], "allergens": [], "dough_uptake": 1.0}
    said = OwnIngredient.model_validate(entry | {"us_panel": panel | {"saturated_fat": 2}})
    assert 4 == make_ingredient(said, None).ingredient.per_100g.saturates
    silent = OwnIngredient.model_validate(entry | {"us_panel": panel})
    assert make_ingredient(silent, None).ingredient.per_100g.saturates is None
    assert (
        read_formula("Loaf\n100 g bread flour\n60 g water").lines[0].ingredient.per_100g.saturates is not None
    )
