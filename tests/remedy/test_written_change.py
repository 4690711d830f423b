"""Changes as bakers write them, read and applied."""

from __future__ import annotations

import json
import re
from dataclasses import fields
from pathlib import Path

import pytest
from case_files import demo
from hypothesis import given
from hypothesis import strategies as st
from laws import examples

from advisor import default_advisor, load_knowledge, read_formula
from advisor.diagnosis.symptom_names import reader_of
from advisor.explanation.changes import ChangeWords, capital
from advisor.formula.writing.weighed import as_weighed
from advisor.remedy.change_fault import ChangeFault
from advisor.remedy.written_change import apply_changes
from advisor.rendering.quantities import runs_text

KNOWLEDGE = load_knowledge()
LOAF = demo("canteen-sandwich-loaf")


def changed(*texts, formula=LOAF):
    return apply_changes(formula, texts, KNOWLEDGE)


@pytest.mark.parametrize(
    ("text", "name", "before", "after"),
    [
        ("water -30 g", "water", 150, 120),
        ("water +10 %", "water", 150, 165),
        ("water 200", "water", 150, 200),
        ("psyllium 12 g", "psyllium husk powder", 0, 12),
        ("psyllium +12 g", "psyllium husk powder", 0, 12),
        ("omit butter", "butter", 30, 0),
        ("without the butter", "butter", 30, 0),
        ("mozzarella -50 g", "low-moisture mozzarella", 200, 150),
        ("gluten 150 g", "vital wheat gluten", 170, 150),
        ("oven 165 C", "oven", 175, 165),
        ("oven 329 F", "oven", 175, 165),
        ("oven -10 C", "oven", 175, 165),
        ("oven -18 F", "oven", 175, 165),
        ("bake 70 min", "bake", 80, 70),
        ("bake +10 min", "bake", 80, 90),
        ("proof -15 min", "proof", 60, 45),
        ("proof: 1 h", None, 60, 60),
        ("Add 18 g (about 2 tbsp) psyllium husk powder.", "psyllium husk powder", 0, 18),
        ("water -80 g: 70 g instead of 150 g", "water", 150, 70),
        ("80 g (about 1/3 cup) less water: 70 g instead of 150 g.", "water", 150, 70),
        ("Bake: 60 min instead of 80 min (20 min shorter).", "bake", 80, 60),
        ("1. Oven: 165 C instead of 175 C (10 C cooler).", "oven", 175, 165),
        ("3 more whole eggs: 9 instead of 6 (450 g instead of 300 g)", "whole egg", 300, 450),
        ("3 more whole eggs", "whole egg", 300, 450),
        ("leave out the butter (30 g)", "butter", 30, 0),
        ("bake 10 min longer", "bake", 80, 90),
        ("another 10 minutes in the oven", "bake", 80, 90),
        ("bake for 10 min less", "bake", 80, 70),
        ("oven 15 C hotter", "oven", 175, 190),
        ("turn the oven down 10 C", "oven", 175, 165),
        ("180 C", "oven", 175, 180),
        ("double the yeast", "instant yeast", 10, 20),
        ("halve the salt", "salt", 4, 2),
        ("use 20 g more gluten", "vital wheat gluten", 170, 190),
        ("cut the water by 30 g", "water", 150, 120),
        ("reduce the water to 120 g", "water", 150, 120),
        ("use 10 % less water", "water", 150, 135),
        ("add another egg", "whole egg", 300, 350),
        ("no salt", "salt", 4, 0),
    ],
)
def test_one_change(text, name, before, after):
    found = changed(text).changes
    if name is None:
        assert () == found, "what is so already is no change"
        return
    assert 1 == len(found)
    assert (name, before) == (found[0].what, found[0].before)
    assert after == pytest.approx(found[0].after, abs=0.3)


