"""What is proposed first, and what no baker would do."""

from __future__ import annotations

from dataclasses import replace

import pytest
from case_files import demo

from advisor.formula.reading import read_formula_text
from advisor.remedy.change import Change, add_grams
from advisor.remedy.ordering import leading
from advisor.remedy.sanity import undo_each_other, unreasonable

LOAF = """Loaf
200 g vital wheat gluten
60 g oat fibre
2 large eggs
240 g water
7 g instant yeast{age}
6 g salt
10 g sugar
20 g butter
proof: 60 min at 28 C
oven: 180 C for 45 min
pan: 20 x 10 x 8 cm
"""


@pytest.fixture(scope="module")
def dead_yeast(advisor, knowledge):
    formula = read_formula_text(LOAF.format(age=""), knowledge, name="dead")
    return advisor.diagnose(formula, saw=["flat_loaf", "dense_crumb"], answers={"yeast_test": "flat"})


def test_what_the_baker_says_went_wrong_is_undone_first(dead_yeast):
    assert "fresh-yeast" == dead_yeast.plans.proposals[0].lever


def test_nobody_is_told_to_use_more_of_what_is_dead(dead_yeast):
    for p in dead_yeast.plans.proposals:
        more = [c.what for c in p.changes if c.after is not None and c.after > (c.before or 0)]
        assert not any("yeast" in what for what in more), p.lever


def test_what_the_baker_says_did_not_happen_is_not_proposed(advisor, knowledge):
    formula = read_formula_text(LOAF.format(age=""), knowledge, name="alive")
    answer = advisor.diagnose(formula, saw=["flat_loaf"], answers={"yeast_test": "foamed"})
    assert "fresh-yeast" not in {p.lever for p in answer.plans.proposals}


def test_an_old_powder_is_made_fresh_in_the_formula(advisor):
    formula = demo("almond-egg-loaf")
    old = tuple(replace(x, age_months=30.0) if "powder" in x.ingredient.roles else x for x in formula.lines)
    answer = advisor.diagnose(formula.with_lines(old), saw=["flat_loaf", "dense_crumb"])
    best = answer.plans.proposals[0]
    assert "fresh-powder" == best.lever
    assert best.formula == formula
    assert not any(p.lever in ("more-powder", "add-powder") for p in answer.plans.proposals)


def test_the_likeliest_cause_leads_and_one_nearly_as_likely_beside_it(knowledge):
    assert {"a", "b"} == leading({"a": 0.8, "b": 0.78, "c": 0.5}, knowledge)
    assert set() == leading({"a": 0.2, "b": 0.1}, knowledge)


@pytest.mark.parametrize(
    ("ingredient", "factor"), [("baking_powder", 4), ("salt", 8), ("whole_egg", 4), ("butter", 0.1)]
)
def test_a_change_that_no_baker_makes_is_refused(knowledge, ingredient, factor):
    before = demo("almond-egg-loaf")
    assert before.grams_of(ingredient) > 0, "or this says nothing"
    lines = tuple(
        replace(x, grams=x.grams * factor, counted=None) if x.ingredient.id == ingredient else x
        for x in before.lines
    )
    assert unreasonable(before, before.with_lines(lines), ("egg_set", "tin_loaf"), knowledge)
    assert unreasonable(before, before, ("egg_set", "tin_loaf"), knowledge) is None


def test_what_is_far_out_may_come_nearer(knowledge):
    sound = demo("almond-egg-loaf")

    def salted(grams):
        return sound.with_lines(
            tuple(replace(x, grams=grams) if x.ingredient.id == "salt" else x for x in sound.lines)
        )

    assert unreasonable(salted(60), salted(40), ("egg_set", "tin_loaf"), knowledge) is None
    assert unreasonable(salted(40), salted(60), ("egg_set", "tin_loaf"), knowledge)


def test_one_amount_may_not_drive_another_out_of_what_is_usual(knowledge):
    """Fibre taken from a gluten loaf leaves gluten alone, whose own grams stay."""
    sound, about = demo("gluten-fibre-tin-loaf"), ("kneaded_gluten", "tin_loaf")

    def with_fibre(factor):
        meals = ("oat_fibre", "almond_flour", "ground_flaxseed")
        return sound.with_lines(
            tuple(replace(x, grams=x.grams * factor) if x.ingredient.id in meals else x for x in sound.lines)
        )

    assert unreasonable(sound, with_fibre(0.1), about, knowledge)
    assert unreasonable(sound, with_fibre(0.9), about, knowledge) is None
    assert unreasonable(with_fibre(0.1), with_fibre(0.2), about, knowledge) is None, "it comes nearer"


def test_a_fraction_says_nothing_of_a_few_spoons_of_water(knowledge):
    sound, about = demo("almond-egg-loaf"), ("egg_set", "tin_loaf")
    water = add_grams(sound, knowledge.ingredients["water"], 10).formula
    assert (
        unreasonable(water, add_grams(water, knowledge.ingredients["water"], 30).formula, about, knowledge)
        is None
    )
    wet = add_grams(sound, knowledge.ingredients["water"], 150).formula
    assert unreasonable(wet, add_grams(wet, knowledge.ingredients["water"], 250).formula, about, knowledge)


def test_changes_that_undo_each_other_are_told(knowledge):
    water = Change(what="water", unit="g", before=100, after=150)
    fibre = Change(what="oat fibre", unit="g", before=20, after=40)
    assert undo_each_other([water], [fibre], knowledge)
    assert undo_each_other([fibre], [water], knowledge)
    assert undo_each_other([water], [replace(fibre, after=10)], knowledge) is None
