"""Tables: headings are understood, totals are no ingredients, and several formulas are never added up."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor import load_knowledge
from advisor.api.sources import sources_of
from advisor.formula.faults import FormulaFault
from advisor.formula.files import file_and_part, formula_from_file, parts_of_file
from advisor.formula.formula import Formula
from advisor.formula.lines.formula_tables import formulas_in_table
from advisor.formula.reading import read_formula_text

KNOWLEDGE = load_knowledge()
LONG = (
    "formula,ingredient,grams\nA,vital wheat gluten,150\n,water,180\nB,vital wheat gluten,150\nB,water,240\n"
)
WIDE = "Ingredient,Trial 1,Trial 2\nvital wheat gluten,150,150\nwater,180,200\nsalt,,4\n"


def grams(text: str) -> dict[str, float]:
    return {x.ingredient.id: round(x.grams, 1) for x in reading(text).lines}


def reading(text: str) -> Formula:
    return read_formula_text(text, KNOWLEDGE)


@pytest.mark.parametrize(
    "text",
    [
        "ingredient,grams,notes\nvital wheat gluten,150,\nwater,200,warm\n",
        "Ingredient\tAmount (g)\tBaker's %\nvital wheat gluten\t150\t100%\nwater\t200\t133%\nTotal\t350\t233%\n",
        "Item;Weight;Comment\nvital wheat gluten;150;\nwater;200;\nGrand total;350;\n",
        "| Ingredient | Qty |\n|---|---:|\n| vital wheat gluten | 150 g |\n| water | 200 g |\n| **Total** | 350 g |\n",
        '"Ingredient","Grams","Notes"\n"vital wheat gluten","150","sifted, fresh"\n"water","200",""\n',
        "ingredient | %\nvital wheat gluten | 75\nwater | 100\nbase: 200 g\n",
        "Material,kg,% of total\nvital wheat gluten,0.15,43\nwater,0.2,57\nSum,0.35,100\n",
    ],
)
def test_headings_are_understood_and_totals_are_no_ingredients(text: str) -> None:
    assert {"vital_wheat_gluten": 150, "water": 200} == grams(text)


def test_rows_of_process_are_read() -> None:
    table = "Ingredient,Grams\nvital wheat gluten,150\nwater,180\nprocess,value\nproof,60 min\noven,175 C for 55 min\n"
    process = reading(table).process
    assert (60, 175, 55) == (process.proof_min, process.oven_c, process.bake_min)


@pytest.mark.parametrize(("table", "names"), [(LONG, ["A", "B"]), (WIDE, ["Trial 1", "Trial 2"])])
def test_a_table_of_several_formulas_is_taken_apart_and_never_added_up(table: str, names: list[str]) -> None:
    parts = formulas_in_table(table)
    assert names == [part.name for part in parts]
    assert 180 == grams(parts[0].text)["water"]
    assert grams(parts[1].text)["water"] > 180


def test_a_table_that_names_a_formula_in_each_row_is_asked_back() -> None:
    with pytest.raises(FormulaFault, match="the table holds 2 formulas"):
        reading(LONG)


SIDE_BY_SIDE = {
    "tabs": "Buns{said}\n\n\tA\tB\nalmond flour, g\t150\t160\negg white, g\t100\t110\n"
    "hot water, g\t180\t220\n"
    "salt g\t-\t3\noven, C\t175\t180\nmin\t55\t60\n",
    "bars": "Buns{said}\n\n| | A | **B** |\n|---|---|---|\n| Almond flour | 150 g | 160 g |\n"
    "| Egg white | 100 g | 110 g |\n"
    "| hot water | 180 g | 220 g |\n| salt | | 3 g |\n| Oven | 175 °C | 180 °C |\n",
    "gaps": "Buns{said}\n                A     B\nalmond flour    150 g   160 g\negg white     100 g  110 g\n"
    "hot water     180 g   220 g\nsalt    -   3 g\noven    175 C   180 C\n",
    "slashes": "Buns{said}\nA / B\nalmond flour 150 / 160 g\negg white 100 / 110 g\nhot water 180 / 220 g\n"
    "salt 0 / 3 g\n"
    "oven 175 / 180 C\n",
}


@pytest.mark.parametrize("shape", SIDE_BY_SIDE)
@pytest.mark.parametrize(
    ("said", "second"),
    [("", False), (", B is the keeper", True), (" (only B was baked)", True), (". A note on bread", False)],
)
def test_of_formulas_side_by_side_one_is_read_and_the_others_are_named(
    shape: str, said: str, *, second: bool
) -> None:
    formula = reading(SIDE_BY_SIDE[shape].format(said=said))
    wanted = {"almond_flour": 160, "egg_white": 110, "water": 220, "salt": 3}
    if not second:
        wanted = {"almond_flour": 150, "egg_white": 100, "water": 180}
    assert wanted == {line.ingredient.id: line.grams for line in formula.lines}
    assert (180 if second else 175) == formula.process.oven_c
    other = "A" if second else "B"
    assert any(f"left aside: '{other}'" in w and f"'only {other} was baked'" in w for w in formula.warnings)


@pytest.mark.parametrize(
    "text",
    [
        "Loaf\n150 g / 5.3 oz gluten\n200 g / 7 oz water\n5 g / 1 tsp salt\n",
        "Loaf\nPos\tRaw material\tkg\t%\n1\tgluten\t0,150\t100\n"
        "\tSum dry\t0,150\t100\n2\twater\t0,200\t133\n3\tsalt\t0,005\t3\n",
    ],
)
def test_one_amount_in_two_units_or_with_its_share_is_one_formula(text: str) -> None:
    formula = reading(text)
    assert [150, 200] == [round(line.grams) for line in formula.lines[:2]]
    assert not any("side by side" in w for w in formula.warnings)


def test_a_folder_and_a_name_behind_the_file_give_each_formula(tmp_path: Path) -> None:
    path = tmp_path / "two.csv"
    path.write_text(LONG)
    (tmp_path / "results.csv").write_text("bake,height_cm\n1,9.5\n")
    assert ("A", "B") == parts_of_file(path)
    assert [f"{path}#A", f"{path}#B"] == [source.name for source in sources_of([str(tmp_path)], KNOWLEDGE)]
    assert (path, "B") == file_and_part(f"{path}#B")
    assert "B" == formula_from_file(path, KNOWLEDGE, part="B").name
    with pytest.raises(FormulaFault, match="it holds A, B"):
        formula_from_file(path, KNOWLEDGE, part="C")


def test_a_title_that_stands_twice_is_asked_back() -> None:
    with pytest.raises(FormulaFault, match="two formulas in one text"):
        reading("Loaf A\n150 g gluten\n180 g water\n\nLoaf A\n150 g gluten\n200 g water\n")


def test_a_spreadsheet_without_its_library_or_that_is_none_is_one_clear_line(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(b"PK no spreadsheet")
    with pytest.raises(FormulaFault, match=r"save (it|the sheet) as CSV"):
        formula_from_file(path, KNOWLEDGE)


def test_a_column_says_of_how_many_loaves_it_has_the_weights() -> None:
    rows = "Ingredient\t% (dry base)\t1 loaf, g\t20 loaves, kg\nVital wheat gluten\t60\t180\t3.6\n"
    rows += "Oat fibre\t40\t120\t2.4\n"
    assert {"vital_wheat_gluten": 180.0, "oat_fibre": 120.0, "water": 300.0} == grams(
        f"{rows}Water\t100\t300\t6.0\n"
    )


def test_a_column_of_shares_alone_is_of_the_dough_that_the_text_tells() -> None:
    rows = "component\tpct\nVital wheat gluten\t60\nOat fibre\t40\nWater\t100\n"
    assert {"vital_wheat_gluten": 150.0, "oat_fibre": 100.0, "water": 250.0} == pytest.approx(
        grams(f"{rows}Calculate for 500 g dough.\n")
    )
    assert 500 == grams(rows)["water"]


@pytest.mark.parametrize("heading", ["% on dry", "% of flour", "baker's %"])
def test_a_column_of_shares_by_any_name_leaves_the_weights_to_the_other(heading):
    text = (
        f"Batard\n\n                      g      {heading}\n"
        "Vital gluten         180     59\nOat fibre             50     16\n"
        "Water 32 C           320    105\n\nMix 4 min. Bake 220 C 30 min.\n"
    )
    lines = read_formula_text(text, load_knowledge(), name="x").lines
    assert {line.ingredient.name: round(line.grams) for line in lines} == {
        "vital wheat gluten": 180, "oat fibre": 50, "water": 320,
    }  # fmt: skip


@pytest.mark.parametrize(
    "blend", ["wheat flour 85 / whole rye 15 = 1000 g", "wheat flour 85 % + whole rye 15 % = 100 % = 1 kg"]
)
def test_a_blend_that_adds_up_to_a_hundred_is_the_base_of_the_rows_below_it(blend: str) -> None:
    formula = reading(f"Batch\n{blend}\nwater 78\nlevain 20\nsalt 2,1\n")
    assert [850, 150, 780, 200, 21] == [round(line.grams) for line in formula.lines]


def test_parts_that_do_not_add_up_to_a_hundred_are_no_blend_in_per_cents() -> None:
    assert 500 == reading("Batch\nwheat flour 500 g\nwater 350 g\nsalt 10 g\n").lines[0].grams
