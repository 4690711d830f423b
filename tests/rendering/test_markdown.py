"""Blocks as Markdown: what is written is what a reader of Markdown shows."""

from __future__ import annotations

import pytest

from advisor.explanation.blocks import Block, Chain, Emphasis, Heading, Item, Paragraph, Quantity, Row, Table
from advisor.rendering.markdown import markdown_of


@pytest.mark.parametrize(
    ("block", "written"),
    [
        (Heading(text="Why * so"), "## Why \\* so"),
        (Paragraph(runs=("1. first",)), "1\\. first"),
        (Paragraph(runs=("a ", Emphasis(meaning="risk", runs=(" b_c ",)), "d")), "a  **b\\_c** d"),
        (
            Paragraph(runs=(Emphasis(meaning="risk", runs=("a ", Emphasis(meaning="name", runs=("b",)))),)),
            "**a b**",
        ),
        (Row(left=("left",), right=("right",)), "left right"),
        (Chain(steps=("water", "<soft> walls")), "water → &lt;soft&gt; walls"),
        (Item(label="[x]", runs=("b) yes",)), "- [x] b) yes"),
        (Item(label="-", runs=("- odd",)), "- \\- odd"),
        (Item(label="3.", runs=("more",), under=(Paragraph(runs=("why",)),)), "3. more\n\n   why"),
        (
            Table(
                caption="x", head=("a|b", "n"), rows=((("c|d",), (Quantity(value=30, unit="g"),)),),
                figures=frozenset({1}),
            ),
            "| a\\|b | n |\n|---|---:|\n| c\\|d | 30 g |",
        ),
    ],
)  # fmt: skip
def test_a_block_is_written_so_that_it_is_shown_as_it_is(block: Block, written: str) -> None:
    assert f"{written}\n" == markdown_of((block,))


def test_short_entries_stand_together_and_long_ones_apart() -> None:
    short = tuple(Item(label="-", runs=(word,)) for word in ("salt", "egg"))
    long = Item(label="-", runs=("oil",), under=(Paragraph(runs=("hot",)),))
    assert "- salt\n- egg\n\n- oil\n\n  hot\n" == markdown_of((*short, long))


def test_heat_is_written_in_the_readers_units() -> None:
    page = (Paragraph(runs=(Quantity(value=175, unit="C"),)),)
    assert "175 C\n" == markdown_of(page, "metric")
    assert "345 F\n" == markdown_of(page, "us")
