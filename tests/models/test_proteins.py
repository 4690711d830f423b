"""What carries the loaf: protein by class, what heat sets, what burdens it."""

from __future__ import annotations

import pytest

from advisor.formula.reading import read_formula_text
from advisor.models.dough.hydration import water_budget
from advisor.models.dough.proteins import framework, setting_protein_pct, share
from advisor.models.measuring import dough_state_of


def frame(text, knowledge):
    formula = read_formula_text(text, knowledge)
    return framework(formula, water_budget(formula, knowledge), knowledge)


def values(text, knowledge):
    return dough_state_of(read_formula_text(text, knowledge), knowledge).values


def test_egg_protein_is_white_and_yolk(knowledge):
    """NDB 01123: 12.56 g a 100 g, 57 to 43 between white and yolk."""
    found = frame("100 g whole egg", knowledge)
    assert {"egg_white": 12.56 * 0.57, "yolk": 12.56 * 0.43} == pytest.approx(found.by_class)
    assert 12.56 == pytest.approx(found.setting)


def test_what_heat_does_not_set_carries_nothing(knowledge):
    for idle in ("100 g casein powder", "100 g collagen peptides", "100 g gelatine"):
        found = frame(idle, knowledge)
        assert found.total > 50
        assert 0 == pytest.approx(found.setting), idle


def test_stretching_cheese_makes_one_mass_and_other_cheese_does_not(knowledge):
    mozzarella, feta = frame("100 g low-moisture mozzarella", knowledge), frame("100 g feta", knowledge)
    assert mozzarella.setting > 5 * max(feta.setting, 0.1)
    assert 0 == feta.cheese_casein


def test_gum_counts_as_binder_in_grams_of_psyllium(knowledge):
    found = frame("10 g psyllium husk powder\n200 g water", knowledge)
    assert 10 == pytest.approx(found.gum)
    assert found.setting + 10 * knowledge.coefficient("gum_binds") == pytest.approx(found.binder)


def test_setting_protein_is_diluted_by_free_water(knowledge):
    thick, thin = (
        values(f"4 large eggs{x}", knowledge)["setting_protein_pct"] for x in ("", "\n200 g water")
    )
    # by hand: 25.12 g of protein; 152.3 g of water, then 199.8 g more
    assert (100 * 25.12 / 177.42, 100 * 25.12 / 377.22) == pytest.approx((thick, thin), rel=2e-3)


def test_absorbers_take_water_away_from_the_protein(knowledge):
    bare, with_fibre = (
        values(f"4 large eggs\n100 g water{x}", knowledge)["setting_protein_pct"]
        for x in ("", "\n40 g oat fibre")
    )
    assert bare < with_fibre


def test_no_concentration_where_absorbers_leave_no_water(knowledge):
    assert (
        values("1 large egg\n100 g psyllium husk powder\n100 g water", knowledge)["setting_protein_pct"]
        is None
    )
    nothing = frame("100 g olive oil", knowledge)
    assert setting_protein_pct(nothing, 0.0, 0.12) is None


def test_shares_by_class_add_up_over_what_can_carry(knowledge):
    found = values(
        "100 g vital wheat gluten\n4 large eggs\n30 g whey protein isolate\n100 g water", knowledge
    )
    assert 1.0 == pytest.approx(found["gluten_share"] + found["egg_share"] + found["whey_share"], abs=0.01)
    assert found["egg_beside_gluten"] == pytest.approx(
        found["egg_share"] / (found["egg_share"] + found["gluten_share"])
    )


def test_a_share_of_nothing_is_no_share(knowledge):
    assert share(1.0, 0.0) is None
    assert values("100 g almond flour\n100 g water", knowledge)["gluten_share"] in (None, 0)


def test_meal_and_fat_are_weighed_against_the_binder(knowledge):
    light, heavy = (values(f"4 large eggs\n{g} g almond flour", knowledge) for g in (100, 200))
    assert 1.5 < heavy["filler_ratio"] / light["filler_ratio"] <= 2
    assert heavy["fat_ratio"] > light["fat_ratio"]


def test_a_gluten_dough_sets_far_above_egg(knowledge):
    dough = values("170 g vital wheat gluten\n60 g oat fibre\n300 g water", knowledge)["setting_protein_pct"]
    assert dough > 2 * values("4 large eggs", knowledge)["setting_protein_pct"]


def test_enzyme_units_go_on_what_it_can_link(knowledge):
    found = frame("100 g casein powder\n2 g transglutaminase", knowledge)
    preparation = knowledge.ingredients["transglutaminase"]
    assert 2 * preparation.enzyme_u_per_g.value == pytest.approx(found.enzyme_units)
    # casein is its best substrate, egg white a poor one
    assert (
        frame("100 g casein powder", knowledge).reactive
        > 5 * frame("100 g egg white powder", knowledge).reactive
    )
