"""The essence of an answer for one sheet of paper: verdict, first change, the formula, the numbers that are out."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.explanation.answer import Answer
from advisor.explanation.blocks import Block, Heading, Item, Paragraph, Quantity, Table
from advisor.explanation.page import first_part
from advisor.explanation.page_numbers import dough_blocks, dough_runs, number_table
from advisor.formula.formula import Formula
from advisor.formula.writing.as_text import process_values

_NUMBERS = 8
"""As many as leave room on the sheet."""


def essentials_of(answer: Answer, formula: Formula) -> Iterator[Block]:
    """All blocks of the sheet, in its order."""
    yield Paragraph(runs=(*dough_runs(answer.dough), "."))
    if answer.seen:
        yield Paragraph(runs=(f"The loaf showed: {', '.join(answer.seen)}.",))
    yield from first_part(answer, "usual", {})
    yield Heading(text="The formula", ident="formula")
    yield Table(
        caption="Ingredients",
        head=("ingredient", "weight", "of the dough"),
        rows=tuple(
            (
                (line.ingredient.name,), (Quantity(value=line.grams, unit="g"),),
                (Quantity(value=line.grams / formula.dough_g, unit="share"),),
            )
            for line in formula.lines
        ),
        figures=frozenset({1, 2}),
    )  # fmt: skip
    if made := _made(formula):
        yield Paragraph(runs=(f"{made}.",))
    yield Heading(text="Numbers", ident="numbers")
    yield from dough_blocks(answer.dough)
    if numbers := [number for number in answer.numbers if number.out][:_NUMBERS]:
        yield number_table(numbers)
    if answer.allergens:
        held = ", ".join(answer.allergens)
        yield Item(label="-", runs=(f"Contains {held}: tell whoever eats it.",))
    yield from (Item(label="-", runs=caution.short) for caution in answer.cautions)


def _made(formula: Formula) -> str:
    """The process in a line; nothing where no text can say it."""
    try:
        return "; ".join(f"{key}: {value}" for key, value in process_values(formula.process).items())
    except ValueError:
        return ""
