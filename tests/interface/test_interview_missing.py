"""What a formula leaves out is asked before anything else, in the baker's words, and stands in the formula after it."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from advisor import load_knowledge
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.interface.desk.baker_measures import BakersMeasures
from advisor.interface.desk.prompting import Prompter
from advisor.interface.interview.interview_missing import ask_for_missing
from advisor.interface.interview.interview_talk import Talk
from advisor.interface.interview.interview_ticks import Quit

KNOWLEDGE = load_knowledge()
DOUGH = "Seed loaf\n150 g vital wheat gluten\n60 g almond flour\n4 eggs\n{water}\n7 g instant yeast\n"


class Typist(Prompter):
    """Types the lines that it was given, and keeps what was said."""

    def __init__(self, lines: Sequence[str]) -> None:
        super().__init__()
        self.left = list(lines)
        self.said: list[str] = []

    def say(self, text: str = "") -> None:
        self.said.append(text)

    def line(self, prompt: str, *, words: Sequence[str] = ()) -> str:
        return self.left.pop(0)


def told(*lines: str, water: str = "150 g water") -> tuple[Formula, Typist]:
    typist = Typist(lines)
    talk = Talk(typist, KNOWLEDGE, BakersMeasures(), None)
    formula = ask_for_missing(talk, read_formula_text(DOUGH.format(water=water), KNOWLEDGE), "us")
    assert not typist.left, "everything that was typed was asked for"
    return formula, typist


@pytest.mark.parametrize(
    ("heat", "minutes", "oven_c"),
    [
        ("180 C", "50", 180),
        ("350", "50 minutes", 176.7),
        ("350 F", "50 min", 176.7),
        ("gas mark 4", "50", 177),
    ],
)
def test_heat_and_minutes_are_read_as_bakers_say_them(heat: str, minutes: str, oven_c: float) -> None:
    formula, _ = told(heat, minutes, "", "")
    assert pytest.approx(oven_c, abs=4) == formula.process.oven_c
    assert pytest.approx(50) == formula.process.bake_min


def test_one_answer_may_hold_two() -> None:
    formula, typist = told("180 C for an hour", "free-standing", "straight away")
    assert (180, 60, "free_standing", 0) == (
        formula.process.oven_c, formula.process.bake_min, formula.process.pan_kind, formula.process.sliced_after_min,
    )  # fmt: skip
    assert not any("How long is it baked" in said for said in typist.said)


@pytest.mark.parametrize("unknown", ["", "?", "dunno", "idk", "no idea", "skip"])
def test_what_is_not_known_stays_open(unknown: str) -> None:
    formula, _ = told(unknown, unknown, unknown, unknown)
    assert formula.process.oven_c is None
    assert ["oven_c", "bake_min", "pan_kind", "sliced_after_min"] == [one.field for one in formula.asked]


def test_water_without_a_weight_is_asked_first() -> None:
    formula, typist = told("160", "180 C for 50 min", "rolls", "", water="water")
    assert pytest.approx(160) == formula.grams_of("water")
    assert "How much water?" in typist.said


def test_back_takes_the_last_answer_back() -> None:
    formula, _ = told("180 C", "back", "200 C", "50", "", "")
    assert 200 == formula.process.oven_c


def test_what_cannot_be_read_is_asked_again_with_an_example() -> None:
    formula, typist = told("as usual", "180 C for 50 min", "", "")
    assert 180 == formula.process.oven_c
    assert any("oven: 175 C for 60 min" in said for said in typist.said)


def test_quit_leaves() -> None:
    with pytest.raises(Quit):
        told("quit")
