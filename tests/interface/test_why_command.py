"""`advisor why`: the proof with its numbers, what missed and by how much, and where a risk comes from."""

from __future__ import annotations

import json

import jsonschema
import pytest

from advisor import load_knowledge
from advisor.interface.commands.command_line import main
from advisor.rendering.documents.schemas import schema_of

WET = "canteen-sandwich-loaf-excess-water"


def said(capsys, *arguments):
    code = main(list(arguments))
    out = capsys.readouterr()
    return code, out.out, out.err


def test_a_cause_is_walked_back_to_numbers(capsys):
    code, out, _ = said(capsys, "why", WET, "excess_water")
    assert 0 == code
    assert "water-beyond-set" not in out, "the names of rules are for who writes them"
    assert "leads to water that nothing holds (early oven), and that" in " ".join(out.split())
    assert "water load when baked: 0.8" in out
    assert "speaks for it strongly" in " ".join(out.split())


def test_a_cause_that_was_not_concluded_says_what_missed_and_by_how_much(capsys):
    code, out, _ = said(capsys, "why", "canteen-sandwich-loaf", "excess_water")
    assert 0 == code
    assert "SIGNS OF IT THAT ARE MISSING" in out
    assert "short of it" in out


def test_names_as_bakers_write_them(capsys):
    by_id, by_name, by_word = (
        said(capsys, "why", WET, *words)[1]
        for words in (("gummy_centre",), ("gummy", "middle"), ("Gummy middle",))
    )
    assert by_id == by_name == by_word
    assert "Gummy middle: risk" in by_id


def test_symptoms_seen_raise_what_explains_them(capsys):
    chances = []
    for more in ((), ("--saw", "gummy_centre", "collapse_on_cooling")):
        _, out, _ = said(capsys, "why", WET, "excess_water", *more, "--json")
        found = json.loads(out)
        jsonschema.validate(found, schema_of("proof"))
        chances.append(found["probability"])
    assert chances[0] < chances[1]


@pytest.mark.parametrize("cause", sorted(load_knowledge().causes))
def test_every_cause_can_be_asked_about(cause, capsys):
    code, out, err = said(capsys, "why", WET, cause)
    assert (0, "") == (code, err)
    assert out.count("\n") >= 2
    assert "{" not in out, "no place of a text is left unfilled"


@pytest.mark.parametrize("symptom", sorted(load_knowledge().symptoms))
def test_every_symptom_can_be_asked_about(symptom, capsys):
    code, out, _ = said(capsys, "why", WET, symptom, "--json")
    found = json.loads(out)
    jsonschema.validate(found, schema_of("proof"))
    assert 0 == code
    assert 0 <= found["risk"] <= 1


def test_an_unknown_name_is_one_line_with_what_is_near(capsys):
    code, out, err = said(capsys, "why", WET, "to", "much", "watter")
    assert (2, "") == (code, out)
    assert "near:" in err
    assert 1 == err.count("\n")


def test_it_fits_narrow_terminals(capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "40")
    _, out, _ = said(capsys, "why", WET, "excess_water")
    assert all(len(line) <= 40 for line in out.splitlines())
