"""Solving a dial on a measure that is plain enough to work out by hand."""

from __future__ import annotations

import pytest

from advisor.formula.reading import read_formula_text
from advisor.remedy.change import scale_lines
from advisor.remedy.levers.solving import measure_reader, solve, solve_partly
from advisor.remedy.levers.target import Aim
from advisor.remedy.levers.turning import Dial, dial_for

WATER = frozenset({1})


@pytest.fixture
def formula(knowledge):
    return read_formula_text("500 g bread flour\n200 g water", knowledge)


def dial(formula, lowest, highest, piece=None):
    return Dial(
        kind="amount", now=200.0, lowest=lowest, highest=highest, piece=piece,
        turn=lambda x, step: scale_lines(formula, WATER, x / 200, step),
    )  # fmt: skip


def hydration(formula):
    """Water over flour, %: a ratio that needs no model."""
    return 100 * formula.grams_of("water") / formula.grams_of("bread_flour")


def aim(low, high, value):
    return Aim(measure="hydration", value=value, low=low, high=high, rising=True)


def test_the_setting_is_found_and_rounded_to_the_kitchen(formula):
    solved = solve(dial(formula, 0, 600), aim(60, 70, 62), hydration)
    assert 310 == solved.setting
    assert 62 == hydration(solved.changed.formula)


def test_rounding_does_not_undo_the_cure(formula):
    """The aim 60.3 is 301.5 g: the next round weight on the far side is taken, inside the band."""
    solved = solve(dial(formula, 0, 600), aim(60.2, 70, 60.3), hydration)
    assert 60.2 <= hydration(solved.changed.formula) <= 70
    assert 305 == solved.setting


def test_a_narrow_band_gets_a_finer_step(formula):
    solved = solve(dial(formula, 0, 600), aim(60.2, 60.7, 60.45), hydration)
    assert solved.setting in (302, 303)


def test_downwards_as_well(formula):
    down = Aim(measure="hydration", value=28, low=20, high=30, rising=False)
    solved = solve(dial(formula, 0, 600), down, hydration)
    assert 140 == solved.setting


def test_what_the_limits_forbid_is_said(formula):
    solved = solve(dial(formula, 150, 250), aim(60, 70, 62), hydration)
    assert solved.changed is None
    assert "limit" in solved.reason


def test_a_cure_that_gets_most_of_the_way_says_how_far(formula, knowledge):
    entry, now = knowledge.measures["mixing_hydration"], hydration(formula)
    reach = hydration(dial(formula, 150, 250).turn(250, None).formula)
    near = aim(now + (reach - now) * 1.2, 70, now + (reach - now) * 1.4)
    partly = solve_partly(dial(formula, 150, 250), near, hydration, now, entry)
    assert partly.changed is not None
    assert "not all the way" in partly.note
    assert partly.done == pytest.approx(1 / 1.2, abs=0.01)
    far = aim(now + (reach - now) * 4, 70, now + (reach - now) * 4.2)
    assert solve_partly(dial(formula, 150, 250), far, hydration, now, entry).changed is None


def test_no_kitchen_weighs_so_finely(formula):
    solved = solve(dial(formula, 0, 600), aim(60.301, 60.309, 60.305), hydration)
    assert solved.changed is None
    assert "kitchen" in solved.reason


def test_pieces_stay_whole(knowledge):
    formula = read_formula_text("200 g almond flour\n2 large eggs", knowledge)
    eggs = Dial(
        kind="amount", now=100.0, lowest=0, highest=400, piece=50.0,
        turn=lambda x, step: scale_lines(formula, WATER, x / 100, step),
    )  # fmt: skip
    solved = solve(eggs, aim(102, 130, 106), lambda f: 100 * f.grams_of("whole_egg") / 200)
    # 4.24 eggs: four would fall short of the band
    assert 250 == solved.setting
    assert 5 == solved.changed.formula.lines[1].counted


def test_a_measure_without_value_has_no_solution(formula):
    assert solve(dial(formula, 0, 600), aim(60, 70, 62), lambda f: None).changed is None


def test_the_reader_gives_what_the_models_give(formula, knowledge, advisor):
    found = advisor.examiner.examine(formula, after_bake=False)
    for name in ("mixing_hydration", "baked_water_load", "specific_volume", "core_set_min", "slice_g"):
        read = measure_reader(name, found.inference.structures, None, knowledge)
        assert found.situation.measures[name] == pytest.approx(read(formula)), name


def test_a_shortfall_is_read_against_its_edge(formula, knowledge):
    weights = {"kneaded_gluten": 1.0}
    volume = measure_reader("specific_volume", weights, None, knowledge)(formula)
    assert 9 - volume == pytest.approx(measure_reader("lift_shortfall", weights, 9.0, knowledge)(formula))
    assert 0 == measure_reader("lift_shortfall", weights, 0.1, knowledge)(formula)
    assert measure_reader("lift_shortfall", weights, None, knowledge)(formula) is None


def test_a_dial_keeps_to_the_lever_s_limits_and_direction(formula, knowledge):
    """The lever's own limits, and of a dough of gluten the least water that it keeps in one step."""
    cut, more = knowledge.levers["cut-water"], knowledge.levers["more-water"]
    kept = knowledge.sanity["water-that-a-dough-keeps"]
    assert cut.limits.at_least_fraction < kept.at_least_fraction and "kneaded_gluten" in kept.structures
    down, up = (dial_for(lever, formula, {"kneaded_gluten": 1.0}, knowledge) for lever in (cut, more))
    assert (200 * kept.at_least_fraction, 200) == pytest.approx((down.lowest, down.highest))
    assert (200, 200 * more.limits.at_most_fraction) == pytest.approx((up.lowest, up.highest))
    batter = dial_for(cut, formula, {"egg_set": 1.0}, knowledge)
    assert (200 * cut.limits.at_least_fraction, 200) == pytest.approx((batter.lowest, batter.highest))


def test_there_is_no_dial_for_what_is_not_there(knowledge):
    dry = read_formula_text("500 g bread flour\n300 g whole milk", knowledge)
    assert dial_for(knowledge.levers["cut-water"], dry, {"kneaded_gluten": 1.0}, knowledge) is None
