"""Process lines of oven and pan reach the bake: what is written is what the loaf meets."""

from __future__ import annotations

import pytest

from advisor.formula.reading import read_formula_text
from advisor.models.dough.assumptions import fill_defaults

LOAF = (
    "Loaf\n180 g vital wheat gluten\n100 g almond flour\n4 eggs\n150 g water\n10 g baking powder\n5 g salt\n"
    "pan: 25 x 10 x 10 cm\nslices: 16\n"
)
OVEN = "oven: 175 C for 70 min"


@pytest.fixture
def measured(knowledge, advisor):
    def of(text):
        formula = read_formula_text(text, knowledge)
        found = advisor.examiner.examine(formula, after_bake=False).workings.measures
        return {name: m.value for name, m in found.by_id.items()}, found.assumed

    return of


@pytest.mark.parametrize(
    "line",
    [
        "oven: 175 C for 70 min from cold",
        f"{OVEN}\nopened at: 20 min for 60 s",
        f"{OVEN}\noven runs: 15 C cool",
        f"{OVEN}\npan material: glass",
        f"{OVEN}\npan material: shiny metal",
    ],
)
def test_what_slows_an_oven_sets_later(line, measured):
    assert measured(LOAF + line)[0]["core_set_min"] > measured(LOAF + OVEN)[0]["core_set_min"] + 0.5


def test_oven_off_its_dial_bakes_as_it_is(measured):
    off, said = measured(LOAF + "oven: 175 C for 70 min\noven runs: 10 C hot")
    true, _ = measured(LOAF + "oven: 185 C for 70 min")
    assert off["core_set_min"] == pytest.approx(true["core_set_min"])
    assert "{185 C} in the oven, {175 C} on its dial" in said


def test_door_of_unstated_length_says_what_it_took(measured):
    assert any("the door open for 20 s" in s for s in measured(LOAF + f"{OVEN}\nopened at: 20 min")[1])
    assert not any("the door open" in s for s in measured(LOAF + f"{OVEN}\nopened at: 20 min for 9 s")[1])


def test_tented_loaf_browns_less(measured):
    tented, plain = (measured(LOAF + OVEN + more)[0] for more in ("\ntented at: 30 min", ""))
    assert tented["crust_browning"] < plain["crust_browning"] - 0.05


def test_cup_of_a_muffin_tin_bakes_as_a_small_round_tin(measured, knowledge):
    muffins = LOAF.replace("pan: 25 x 10 x 10 cm\nslices: 16\n", "pan: muffin tin 12 x 7 cm\n") + OVEN
    found, said = measured(muffins)
    with_defaults = fill_defaults(read_formula_text(muffins, knowledge), knowledge)
    assert (12, "round", 1) == (with_defaults.pieces, with_defaults.pan_kind, with_defaults.slices)
    assert "12 pieces, one a cup" in said
    assert found["core_set_min"] < 0.6 * measured(LOAF + OVEN)[0]["core_set_min"]
    assert found["slice_g"] < found["dough_g"] / 12


def test_half_filled_muffin_tin_makes_what_the_formula_counts(knowledge):
    text = LOAF.replace("pan: 25 x 10 x 10 cm\nslices: 16\n", "pan: muffin tin 12 x 7 cm\nloaves: 8\n") + OVEN
    assert 8 == fill_defaults(read_formula_text(text, knowledge), knowledge).pieces


def test_thicker_flat_bread_bakes_longer(measured):
    text = LOAF.replace("pan: 25 x 10 x 10 cm\nslices: 16\n", "slices: 4\npan: flat {} cm\n") + OVEN
    thin, thick = (measured(text.format(cm))[0]["core_set_min"] for cm in (1.5, 3))
    assert thick > 1.4 * thin


def test_bake_knows_when_the_loaf_can_be_sliced(knowledge, advisor):
    def cooling(more):
        formula = read_formula_text(LOAF + OVEN + more, knowledge)
        return advisor.examiner.examine(formula, after_bake=False).workings.bake.cooling

    plain, in_pan = cooling(""), cooling("\ncooled in pan: 30 min")
    assert 60 < plain.sliceable_after_min < in_pan.sliceable_after_min < 240
    assert 90 < plain.start_c < 101


@pytest.mark.parametrize(
    "line",
    [
        "oven: 200 C for 20 min, then 165 C for 50 min",
        "oven: 175 C for 30 min with lid, then 175 C for 40 min without lid",
    ],
)
def test_oven_steps_reach_the_bake(line, measured, knowledge):
    formula = read_formula_text(LOAF + line, knowledge)
    assert len(formula.process.oven_steps) == 2
    stepped = measured(LOAF + line)[0]
    plain = measured(LOAF + f"oven: {formula.process.oven_c} C for 70 min")[0]
    assert abs(stepped["core_set_min"] - plain["core_set_min"]) > 0.3