@pytest.mark.parametrize(
    "text",
    ["replace butter with olive oil", "use olive oil instead of butter", "swap the butter for olive oil"],
)
def test_an_exchange_as_it_is_said(text):
    new = changed(text).formula
    assert (0, True) == (new.grams_of("butter"), new.grams_of("olive_oil") > 0)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("less water", "how much less?; write it: 'water -20 g'"),
        ("more psyllium", "how much more?"),
        ("duble the yeest", "did you mean 'double the yeast'?"),
        ("reduse the water by 30 g", "did you mean 'reduce the water by 30 g'?"),
    ],
)
def test_what_names_no_amount_or_is_misspelt_is_asked(text, says):
    with pytest.raises(ChangeFault, match=re.escape(says)):
        changed(text)


def held(formula):
    """What a formula says: grams by ingredient, traits, and the process as a baker reads it."""
    plain = as_weighed(formula)
    traits = {(line.ingredient.id, line.traits, line.age_months, line.celsius) for line in plain.lines}
    return {x.ingredient.id: plain.grams_of(x.ingredient.id) for x in plain.lines}, traits, plain.process


def same(found, wanted):
    """As near as what is printed tells: a gram or two in a hundred, and two degrees or 4 mm of a round figure."""
    (grams, traits, process), (others, theirs, other) = held(found), held(wanted)
    assert grams == pytest.approx(others, rel=0.02, abs=1.0)
    assert traits == theirs or set(grams) == set(others)
    for field in fields(process):
        one, two = getattr(process, field.name), getattr(other, field.name)
        if field.name in ("oven_steps", "proofs"):
            continue  # their means and sums are compared
        if isinstance(one, float) and isinstance(two, float):
            assert one == pytest.approx(two, abs=2 if field.name.endswith("_c") else 0.4), field.name
        else:
            assert one == two, field.name


def typed(answer, plan):
    """Every change of an answer, typed as it is printed, piece by piece and in one text, in metric and in cups."""
    formula, words = answer.examination.formula, ChangeWords(KNOWLEDGE)
    found = [(p.changes, p.formula) for p in answer.plans.proposals]
    found += [(plan.changes, plan.formula)] if plan else []
    for changes, wanted in found:
        for units in ("metric", "us"):
            each = [runs_text(capital(words.runs(c)), units) + "." for c in changes]
            for texts in (each, [runs_text(words.in_short(changes), units)]):
                if wanted == formula:
                    with pytest.raises(ChangeFault, match="done by hand"):
                        apply_changes(formula, texts, KNOWLEDGE)
                    yield "hand"
                    continue
                same(apply_changes(formula, texts, KNOWLEDGE).formula, wanted)
                yield "formula"


@pytest.mark.parametrize("name", sorted(KNOWLEDGE.formulas))
def test_every_printed_change_of_a_demo_formula_can_be_typed(name):
    advisor = default_advisor()
    answer = advisor.check(demo(name))
    assert len(list(typed(answer, advisor.plan_together(answer)))) >= 4 * len(answer.plans.proposals)


STRANGERS = Path(__file__).parents[1] / "outside" / "strangers" / "round_5" / "bakes.json"


@pytest.mark.parametrize("bake", json.loads(STRANGERS.read_text("utf-8")), ids=lambda bake: bake["id"])
def test_every_printed_change_of_a_strangers_bake_can_be_typed(bake):
    advisor = default_advisor()
    saw = [name for text in bake["saw"] for name in reader_of(KNOWLEDGE).hear(text).taken]
    answer = advisor.diagnose(read_formula(bake["text"]), saw=saw)
    assert len(list(typed(answer, advisor.plan_together(answer)))) >= 4 * len(answer.plans.proposals)


def test_a_change_of_one_of_two_lines_is_told_by_its_weight():
    formula = read_formula("Loaf\n90 g water\n200 g water\n300 g bread flour\n")
    found = changed("35 g (about 2 1/2 tbsp) more water: 235 g instead of 200 g", formula=formula)
    assert [90, 235, 300] == [line.grams for line in found.formula.lines]


