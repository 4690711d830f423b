"""Pages in the units that the reader asked for, or that an interview has kept."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from advisor.interface.commands.command_line import build_parser, main
from advisor.interface.desk.baker_measures import BakersMeasures, keep_measures
from advisor.rendering.baker_units import units_in_use, use_units

COMMANDS = [
    ("check", "maize-reference-loaf-oven-too-cool", "--all"),
    ("check", "canteen-sandwich-loaf-underbaked", "--all"),
    ("diagnose", "canteen-sandwich-loaf-underbaked", "--saw", "gummy_centre", "--all"),
    ("why", "maize-reference-loaf-oven-too-cool", "oven_too_cool"),
    ("ingredients", "egg white"),
    ("glossary",),
    ("teach", "the-door"),
]
CUP = "200 g whole egg\n1 cup almond flour\n100 g water\n"


@pytest.fixture(autouse=True)
def units_as_before() -> Iterator[None]:
    yield
    use_units("metric")


@pytest.mark.parametrize("words", COMMANDS)
def test_no_celsius_and_no_open_field_is_left_for_an_american(
    words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    main([*words, "--units", "us"])
    page = capsys.readouterr().out
    assert " F" in page
    assert [] == re.findall(r"[^\n]*[0-9] (?:C|cm|mm)\b[^\n]*|[^\n]*\{[^\n]*", page)


def test_a_difference_stays_one(capsys: pytest.CaptureFixture[str]) -> None:
    main(["try", "canteen-sandwich-loaf", "oven: 165 C", "--units", "us"])
    assert "oven: 330 F instead of 345 F\n" in capsys.readouterr().out


def test_json_is_metric_in_any_units(capsys: pytest.CaptureFixture[str]) -> None:
    documents = []
    for units in ("us", "metric"):
        main(["glossary", "proof", "--json", "--units", units])
        documents.append(json.loads(capsys.readouterr().out))
    assert documents[0] == documents[1]
    assert "13 C" in documents[0]["words"][0]["says"]


def test_what_an_interview_kept_holds_for_every_command(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("ADVISOR_MEASURES", str(tmp_path / "measures.json"))
    assert "" == keep_measures(BakersMeasures(degrees="F"), tmp_path / "measures.json")
    main(["glossary", "proof"])
    assert "us" == units_in_use()
    assert "55 F" in capsys.readouterr().out
    main(["glossary", "proof", "--units", "uk"])
    assert "13 C" in capsys.readouterr().out


def test_an_answer_follows_the_heats_of_the_formula_unless_units_were_chosen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("ADVISOR_MEASURES", str(tmp_path / "none.json"))
    file = tmp_path / "loaf.txt"
    file.write_text("240 g almond flour\n5 large eggs\npan: 23 x 10 x 7 cm\nBake at 350 F for 45 minutes.\n")
    for chosen, heat in (
        ([], "At 350 F"),
        (["--units", "metric"], "At 177 C"),
        (["--units", "us"], "At 350 F"),
    ):
        main(["check", str(file), "--all", *chosen])
        assert heat in capsys.readouterr().out
    main(["glossary", "proof"])
    assert "13 C" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("given", "millilitres"),
    [
        ([], 236.6),
        (["--units", "us"], 236.6),
        (["--units", "uk"], 284.1),
        (["--units", "uk", "--region", "us"], 236.6),
    ],
)
def test_the_cups_of_a_formula_follow_the_units_unless_a_region_is_named(
    given: list[str], millilitres: float, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "loaf.txt"
    file.write_text("100 g whole egg\n1 cup water\n")
    main(["write", str(file), *given])
    grams = float(re.search(r"([0-9.]+) g water", capsys.readouterr().out)[1])  # type: ignore[index]
    assert abs(grams - millilitres) < 0.03 * millilitres


def test_every_command_that_writes_for_a_baker_takes_units() -> None:
    parser = build_parser()
    commands = next(a for a in parser._actions if a.dest == "command").choices or {}
    for name in set(commands) - {"lint", "record"}:
        assert any("--units" in action.option_strings for action in commands[name]._actions), name  # type: ignore[index]
