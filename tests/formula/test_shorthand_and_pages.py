"""Shorthand of a log, columns of a sheet, buttons of a page: each is read for what it holds."""

from __future__ import annotations

import pytest

from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.knowledge_base.knowledge import Knowledge


def _grams(formula: Formula) -> dict[str, float]:
    return {line.ingredient.id: round(line.grams, 1) for line in formula.lines}


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("LOAF 7\n                 %        kg\nGluten          60.0     0.900\nWater          90.0     1.350",
         {"vital_wheat_gluten": 900, "water": 1350}),
        ("Log, loaf 9\nWG 140  OF 60  H2O 200 @ 40  NaCl 5.5", {"water": 200, "salt": 5.5, "oat_fibre": 60}),
        ("Loaf\ngluten...... 2 c / 310\nwater...... 300 ml\negg white pwdr. 3 T / 24",
         {"vital_wheat_gluten": 310, "egg_white_powder": 24}),
        ("Loaf\n200 g gluten\nwheat bran 3 EL\n20 deca water", {"water": 200, "wheat_bran": 10.9}),
        ("Loaf\n200 g gluten\n2 eggs [or 3? smudged]\nlump of butter the size of a walnut\n150 g water",
         {"whole_egg": 100, "butter": 15}),
        ("Loaf\n200 g gluten\nwater 80%, = 160 g", {"water": 160}),
        ("Skip to recipe | Print | Save\n3-ingredient bread\n200 g gluten\n150 g water", {"water": 150}),
        ("| ingr | A | B |\n|---|---|---|\n| gluten | 50 | 150 |\n| pea fibre | 5 | - |\n| water | 90 | 170 |\n"
         "only B baked.", {"vital_wheat_gluten": 150, "water": 170}),
        ("so that was one hundred and fifty grams of gluten flower and fifty of the lupin and thirty grams oat fiber "
         "um five grams salt then two hundred and twenty grams of warm water no two hundred and thirty I put another "
         "splash in and I mixed it for eight minutes", {"vital_wheat_gluten": 150, "lupin_flour": 50, "water": 230}),
        ("Take two cups of gluten no sorry one cup of gluten half a cup of oat fibre and 200 g water.",
         {"vital_wheat_gluten": 130, "oat_fibre": 30}),
    ],
)  # fmt: skip
def test_amounts_are_those_that_were_meant(knowledge: Knowledge, text: str, grams: dict[str, float]) -> None:
    found = _grams(read_formula_text(text, knowledge))
    assert {name: found.get(name) for name in grams} == pytest.approx(grams, rel=0.15)
    assert "pea_fibre" not in found


def test_of_columns_of_which_none_is_told_the_first_is_read_and_said(knowledge: Knowledge) -> None:
    text = "| ingr | A | B |\n|---|---|---|\n| gluten | 50 | 150 |\n| water | 90 | 170 |"
    formula = read_formula_text(text, knowledge)
    assert {"vital_wheat_gluten": 50, "water": 90} == _grams(formula)
    assert any("'A' is read, as the first; left aside: 'B'" in said for said in formula.warnings)


@pytest.mark.parametrize(
    ("method", "field", "value"),
    [
        ("The centre should read 96 C.", "target_core_c", 96),
        ("Core 98 C measured.", "core_measured_c", 98),
        ("Core 97.1.", "core_measured_c", 97.1),
        ("Put it in a tin 25 x 11 cm, height 10 cm.", "pan_height_cm", 10),
        ("Put it in a tin 25 x 11 cm, height 10 cm.", "height_after_cm", None),
        ("Pat in a circle, 1 inch high.", "thickness_cm", 2.54),
        ("Score it in 4 cm squares.", "thickness_cm", None),
        ("Bake 20 min. Cut 16.", "sliced_after_min", None),
        ("Mix 2 + 7.", "mix_min", 9),
        ("Steam 1 hr 3/4.", "steam_min", 105),
        ("Griddle two and a half minutes a side.", "griddle_side_min", 2.5),
        ("Cut 15:20.", "pieces", None),
        ("Prep 10 min, bake 30 min, makes 6", "pieces", 6),
        ("Prep 10 min, bake 30 min, makes 6", "bake_min", None),
    ],
)
def test_a_number_has_the_meaning_of_its_words(
    knowledge: Knowledge, method: str, field: str, value: float | None
) -> None:
    formula = read_formula_text(f"Rolls\n200 g gluten\n150 g water\n{method}", knowledge)
    found = getattr(formula.process, field)
    assert found == (None if value is None else pytest.approx(value, abs=0.01))


def test_heat_and_minutes_of_a_bakers_note_are_steps(knowledge: Knowledge) -> None:
    formula = read_formula_text("Loaf\n200 g gluten\n150 g water\nOven 210/10 then 185/22.", knowledge)
    assert [(s.celsius, s.minutes) for s in formula.process.oven_steps] == [(210, 10), (185, 22)]
