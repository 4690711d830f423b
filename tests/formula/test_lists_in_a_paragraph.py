"""Formulas listed in a paragraph: where a list ends, rows of either order, and what must not be lost on the way."""

from __future__ import annotations

import pytest

from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text, report_on_text
from advisor.knowledge_base.knowledge import Knowledge


def _grams(formula: Formula) -> dict[str, float]:
    return {line.ingredient.id: round(line.grams, 1) for line in formula.lines}


@pytest.mark.parametrize(
    ("text", "last", "mix_min"),
    [
        ("Batter bread. Rye 200g, salt 5g, yeast 4g, buttermilk 260g. Quick mix 2 min. 190C 30 min.", "buttermilk", 2),
        ("Wraps: gluten 120 g, oat fibre 40 g, salt 3 g, water 140 g. knead 4 min. dry pan 1 min a side", "water", 4),
        ("Bagel dough x 6: bread flour 400g, water 220g, salt 8 g, instant yeast 3 g. knead 9 min", "instant_yeast", 9),
        ("Half rye, 2lb tin: rye 200g, bread flour 250g, water 330g, oil 12g. Knead 8, rise 1 h", "sunflower_oil", 8),
        ("Hearth loaf. bread flour 400, rye 60, water 320, ripe starter 90, salt 9. Mix 5 min, bulk 4 h at 25C.",
         "salt", 5),
    ],
)  # fmt: skip
def test_the_last_of_a_list_is_not_lost_to_the_sentence_behind_it(
    knowledge: Knowledge, text: str, last: str, mix_min: float
) -> None:
    read = read_formula_text(text, knowledge)
    assert last == read.lines[-1].ingredient.id
    assert mix_min == read.process.mix_min


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Crackers\nalmond flour 150 g, sesame 30 g, 1 egg, olive oil 8 g, salt 3 g",
         {"almond_flour": 150, "sesame_seeds": 30, "whole_egg": 50, "olive_oil": 8, "salt": 3}),
        ("Buns\ngluten 110, ground almonds 50, oat fibre 25, dry yeast 5, salt 3, egg white 33, oil 9",
         {"vital_wheat_gluten": 110, "almond_meal": 50, "oat_fibre": 25, "active_dry_yeast": 5, "salt": 3,
          "egg_white": 33, "sunflower_oil": 9}),
        ("Buns\nVWG 140 / almond flour 90 / oat fiber 35 / salt 5 / inst. yeast 6 / sugar 7 / eggs 100 (2) / "
         "soft butter 35 / water 180 @ 105F",
         {"vital_wheat_gluten": 140, "almond_flour": 90, "oat_fibre": 35, "salt": 5, "instant_yeast": 6, "sugar": 7,
          "whole_egg": 100, "butter": 35, "water": 180}),
        ("Clouds: 4 eggs (room temp), separated; 110g soft cream cheese; 1/4 tsp cream of tartar; pinch salt. "
         "Bake at 150C 25 min.",
         {"whole_egg": 200, "cream_cheese": 110, "cream_of_tartar": 0.8, "salt": 0.4}),
        ("Shell\nwhite rice flour 150, tapioca starch 100, salt 6, instant yeast 5, oil 18, water 100F 300. grams",
         {"rice_flour": 150, "tapioca_starch": 100, "salt": 6, "instant_yeast": 5, "sunflower_oil": 18, "water": 300}),
        ("Rings, 5. % on dry (200 g): gluten 60, almond flour 25, oat fibre 15, water 70, oil 4, salt 2. Knead 6 min",
         {"vital_wheat_gluten": 120, "almond_flour": 50, "oat_fibre": 30, "water": 140, "sunflower_oil": 8, "salt": 4}),
        ("Brioche\nGluten 150, almond flour 120, honey 10, eggs 4 (200 g), milk 110 warm, soft butter 90. All grams.",
         {"vital_wheat_gluten": 150, "almond_flour": 120, "honey": 10, "whole_egg": 200, "whole_milk": 110,
          "butter": 90}),
    ],
)  # fmt: skip
def test_rows_of_either_order_in_one_line(knowledge: Knowledge, text: str, wanted: dict[str, float]) -> None:
    assert {k: pytest.approx(v, abs=0.2) for k, v in wanted.items()} == _grams(
        read_formula_text(text, knowledge)
    )


