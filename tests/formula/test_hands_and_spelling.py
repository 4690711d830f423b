"""Measures by hand, packings and counts in words are stated guesses; a letter off is read and said."""

from __future__ import annotations

import pytest

from advisor import load_knowledge
from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text


def reading(text: str) -> Formula:
    return read_formula_text(text, load_knowledge())


@pytest.mark.parametrize(
    ("text", "ingredient", "low", "high"),
    [
        ("handful of pumpkin seeds", "pumpkin_seeds", 15, 60),
        ("2 big handfuls walnuts", "walnut_meal", 30, 90),
        ("a knob of butter", "butter", 8, 30),
        ("a splash of milk", "whole_milk", 5, 40),
        ("a good glug of olive oil", "olive_oil", 10, 45),
        ("drizzle of honey", "honey", 5, 30),
        ("sprinkle of sesame seeds", "sesame_seeds", 1, 15),
        ("a dollop of sour cream", "sour_cream", 15, 60),
        ("2 scoops unflavoured whey isolate", "whey_isolate", 40, 80),
        ("1 tin of coconut milk", "coconut_milk", 160, 425),
        ("half a bag of mozzarella", "mozzarella_low_moisture", 75, 500),
        ("1 packet mozzarella", "mozzarella_low_moisture", 100, 300),
    ],
)
def test_a_measure_by_hand_is_a_stated_guess_with_its_range(
    text: str, ingredient: str, low: float, high: float
) -> None:
    formula = reading(f"Loaf\n100 g vital wheat gluten\n{text}")
    assert ingredient == formula.lines[1].ingredient.id
    assert low <= formula.lines[1].grams <= high
    assert any("is a guess" in said and "it may be" in said for said in formula.assumed)
    assert () == formula.warnings


@pytest.mark.parametrize(
    ("text", "count"), [("a couple of eggs", 2), ("a few large eggs", 3), ("a dozen eggs", 12)]
)
def test_a_count_in_words(text: str, count: int) -> None:
    assert count == reading(f"Loaf\n100 g vital wheat gluten\n{text}").lines[1].counted


def test_a_packet_that_has_its_own_weight_is_no_guess() -> None:
    formula = reading("Loaf\n100 g vital wheat gluten\n1 packet yeast\n1 can (200 g) tuna")
    assert [7, 200] == [line.grams for line in formula.lines[1:]]
    assert not any("guess" in said for said in formula.assumed)


@pytest.mark.parametrize(
    ("text", "ingredient"),
    [
        ("50 g mozarella", "mozzarella_low_moisture"),
        ("20 g psylium husk", "psyllium_husk"),
        ("5 g xantham gum", "xanthan"),
        ("30 g erithrytol", "erythritol"),
        ("vital weat gluten 100 g", "vital_wheat_gluten"),
        ("a pinch of xantham", "xanthan"),
    ],
)
def test_a_letter_off_is_read_and_said(text: str, ingredient: str) -> None:
    formula = reading(f"Loaf\n100 g vital wheat gluten\n{text}")
    assert ingredient == formula.lines[1].ingredient.id
    assert any("is read as" in said for said in formula.assumed)


@pytest.mark.parametrize("name", ["moose", "sorbet", "zorblax", "lupine flower"])
def test_a_name_that_is_no_misspelling_is_not_guessed(name: str) -> None:
    with pytest.raises(FormulaFault, match="no ingredient is called"):
        reading(f"Loaf\n100 g vital wheat gluten\n50 g {name}")
