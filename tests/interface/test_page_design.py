"""The view in which formulas are written, without a browser: first ones, a better one, tolerance, bakes that teach."""

from __future__ import annotations

import csv
import io
import re

import pytest
from page_rounds import EXCESS_WATER, SOUND, inside, worked

from advisor.explanation.bake_results import COLUMNS
from advisor.formula.reading import read_formula_text

AT_HAND = "vital wheat gluten, eggs\nmozzarella, flax"
TYPED = re.compile(r"--[a-z]|\badvisor [a-z]")
"""What only a terminal has."""


@pytest.fixture(scope="module")
def client():
    return inside()


@pytest.fixture(scope="module")
def started(client):
    return worked(
        client, "start", kind="tin loaf", slices=16, pan="23 x 10 x 10 cm", net_carb_max=3, **{"from": AT_HAND}
    )  # fmt: skip


def test_first_formulas_are_told_as_the_command_tells_them_each_with_a_button(started, knowledge) -> None:
    assert 1 <= len(started["cards"])
    places = re.findall(r"data-take='(\d+)'", started["answer"])
    assert [str(n) for n in range(len(started["cards"]))] == places
    for place, card in enumerate(started["cards"], 1):
        formula = read_formula_text(card, knowledge)
        assert 16 == formula.process.slices
        assert f"{place}. {formula.name}" in started["answer"]
    assert "Nobody has baked them" in started["answer"]
    assert not TYPED.search(started["answer"])


def test_what_stops_every_formula_is_told(client) -> None:
    found = worked(
        client, "start", kind="tin loaf", slices=16, pan="23 x 10 x 10 cm", net_carb_max=0.1, **{"from": AT_HAND}
    )  # fmt: skip
    assert "What stops it" in found["answer"]


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"from": " ,\n"}, "at hand"),
        ({"from": "snow"}, "what is at hand 'snow'"),
        ({"from": "eggs", "pan": "big"}, "pan 'big'"),
        ({"from": "eggs", "kind": "ship"}, "no kind of bread"),
        ({"from": "eggs", "slices": 0}, "slices"),
        ({"from": "eggs", "avoid": ["moon"]}, "moon"),
        ({"from": ["eggs"]}, "from"),
    ],
    ids=str,
)
def test_what_cannot_be_asked_for_is_said_without_a_word_of_the_terminal(client, asked, said) -> None:
    answer = client.post("/work/start", json=asked)
    assert 400 == answer.status_code
    assert said in answer.json()["said"]
    assert not TYPED.search(answer.json()["said"])


def test_a_better_formula_is_written_into_its_own_lines(client, knowledge) -> None:
    found = worked(client, "better", text=SOUND, aim="safer", keep="eggs, oven", at_most=20)
    assert "Step by step" in found["answer"]
    assert "data-take='0'" in found["answer"]
    assert not TYPED.search(found["answer"])
    changed = found["cards"][0].splitlines()
    assert changed != SOUND.splitlines()
    assert set(changed) & set(SOUND.splitlines())
    read_formula_text(found["cards"][0], knowledge)


@pytest.mark.parametrize(
    "asked", [{"aim": "rounder"}, {"keep": "snow"}, {"swap": "snow"}, {"at_most": 200}], ids=str
)
def test_what_no_formula_can_be_made_is_said(client, asked) -> None:
    answer = client.post("/work/better", json={"text": SOUND, "aim": "softer", **asked})
    assert 400 == answer.status_code
    assert not TYPED.search(answer.json()["said"])


@pytest.mark.slow
def test_how_far_each_line_may_go_is_told_with_its_picture(client) -> None:
    found = worked(client, "tolerance", text=SOUND)
    assert "The errors that matter most" in found["answer"]
    assert 1 == found["answer"].count("<svg")


def test_bakes_that_teach_have_a_table_for_paper_and_as_a_file(client) -> None:
    found = worked(client, "plan-bakes", text=SOUND, bakes=2)
    assert "Bakes that teach most" in found["answer"]
    assert not TYPED.search(found["answer"])
    rows = list(csv.DictReader(io.StringIO(found["file"])))
    assert list(COLUMNS) == list(rows[0])
    assert len(rows) + 1 == found["table"].count("<tr")
    assert len(COLUMNS) == found["table"].count('<th scope="col"')
    assert 400 == client.post("/work/plan-bakes", json={"text": SOUND, "bakes": 9}).status_code


def test_what_takes_seconds_can_be_stopped(client) -> None:
    assert None is client.post("/work/stop", json={}).json()


def test_a_moved_amount_counts(client) -> None:
    as_written = worked(client, "plan-bakes", text=EXCESS_WATER, bakes=1)["answer"]
    assert (
        as_written != worked(client, "plan-bakes", text=EXCESS_WATER, bakes=1, moved={"6": 100.0})["answer"]
    )
