"""A list in one line whose rows end in full stops, name before amount."""

from __future__ import annotations

from advisor import load_knowledge
from advisor.formula.reading import read_formula_text


def test_an_amount_behind_a_comma_belongs_to_the_name_in_front_of_it() -> None:
    text = (
        "Plaited loaf\n\nWheat gluten, 1 1/2 cups. Oat fibre, 1/4 cup. Salt, 1 tsp. One packet instant yeast. "
        "Warm water, 1 cup. An egg.\n\nProve 60 min. Bake 180 C 35 min."
    )
    lines = read_formula_text(text, load_knowledge(), name="x", region="us").lines
    grams = {line.ingredient.name: line.grams for line in lines}
    assert set(grams) == {"vital wheat gluten", "oat fibre", "salt", "instant yeast", "water", "whole egg"}
    assert 4 < grams["salt"] < 8
    assert 10 < grams["oat fibre"] < 30


def test_two_rows_and_a_sentence_stay_as_they_are() -> None:
    text = "Loaf\n\n200 g wheat gluten, 60 g oat fibre, 5 g salt, 6 g instant yeast, 220 g water.\n\nBake 180 C 35 min."
    grams = {
        line.ingredient.name: line.grams for line in read_formula_text(text, load_knowledge(), name="x").lines
    }
    assert grams["oat fibre"] == 60
    assert grams["salt"] == 5
