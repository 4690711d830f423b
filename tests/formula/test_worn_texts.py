"""Scanned cards, lists in one line, parts in prose: what was meant is read, and what is not known is named."""

from __future__ import annotations

import pytest

from advisor.formula.reading import read_formula_text
from advisor.knowledge_base.knowledge import Knowledge


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("CARD\nSoya f1our . . . . . . 12O g.\nWheat g1uten . . . . 6O g.\nSa1t . . . . 5 g.\nWater . . . . 1OO g.",
         {"wheat": 60, "salt": 5, "water": 100}),
        ("Rolls\nquark 250, eggs 3, gluten 60, wheat bran 30, salt 5", {"wheat": 60, "salt": 5, "quark": 250}),
        ("Note. 200 g gluten new line 100 g water new line 5 g salt new line 7 g instant yeast",
         {"wheat": 200, "water": 100, "salt": 5}),
        ("Loaf\nNight before: 100 g bread flour + 100 g water.\nNext day add 200 g bread flour, "
         "80 g vital wheat gluten, 8 g salt, 200 g water.", {"bread": 300, "water": 300, "wheat": 80}),
        ("Blend   g   %\nVital wheat gluten   210   52.5\nFresh yeast   16   4.0\nEgg   50   12.5",
         {"wheat": 210, "fresh": 16, "egg": 50}),
        ("Bread\ngluten of wheat 150 g\nflour of almond 80 g\nwater 200 g", {"wheat": 150, "water": 200}),
        ("Bread, base 400 g\nvital wheat gluten 50%\noat fibre 20%\nwater 75%", {"wheat": 200, "water": 300}),
        ("Dough for 4 balls of 250 g\nbread flour 100%\nwater 60%\nsalt 2%\nolive oil 3%\nbutter 35%",
         {"bread": 500, "water": 300}),
    ],
)  # fmt: skip
def test_what_was_meant_is_read(knowledge: Knowledge, text: str, grams: dict[str, float]) -> None:
    formula = read_formula_text(text, knowledge)
    ids = {"wheat": "vital_wheat_gluten", "bread": "bread_flour", "fresh": "fresh_yeast", "egg": "whole_egg"}
    assert grams == {name: pytest.approx(formula.grams_of(ids.get(name, name)), rel=0.01) for name in grams}


@pytest.mark.parametrize("written", ["silium husks", "sylium husk"])
def test_a_name_near_a_known_one_is_no_other_kind(knowledge: Knowledge, written: str) -> None:
    try:
        formula = read_formula_text(f"Loaf\n200 g gluten\n200 g water\n40 g {written}", knowledge)
    except Exception as fault:
        assert "psyllium" in str(fault)
    else:
        assert "psyllium" in formula.lines[-1].ingredient.id


@pytest.mark.parametrize(
    "title",
    ["100 % wholemeal tin", "Two spoons of the south", "Bread, base 400 g", "Rolls x 6", "Bread for 2"],
)
def test_a_first_line_is_no_reason_to_refuse(knowledge: Knowledge, title: str) -> None:
    formula = read_formula_text(f"{title}\n200 g vital wheat gluten\n200 g water\n4 g salt", knowledge)
    assert 3 == len(formula.lines)


@pytest.mark.parametrize("written", ["salted pork rinds", "tasty cheddar", "ripe rye sour"])
def test_words_for_a_state_are_no_other_food(knowledge: Knowledge, written: str) -> None:
    formula = read_formula_text(f"Loaf\n200 g gluten\n200 g water\n40 g {written}", knowledge)
    assert 3 == len(formula.lines)