@pytest.mark.parametrize(
    "beside",
    [
        "Filling: butter 60, brown sugar 90, cinnamon 8.",
        "FILLING butter 60, brown sugar 90, cinnamon 8",
        "Topping: 20 g sesame seeds",
        "Glaze:\n30 g honey\n10 g milk",
        "For the topping\n25 g sesame seeds",
    ],
)
def test_what_goes_on_top_or_inside_is_not_counted_with_the_dough(knowledge: Knowledge, beside: str) -> None:
    dough = "Twists\nbread flour 300 g, water 180 g, salt 6 g, instant yeast 4 g\n"
    read = read_formula_text(dough + beside, knowledge)
    assert 4 == len(read.lines)
    assert any("not counted with the dough" in said for said in read.warnings)


def test_line_behind_a_topping_in_one_line_is_dough_again(knowledge: Knowledge) -> None:
    read = read_formula_text("Twists\n300 g bread flour\nTopping: 5 g sesame seeds\n180 g water", knowledge)
    assert [300, 180] == [line.grams for line in read.lines]


def test_a_large_unknown_is_asked_and_the_rest_is_read(knowledge: Knowledge) -> None:
    report = report_on_text(
        "Loaf\n200 g bread flour, 120 g water, 90 g moonflour\nBake at 200 C 30 min", knowledge
    )
    assert report.formula is None
    assert ["moonflour"] == [problem.fragment for problem in report.problems]
    assert report.rest is not None
    assert [200, 120] == [line.grams for line in report.rest.lines]
    assert 30 == report.rest.process.bake_min


def test_small_unknowns_are_left_out_although_a_large_one_is_asked(knowledge: Knowledge) -> None:
    report = report_on_text(
        "Loaf\n200 g bread flour\n120 g water\n1 g glimmerdust\n90 g moonflour", knowledge
    )
    assert ["moonflour"] == [problem.fragment for problem in report.problems]
    assert report.rest is not None
    assert any("glimmerdust" in said and "left out" in said for said in report.rest.warnings)


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("HPMC 2.4 % 12 g", {"hpmc": 12}),
        ("rice flour 60 % = 240 g", {"rice_flour": 240}),
        ("sugar 3 % 12 g, oil 5 % 20 g, salt 2 % 8 g", {"sugar": 12, "sunflower_oil": 20, "salt": 8}),
        ("Add flour of almonds (90) [180], psyllium (10) [20], salt (a pinch, 2) [4].",
         {"almond_flour": 90, "psyllium_powder": 10, "salt": 2}),
        ("BIGA (the night before): strong flour W300 90 g, water 45 g. Mix 3 min rough.",
         {"bread_flour": 90, "water": 45}),
        ("1/4 cup psyllium whole husk", {"psyllium_husk": 20}),
        ("eggs M 3", {"whole_egg": 132}),
        ("3 eggs, L", {"whole_egg": 150}),
        ("wholemeal 120g, plain 90g", {"whole_wheat_flour": 120, "all_purpose_flour": 90}),
        ("1/2 katori lentil flour", {"lentil_flour": 38}),
    ],
)  # fmt: skip
def test_amounts_beside_shares_in_brackets_and_odd_orders(
    knowledge: Knowledge, line: str, wanted: dict[str, float]
) -> None:
    read = read_formula_text(f"Loaf\n100 g soy flour\n{line}", knowledge)
    found = {entry.ingredient.id: entry.grams for entry in read.lines[1:]}
    assert {k: pytest.approx(v, rel=0.02) for k, v in wanted.items()} == found
