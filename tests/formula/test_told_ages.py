"""How old a leavening is, by a sentence beside the list; what is fresh, or only advised about, is not old."""

from __future__ import annotations

import pytest

from advisor import load_knowledge
from advisor.formula.reading import read_formula_text

LOAF = """Loaf
200 g wheat gluten
60 g oat fibre
5 g instant yeast
8 g baking powder
230 g water
proof: 60 min
oven: 180 C for 45 min
"""


def ages(sentence: str) -> dict[str, float]:
    formula = read_formula_text(f"{LOAF}\n{sentence}\n", load_knowledge(), name="x")
    return {line.ingredient.name: round(line.age_months) for line in formula.lines if line.age_months}


@pytest.mark.parametrize(
    ("sentence", "months"),
    [
        ("The yeast was opened two years ago.", {"instant yeast": 24}),
        ("Note: yeast from a jar bought 18 months ago", {"instant yeast": 18}),
        ("I used the old tin of baking powder.", {"baking powder": 24}),
        ("Used the baking powder from an old tin.", {"baking powder": 24}),
        ("The powder is three years past its date.", {"baking powder": 36}),
        ("My yeast did not foam in warm sugar water.", {"instant yeast": 48}),
        ("Yeast is out of date, powder is new.", {"instant yeast": 24}),
        ("The yeast is fresh, opened last week.", {}),
        ("Check that the yeast is not too old.", {}),
        ("Let it stand two hours, the dough is a day old.", {}),
    ],
)
def test_an_age_that_is_told_goes_to_the_leavening_that_is_meant(
    sentence: str, months: dict[str, int]
) -> None:
    assert ages(sentence) == months


def test_what_its_own_line_says_of_an_age_stays() -> None:
    text = (
        LOAF.replace("8 g baking powder", "8 g baking powder, opened 8 months ago")
        + "\nThe powder is 3 years old.\n"
    )
    formula = read_formula_text(text, load_knowledge(), name="x")
    assert [round(line.age_months) for line in formula.lines if line.age_months] == [8]


def test_it_says_what_was_taken_and_not_that_it_was_passed_over() -> None:
    formula = read_formula_text(
        f"{LOAF}\nNote: the yeast was opened 18 months ago.\n", load_knowledge(), name="x"
    )
    assert any("age of instant yeast: 18 months" in said for said in formula.assumed)
    assert not [said for said in formula.warnings if "18 months" in said or "not read" in said]
