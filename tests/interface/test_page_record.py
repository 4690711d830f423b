"""The view of the record without a browser: bakes listed and found, compared, over time, notes edited, exported."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from page_rounds import EXCESS_WATER, inside, worked
from starlette.testclient import TestClient

from advisor.trial_record.written_out import from_csv, from_yaml


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A record of two bakes: too wet, and with less water."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("ADVISOR_RECORD", str(tmp_path_factory.mktemp("record") / "r.sqlite3"))
        browser = inside()
        first = {
            "saw": ["gummy_centre"],
            "nothing_else": True,
            "mark_crumb": 1,
            "core_c": 93,
            "date": "2026-05-01",
        }
        second = {"moved": {"6": 160.0}, "nothing_else": True, "mark_crumb": 4, "followed": "cut-water"}
        worked(browser, "keep", text=EXCESS_WATER, notes="<i>wet</i>", **first)
        worked(browser, "keep", text=EXCESS_WATER, date="2026-05-02", **second)
        yield browser


def test_without_a_bake_it_says_how_to_keep_one(tmp_path, monkeypatch) -> None:
    monkeypatch.setenv("ADVISOR_RECORD", str(tmp_path / "none.sqlite3"))
    found = worked(inside(), "bakes")
    assert "" == found["list"]
    assert "No bakes are kept yet" in found["said"]
    assert not (tmp_path / "none.sqlite3").exists()
    assert 400 == inside().post("/work/export", json={}).status_code


def test_bakes_are_listed_latest_first_and_found_by_words(client) -> None:
    found = worked(client, "bakes")
    assert ["2", "1"] == re.findall(r"data-bake='(\d+)'", found["list"])
    assert "2 of 2 bakes." == found["said"]
    assert ["1"] == re.findall(r"data-bake='(\d+)'", worked(client, "bakes", words="gummy")["list"])
    assert [] == re.findall(r"data-bake='(\d+)'", worked(client, "bakes", words="raisins")["list"])


def test_one_bake_tells_what_came_of_it_and_of_the_change(client) -> None:
    found = worked(client, "bake", number=2)["bake"]
    for words in (
        "Against bake 1",
        "It worked",
        "Did it come as predicted?",
        "Less water",
        "170 g vital wheat gluten",
    ):
        assert words in found, words
    assert "&lt;i&gt;wet&lt;/i&gt;" in worked(client, "bake", number=1)["bake"]


def test_two_bakes_stand_beside_each_other_the_earlier_first(client) -> None:
    found = worked(client, "two-bakes", bakes=["2", "1"])["comparison"]
    assert found.index(">bake 1<") < found.index(">bake 2<")
    assert "240 g" in found
    assert "160 g" in found


@pytest.mark.parametrize(
    "bakes", [[], ["1"], ["1", "1"], ["1", "9"], ["1", "2", "3"], ["x", "1"], ["1" * 12, "2"]]
)
def test_what_is_not_two_bakes_is_said(client, bakes: list[str]) -> None:
    assert 400 == client.post("/work/two-bakes", json={"bakes": bakes}).status_code


def test_a_formula_over_time_has_its_marks_drawn(client) -> None:
    found = worked(client, "over-time", name="Canteen sandwich loaf")["time"]
    assert "Best so far: bake 2" in found
    assert "<svg" in found
    assert 400 == client.post("/work/over-time", json={"name": "Nothing"}).status_code


def test_notes_are_edited(client) -> None:
    assert "kept" in worked(client, "note", number=1, notes="cut too early")["said"]
    assert "cut too early" == worked(client, "bake", number=1)["notes"]
    assert 400 == client.post("/work/note", json={"number": 77, "notes": "x"}).status_code
    assert 400 == client.post("/work/note", json={"number": 1, "notes": "\x00"}).status_code


def test_a_bake_is_taken_back_and_put_in_again(client) -> None:
    assert "Bake 2 is taken back." == worked(client, "take-back", number=2)["said"]
    assert ["1"] == re.findall(r"data-bake='(\d+)'", worked(client, "bakes")["list"])
    assert 400 == client.post("/work/take-back", json={"number": 2}).status_code
    assert "again" in worked(client, "take-back", number=2, undo=True)["said"]
    assert ["2", "1"] == re.findall(r"data-bake='(\d+)'", worked(client, "bakes")["list"])
    for nothing in ({}, {"number": 77}, {"number": 1, "undo": True}):
        assert 400 == client.post("/work/take-back", json=nothing).status_code


@pytest.mark.parametrize(("form", "read"), [("yaml", from_yaml), ("csv", from_csv)])
def test_an_export_holds_all_bakes(client, form: str, read) -> None:
    found = worked(client, "export", form=form)
    assert f"bakes.{form}" == found["name"]
    assert 2 == len(list(read(found["file"], "export")))