def test_a_plan_names_every_amount_of_a_sentence():
    """One line of a text may hold several ingredients: the plan once told the change of the last of them alone."""
    text = (
        "Gluten loaf: 150 g wheat gluten, 60 g oat fibre, 40 g ground flax, 6 g instant yeast, 5 g salt, 420 g water, "
        "10 g oil. "
        "Mix 6 min. 23 x 10 x 10 cm tin. Prove 60 min at 28 C. Bake 180 C 45 min."
    )
    advisor = default_advisor()
    answer = advisor.check(read_formula(text))
    plan = advisor.plan_together(answer)
    assert plan is not None
    before, after = answer.examination.formula, plan.formula
    moved = {x.ingredient.name for x in (*before.lines, *after.lines)
             if before.grams_of(x.ingredient.id) != pytest.approx(after.grams_of(x.ingredient.id))}  # fmt: skip
    assert moved <= {change.what for change in plan.changes}


def test_an_exchange_of_the_same_weight():
    new = changed("whole egg -> egg white").formula
    assert 0 == new.grams_of("whole_egg")
    assert 300 == pytest.approx(new.grams_of("egg_white"))
    assert LOAF.dough_g == pytest.approx(new.dough_g)


def test_an_exchange_of_a_stated_weight():
    new = changed("cider vinegar -> lemon juice 20 g").formula
    assert (0, 20) == (new.grams_of("cider_vinegar"), new.grams_of("lemon_juice"))


def test_whole_eggs_stay_whole_eggs_and_half_eggs_become_grams():
    more, part = changed("egg +1").formula, changed("whole egg 320 g").formula
    assert 7 == next(x.counted for x in more.lines if x.ingredient.id == "whole_egg")
    assert next(x.counted for x in part.lines if x.ingredient.id == "whole_egg") is None


def test_changes_follow_each_other():
    new = changed("omit butter", "olive oil 25 g", "olive oil -5 g").formula
    assert 20 == pytest.approx(new.grams_of("olive_oil"))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "nothing is written"),
        ("water -900 g", "only 150 g"),
        ("omit xanthan", "there is no 'xanthan'"),
        ("cheez 3 g", "no ingredient is called"),
        ("flour 30 g", "can be"),
        ("oven hot", "cannot be read"),
        ("oven 20 C", "not between"),
        ("rest -10 min", "does not state"),
        ("whole egg -> whole egg", "same ingredient"),
        ("whole egg -> unobtainium", "no ingredient is called"),
        ("psyllium", "no line holds an ingredient"),
        ("water\x1b[31m 3 g\x00", ""),
        ("water " + "9" * 400 + " g", ""),
    ],
)
def test_what_cannot_be_is_one_clear_line(text, says):
    with pytest.raises(ChangeFault) as caught:
        changed(text)
    message = str(caught.value)
    assert says in message
    assert message.startswith("change '")
    assert "\n" not in message
    assert "\x1b" not in message
    assert len(message) < 500


def test_a_formula_cannot_be_emptied():
    with pytest.raises(ChangeFault, match="nothing is left"):
        changed(
            "omit water", formula=LOAF.with_lines(tuple(x for x in LOAF.lines if x.ingredient.id == "water"))
        )


@examples(60)
@given(st.text(max_size=60))
def test_any_text_is_a_change_or_a_fault(text):
    try:
        assert changed(text).formula.lines
    except ChangeFault as fault:
        assert "\n" not in str(fault)


@examples(30)
@given(st.sampled_from([x.ingredient.name for x in LOAF.lines if not x.counted]), st.floats(1, 400))
def test_an_amount_set_is_there_and_nothing_else_moves(name, grams):
    new = changed(f"{name} {grams:.1f} g").formula
    ours = next(x for x in new.lines if x.ingredient.name == name)
    assert float(f"{grams:.1f}") == pytest.approx(ours.grams)
    others = [(x.ingredient.id, x.grams) for x in new.lines if x is not ours]
    assert others == [(x.ingredient.id, x.grams) for x in LOAF.lines if x.ingredient.name != name]
