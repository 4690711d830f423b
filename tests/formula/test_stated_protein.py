"""A flour's line may state its protein, and then that counts."""

from __future__ import annotations

import pytest

from advisor import load_knowledge
from advisor.formula.reading import read_formula_text

REST = "\n310 g water\n6 g instant yeast\n"


@pytest.mark.parametrize(
    ("line", "protein"),
    [
        ("500 g bread flour (10 % protein)", 10),
        ("500 g wheat flour, 14% protein", 14),
        ("500 g flour, protein 9.5 %", 9.5),
        ("500 g bread flour, 13,5 % protein", 13.5),
    ],
)
def test_stated_protein_takes_the_place_of_starch(line: str, protein: float) -> None:
    formula = read_formula_text("Bread\n" + line + REST, load_knowledge(), name="x")
    flour = formula.lines[0].ingredient
    plain = load_knowledge().ingredients[flour.id].per_100g
    assert protein == flour.per_100g.protein
    assert plain.protein + plain.starch == pytest.approx(flour.per_100g.protein + flour.per_100g.starch)
    assert any("as the line says" in said for said in formula.assumed)


@pytest.mark.parametrize("line", ["500 g bread flour, 40 % protein", "500 g rice flour (8 % protein)"])
def test_what_is_no_protein_of_a_wheat_flour_changes_nothing(line: str) -> None:
    flour = read_formula_text("Bread\n" + line + REST, load_knowledge(), name="x").lines[0].ingredient
    assert load_knowledge().ingredients[flour.id] == flour
