"""Many formulas in, rows, CSV and a data frame out, with and without pandas; prices and panels by sheet."""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path

import pytest
from case_files import demo

import advisor
from advisor import check_many, load_knowledge
from advisor.api.many import csv_lines
from advisor.interface.commands.command_line import main
from advisor.knowledge_base.own_file import OwnFileFault
from advisor.knowledge_base.own_sheet import own_from_sheet

SOUND, WET = "canteen-sandwich-loaf", "canteen-sandwich-loaf-excess-water"
TABLE = "formula,ingredient,grams\nA,vital wheat gluten,100\nA,water,80\nB,almond flour,200\nB,eggs,150\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    formulas = load_knowledge().formulas
    (tmp_path / "a.txt").write_bytes(formulas[SOUND].read_bytes())
    (tmp_path / "b.txt").write_bytes(formulas[WET].read_bytes())
    (tmp_path / "c.txt").write_text("nothing here\n")
    (tmp_path / "d.csv").write_text(TABLE)
    return tmp_path


@pytest.fixture
def checks(folder: Path) -> advisor.Checks:
    return check_many(folder)


def test_a_folder_gives_a_row_a_formula(checks, folder):
    assert [0, 1, 2] == [one.exit for one in checks][:3]
    assert ["a.txt", "b.txt", "c.txt", "d.csv#A", "d.csv#B"] == [
        row["formula"][len(f"{folder}/") :] for row in checks.rows()
    ]
    assert "gummy middle" == checks.rows()[1]["symptom"]
    assert checks.rows()[2]["problems"] and checks.rows()[2]["dough_g"] is None
    assert len({tuple(row) for row in checks.rows()}) == 1
    assert len(repr(checks)) < 300 and "1 not read" in repr(checks)
    assert "<table" in checks._repr_html_()


def test_texts_formulas_and_names_may_be_mixed():
    found = check_many([SOUND, demo(WET), "Loaf\n100 g gluten\n80 g water\n"])
    assert [SOUND, demo(WET).name, "formula 3"] == [one.source for one in found]


def test_csv_reads_back(checks):
    rows = list(csv.DictReader(io.StringIO(checks.to_csv())))
    assert [row["formula"] for row in rows] == [row["formula"] for row in checks.rows()]
    assert float(rows[0]["dough_g"]) == pytest.approx(demo(SOUND).dough_g)
    assert ("no", "yes") == (rows[0]["no_all_clear"], rows[1]["no_all_clear"])


def test_no_cell_runs_in_a_spreadsheet():
    text = "".join(csv_lines([{"formula": "=1+1", "risk": -0.5, "cause": "@x"}]))
    assert "'=1+1,-0.5,'@x" in text


def test_a_data_frame_holds_the_rows(checks):
    pandas = pytest.importorskip("pandas")
    frame = checks.to_frame()
    assert isinstance(frame, pandas.DataFrame)
    assert list(checks.rows()[0]) == list(frame.columns)
    assert frame["exit"].tolist() == [one.exit for one in checks]
    assert list(check_many([]).to_frame().columns)[:2] == ["formula", "exit"]


def test_without_pandas_rows_are_there_and_the_frame_says_what_to_install(checks, monkeypatch):
    monkeypatch.setitem(sys.modules, "pandas", None)
    assert checks.rows()
    with pytest.raises(ImportError, match="frame"):
        checks.to_frame()


def test_the_command_writes_the_same_rows(folder, capsys, checks):
    assert 2 == main(["check", str(folder), "--format", "csv"])
    shown = capsys.readouterr()
    assert "" == shown.err
    assert shown.out == checks.to_csv().replace("\r\n", "\n")
    assert 0 == main(["check", SOUND, "--format", "csv"])
    assert 2 == capsys.readouterr().out.count("\n")
    assert 2 == main(["check", SOUND, "--format", "csv", "--json"])
    assert 1 == capsys.readouterr().err.count("\n")


SHEET = (
    "ingredient;price;fat;saturates;carbohydrate;sugars;fibre;protein;salt;energy_kcal;like\n"
    "butter;8,50;;;;;;;;;\n"
    "Brindlemoor flour;3;2;0,4;4;1;30;50;0,1;300;almond flour\n"
)


def test_a_sheet_brings_prices_and_panels(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("ADVISOR_INGREDIENTS", str(tmp_path / "own.yaml"))
    load_knowledge.cache_clear()
    sheet = tmp_path / "prices.csv"
    sheet.write_text(SHEET)
    assert 0 == main(["ingredients", "--import", str(sheet)])
    capsys.readouterr()
    load_knowledge.cache_clear()
    try:
        known = load_knowledge().ingredients
        assert 8.5 == known["butter"].price_per_kg
        mine = known["brindlemoor_flour"]
        assert (3, 0.4, 50) == (mine.price_per_kg, mine.per_100g.saturates, mine.per_100g.protein)
    finally:
        load_knowledge.cache_clear()


@pytest.mark.parametrize(
    ("rows", "line", "said"),
    [
        ([["name", "prise"], ["butter", "3"]], 1, "did you mean 'price'"),
        ([["price"], ["3"]], 1, "headed 'name'"),
        ([["name", "price"], ["butter", "three"]], 2, "no number"),
        ([["name", "price"], ["butter", "3"], ["", "4"]], 3, "needs a name"),
        ([["name", "fat", "total_fat"], ["x", "1", "2"]], 2, "other layout"),
        ([["name", "price", "price"], ["x", "1", "2"]], 1, "two columns"),
        ([["name"]], 1, "row of headings"),
    ],
)
def test_a_sheet_that_cannot_be_read_says_where(rows, line, said):
    with pytest.raises(OwnFileFault) as fault:
        own_from_sheet(rows, "sheet.csv")
    assert f"sheet.csv:{line} " in str(fault.value) or f"sheet.csv:{line}:" in str(fault.value)
    assert said in str(fault.value)
