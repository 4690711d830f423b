"""One change at a time: grams move as said, pieces stay whole, kitchens can weigh it."""

from __future__ import annotations

import pytest

from advisor.formula.reading import read_formula_text
from advisor.remedy.change import (
    Change,
    add_grams,
    move_grams,
    round_to,
    scale_lines,
    set_process,
)

TEXT = "240 g almond flour\n5 large eggs\n60 g butter\n4 g salt\nproof: 60 min at 27 C"


@pytest.fixture
def formula(knowledge):
    return read_formula_text(TEXT, knowledge)


def places_of(formula, name):
    return frozenset(n for n, line in enumerate(formula.lines) if line.ingredient.id == name)


def test_a_line_is_scaled_and_the_others_stay(formula):
    changed = scale_lines(formula, places_of(formula, "butter"), 0.5, None)
    assert 30 == changed.formula.grams_of("butter")
    assert (240, 250, 4) == tuple(changed.formula.grams_of(i) for i in ("almond_flour", "whole_egg", "salt"))
    assert (Change(what="butter", unit="g", before=60, after=30),) == changed.changes


def test_a_scaled_line_is_rounded_to_the_step(formula):
    changed = scale_lines(formula, places_of(formula, "butter"), 0.5117, 1.0)
    assert 31 == changed.formula.grams_of("butter")
    changed = scale_lines(formula, places_of(formula, "salt"), 0.63, 0.1)
    assert 2.5 == changed.formula.grams_of("salt")


@pytest.mark.parametrize(("factor", "eggs"), [(0.4, 2), (0.55, 3), (0.69, 3), (0.71, 4), (1.3, 6), (1.6, 8)])
def test_counted_eggs_stay_whole(formula, factor, eggs):
    changed = scale_lines(formula, places_of(formula, "whole_egg"), factor, 1.0)
    line = next(x for x in changed.formula.lines if x.ingredient.id == "whole_egg")
    assert (eggs, 50 * eggs) == (line.counted, line.grams)
    assert (5, eggs) == (changed.changes[0].count_before, changed.changes[0].count_after)


def test_while_solving_eggs_may_be_parts(formula):
    """Without a step the dial must move smoothly, or no root can be bracketed."""
    changed = scale_lines(formula, places_of(formula, "whole_egg"), 0.63, None)
    assert 157.5 == pytest.approx(changed.formula.grams_of("whole_egg"))


def test_a_line_that_comes_to_nothing_is_left_out(formula):
    changed = scale_lines(formula, places_of(formula, "salt"), 0.0, 0.1)
    assert 0 == changed.formula.grams_of("salt")
    assert 3 == len(changed.formula.lines)
    assert 0 == changed.changes[0].after


def test_adding_goes_on_top_of_a_line_that_is_there(formula, knowledge):
    changed = add_grams(formula, knowledge.ingredients["butter"], 15)
    assert 4 == len(changed.formula.lines)
    assert 75 == changed.formula.grams_of("butter")
    assert (60, 75) == (changed.changes[0].before, changed.changes[0].after)


def test_adding_what_is_new_makes_a_line_of_its_own(formula, knowledge):
    changed = add_grams(formula, knowledge.ingredients["psyllium_powder"], 12)
    assert 5 == len(changed.formula.lines)
    assert len({line.number for line in changed.formula.lines}) == 5
    assert (0, 12) == (changed.changes[0].before, changed.changes[0].after)
    assert formula.dough_g + 12 == changed.formula.dough_g


def test_added_pieces_are_counted(knowledge):
    formula = read_formula_text("240 g almond flour\n100 g water", knowledge)
    changed = add_grams(formula, knowledge.ingredients["whole_egg"], 150, each=50)
    assert (0, 3) == (changed.changes[0].count_before, changed.changes[0].count_after)
    assert 3 == changed.formula.lines[-1].counted


def test_moving_keeps_the_mass(formula, knowledge):
    changed = move_grams(formula, "almond_flour", knowledge.ingredients["oat_fibre"], 40)
    assert formula.dough_g == pytest.approx(changed.formula.dough_g)
    assert (200, 40) == pytest.approx(
        (changed.formula.grams_of("almond_flour"), changed.formula.grams_of("oat_fibre"))
    )
    assert 2 == len(changed.changes)


def test_what_is_counted_takes_the_place_of_what_is_weighed_in_whole_pieces(knowledge):
    formula = read_formula_text("200 g almond flour\n120 g whole milk\n2 large eggs", knowledge)
    egg = knowledge.ingredients["whole_egg"]
    changed = move_grams(formula, "whole_milk", egg, 100, each=50)
    assert [20, 200] == [changed.formula.grams_of(name) for name in ("whole_milk", "whole_egg")]
    assert [4] == [line.counted for line in changed.formula.lines if line.ingredient is egg]
    assert (2, 4) == (changed.changes[1].count_before, changed.changes[1].count_after)


def test_a_process_line_is_set_and_nothing_else(formula):
    changed = set_process(formula, "proof_min", 80, "min", 60)
    assert (80, 27) == (changed.formula.process.proof_min, changed.formula.process.proof_c)
    assert formula.lines == changed.formula.lines
    assert (Change(what="proof", unit="min", before=60, after=80, field="proof_min"),) == changed.changes


def test_a_change_leaves_the_first_formula_as_it_was(formula):
    before = formula.lines
    scale_lines(formula, places_of(formula, "butter"), 0.1, 1.0)
    assert before is formula.lines
    assert 60 == formula.grams_of("butter")


def test_rounding_leaves_no_binary_dust():
    assert [0.3, 7.7, 15.0, 0.0] == [
        round_to(v, s) for v, s in ((0.31, 0.1), (7.68, 0.1), (14.2, 5.0), (0.2, 1.0))
    ]
