"""The water budget: who gives, who takes, what the baked loaf can hold."""

from __future__ import annotations

import pytest

from advisor.formula.reading import read_formula_text
from advisor.models.dough.assumptions import fill_defaults
from advisor.models.dough.hydration import swelling_wait_min, water_budget


def budget(text, knowledge):
    return water_budget(read_formula_text(text, knowledge), knowledge)


def test_flour_and_water_by_hand(knowledge):
    """500 g flour taking 0.6 g/g, 325 g water of 99.9 %."""
    found = budget("500 g bread flour\n325 g water", knowledge)
    uptake = knowledge.ingredients["bread_flour"].dough_uptake.value
    assert 0.999 * 325 == pytest.approx(found.available)
    assert 500 * uptake == pytest.approx(found.absorption)
    assert 0.999 * 325 / (500 * uptake) == pytest.approx(found.mixing_hydration)


def test_each_line_is_accounted_for(knowledge):
    found = budget("500 g bread flour\n325 g water\n50 g sugar\n2 large eggs", knowledge)
    assert found.available == pytest.approx(sum(found.from_water) + sum(found.from_solids))
    assert found.absorption == pytest.approx(sum(found.taken_up))
    assert found.holding == pytest.approx(sum(found.held_when_baked))
    assert [4, 4, 4, 4] == [
        len(x) for x in (found.from_water, found.from_solids, found.taken_up, found.held_when_baked)
    ]


def test_cheese_keeps_most_of_its_water(knowledge):
    cheese = knowledge.ingredients["mozzarella_low_moisture"]
    found = budget("100 g low-moisture mozzarella", knowledge)
    assert cheese.per_100g.water * cheese.gives_water.value == pytest.approx(found.available)
    assert found.available < 0.5 * cheese.per_100g.water


def test_what_dissolves_joins_the_liquid(knowledge):
    plain, sweet = (budget(f"300 g bread flour\n200 g water{x}", knowledge) for x in ("", "\n60 g sugar"))
    share = -knowledge.ingredients["sugar"].dough_uptake.value
    assert plain.available + 60 * share == pytest.approx(sweet.available, abs=0.05)
    assert plain.absorption == pytest.approx(sweet.absorption)


def test_a_strong_gum_takes_less_by_the_gram_the_more_there_is(knowledge):
    one, ten = (budget(f"{g} g xanthan gum\n300 g water", knowledge).absorption for g in (1, 10))
    assert one < ten < 10 * one
    # psyllium stays linear, as its published series does
    one, ten = (budget(f"{g} g psyllium husk powder\n300 g water", knowledge).absorption for g in (1, 10))
    assert 10 * one == pytest.approx(ten)


def test_the_first_gram_of_gum_has_its_full_uptake(knowledge):
    found = budget("0.01 g xanthan gum\n1000 g water", knowledge)
    assert 0.01 * knowledge.ingredients["xanthan"].dough_uptake.value == pytest.approx(
        found.absorption, rel=0.01
    )


def test_a_protein_holds_water_once(knowledge):
    """Gluten: the larger of what the dough takes up and what the set protein holds, never both."""
    gluten = knowledge.ingredients["vital_wheat_gluten"]
    found = budget("100 g vital wheat gluten\n120 g water", knowledge)
    uptake = 100 * gluten.dough_uptake.value
    classes = knowledge.protein_classes
    set_ = gluten.per_100g.protein * sum(
        s * classes[c].holds_when_set.value for c, s in gluten.protein_classes.items()
    )
    assert max(uptake, set_) <= found.holding < uptake + set_


def test_boiled_egg_holds_its_own_water(knowledge):
    """Composition tables: boiled egg keeps the water it came with, so that its load is near one."""
    assert 1.0 == pytest.approx(budget("4 large eggs", knowledge).baked_water_load, abs=0.12)
    # 87.57 g of water to 10.9 g of protein
    assert 1.0 == pytest.approx(budget("4 large egg whites", knowledge).baked_water_load, abs=0.05)


def test_whipped_white_drains(knowledge):
    text = "300 g egg white\n60 g egg white powder"
    still, foam = budget(text, knowledge), budget(text + "\nwhites: whipped", knowledge)
    assert foam.holding < 0.8 * still.holding
    assert still.available == foam.available


def test_starch_holds_more_baked_than_it_takes_up(knowledge):
    found = budget("100 g potato starch\n100 g water", knowledge)
    assert found.holding > 2 * found.absorption


def test_without_anything_thirsty_there_is_no_ratio(knowledge):
    found = budget("100 g water\n10 g sugar", knowledge)
    assert (None, None) == (found.mixing_hydration, found.baked_water_load)


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("20 g whole psyllium husk\nrest: 8 min", 8),
        ("20 g whole psyllium husk\nrest: 8 min\nproof: 40 min at 28 C", 48),
        ("20 g whole psyllium husk", 0),
        ("20 g almond flour\nrest: 8 min", None),
    ],
)
def test_binders_swell_in_rest_and_proof(text, minutes, knowledge):
    formula = read_formula_text(text + "\n100 g water", knowledge)
    assert minutes == swelling_wait_min(formula, fill_defaults(formula, knowledge))
