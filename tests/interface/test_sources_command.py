"""`advisor sources`: each work with what rests on it, and what rests on nothing but calibration."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from advisor.interface.commands import sources as sources_command
from advisor.interface.commands.command_line import main
from advisor.knowledge_base.knowledge import read_knowledge
from advisor.knowledge_base.places import Places
from advisor.rendering.documents.schemas import schema_of

SMALL = Path(__file__).parent.parent / "linting" / "small"


@pytest.fixture(autouse=True)
def small(monkeypatch: pytest.MonkeyPatch) -> None:
    places = Places(knowledge=SMALL / "knowledge", rules=SMALL / "rules")
    knowledge = read_knowledge(places)
    monkeypatch.setattr(sources_command, "load_knowledge", lambda: knowledge)
    monkeypatch.setenv("COLUMNS", "80")


def test_a_source_stands_with_its_citation_and_what_rests_on_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["sources"])
    page = capsys.readouterr().out
    assert (
        "handbook\n"
        "An invented handbook for tests\n"
        "book, read whole\n"
        "- ingredient: water, egg_white, psyllium_husk, psyllium_powder, vinegar\n"
        "- coefficient: energy_eu_protein, energy_eu_fat, energy_eu_carbohydrate\n"
    ) in page


def test_grades_are_counted_kind_by_kind(capsys: pytest.CaptureFixture[str]) -> None:
    main(["sources"])
    lines = [line.split() for line in capsys.readouterr().out.splitlines()]
    # Five compositions (three published, two from memory) and the acid in the vinegar (from memory).
    assert ["ingredient", "3", "-", "3", "-", "-"] in lines
    assert ["coefficient", "3", "-", "-", "1", "-"] in lines


def test_what_rests_on_calibration_names_the_test_that_pins_it(capsys: pytest.CaptureFixture[str]) -> None:
    main(["sources"])
    assert "\ntests/pins.py\n- coefficient: energy_eu_organic_acid\n" in capsys.readouterr().out


@pytest.mark.parametrize("word", ["HANDBOOK", "invented", "psyllium_powder"])
def test_a_word_finds_key_citation_or_entry(word: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["sources", word])
    page = capsys.readouterr().out
    assert "An invented handbook" in page
    assert "HOW WELL IT IS KNOWN" not in page


def test_a_word_may_find_what_is_calibrated_only(capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["sources", "organic_acid"])
    page = capsys.readouterr().out
    assert "energy_eu_organic_acid" in page
    assert "handbook" not in page


def test_a_word_that_finds_nothing_is_no_success(capsys: pytest.CaptureFixture[str]) -> None:
    assert 1 == main(["sources", "zorblax"])
    assert "No source, citation or entry holds 'zorblax'.\n" == capsys.readouterr().out


@pytest.mark.parametrize("columns", [40, 60, 80])
def test_no_line_is_wider_than_the_terminal(
    columns: int, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    main(["sources"])
    page = capsys.readouterr().out
    assert max(map(len, page.splitlines())) <= columns
    assert "energy_eu_organic_acid" in page


def test_json_follows_its_schema_and_counts_every_grade(capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["sources", "--json"])
    document = json.loads(capsys.readouterr().out)
    jsonschema.validate(document, schema_of("sources"))
    (source,) = document["sources"]
    assert "coefficient energy_eu_fat" in source["rests_on_it"]
    assert {"published", "practice", "memory", "calibrated", "demo"} == set(document["grades"])
    assert 1 == document["grades"]["calibrated"]


def test_json_of_a_word_that_finds_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    assert 1 == main(["sources", "zorblax", "--json"])
    assert [] == json.loads(capsys.readouterr().out)["sources"]
