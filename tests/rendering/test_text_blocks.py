"""Blocks as text: every width, looks only where they are wanted, numbers and units that stay together."""

from __future__ import annotations

import re

import pytest

from advisor.explanation.blocks import Chain, Emphasis, Heading, Item, Paragraph, Quantity, Row, Table
from advisor.knowledge_base.escaping import shown
from advisor.rendering.text_blocks import TextStyle, text_of

ESCAPE = re.compile(r"\x1b\[[0-9]*m")
PAGE = (
    Row(left=(Emphasis(meaning="name", runs=("A loaf of many words",)),), right=("1124 g of dough, 16 slices",)),
    Paragraph(runs=("Watch out for ", Emphasis(meaning="risk", runs=("gummy middle",)), ". All of it is one line.")),
    Heading(text="Why"),
    Item(
        label="1.",
        runs=("Too much water: ", Quantity(value=80, unit="g"), " less."),
        under=(Paragraph(runs=("Since nothing holds it. " * 4,)), Chain(steps=("water", "soft walls", "it sinks"))),
    ),
    Table(
        caption="Numbers",
        head=("measure", "here", "good", "so it is"),
        rows=(
            (("water load when baked",), ("0.85",), ("0.53 to 0.76",), ("too high",)),
            (("gas from soda and powder, all of it",), ("407 mL per 100 g",), ("up to 200",), ("far too high",)),
        ),
        figures=frozenset({1}),
    ),
)  # fmt: skip


@pytest.mark.parametrize("width", [34, 40, 44, 60, 80, 120, 200])
@pytest.mark.parametrize("emphasised", [False, True])
def test_no_line_is_wider_than_the_terminal(width: int, emphasised: bool) -> None:
    text = text_of(PAGE, TextStyle(width=width, emphasised=emphasised))
    assert width >= max(len(ESCAPE.sub("", line)) for line in text.splitlines())


@pytest.mark.parametrize("width", [40, 80])
def test_looks_change_no_letter(width: int) -> None:
    plain = text_of(PAGE, TextStyle(width=width))
    looking = text_of(PAGE, TextStyle(width=width, emphasised=True))
    assert "\x1b" not in plain
    assert plain != looking
    assert plain == ESCAPE.sub("", looking)


def test_every_look_ends_on_its_line() -> None:
    for line in text_of(PAGE, TextStyle(emphasised=True)).splitlines():
        marks = ESCAPE.findall(line)
        assert len(marks) % 2 == 0
        assert not marks or "\x1b[0m" == marks[-1]


@pytest.mark.parametrize("width", range(40, 60))
def test_a_number_stays_with_its_unit(width: int) -> None:
    lines = text_of(PAGE[3:4], TextStyle(width=width)).splitlines()
    assert any("80 g" in line for line in lines)


def test_nothing_is_lost_on_a_narrow_page() -> None:
    words = re.findall(r"[a-z0-9.]+", text_of(PAGE, TextStyle(width=80)).lower())
    narrow = re.findall(r"[a-z0-9.]+", text_of(PAGE, TextStyle(width=40)).lower())
    # Where rows are stacked, what heads the rows needs no name.
    assert set(words) - {"measure"} <= set(narrow)


def test_a_field_in_a_text_is_written_in_the_readers_units() -> None:
    block = (Paragraph(runs=("near {49 C} it fails; {so} it stays",)),)
    assert "near 49 C it fails; {so} it stays\n" == text_of(block, TextStyle())
    assert "near 120 F it fails; {so} it stays\n" == text_of(block, TextStyle(units="us"))


def test_what_a_person_typed_cannot_drive_the_terminal() -> None:
    typed = "\x1b[2J\u202eloaf"
    text = text_of((Paragraph(runs=(typed,)),), TextStyle())
    assert "\x1b" not in text and "\u202e" not in text
    assert shown(typed) in text
