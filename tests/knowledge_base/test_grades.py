"""No number without a grade: every shape of an entry that holds one says how well it is known."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

import pytest
from pydantic import BaseModel

from advisor.knowledge_base import graph_entries, ingredient, measured, rule_entries, texts
from advisor.knowledge_base.entry import Entry, Figure, Graded

PARTS = {
    # Stand only inside a graded entry, whose grade is theirs.
    "Condition", "Denial", "LeverTarget", "LeverLimits", "LeverTurn",
    # Says what is possible at all and how many digits are shown, not what is so.
    "MeasureEntry",
}  # fmt: skip
WITHOUT = {
    # Shares by class and by sugar stand under no grade of their own yet, and prices are the user's: no more may join.
    "Ingredient": [
        "protein_classes",
        "maltose_share",
        "sucrose_share",
        "freed_by_amylase_share",
        "price_per_kg",
    ],
}
SHAPES = sorted(
    {
        shape
        for module in (graph_entries, ingredient, measured, rule_entries, texts)
        for shape in vars(module).values()
        if isinstance(shape, type) and issubclass(shape, Entry) and shape.__module__ == module.__name__
    },
    key=lambda shape: shape.__name__,
)


def kinds(annotation: object) -> Iterator[object]:
    """A type and every type inside it."""
    yield annotation
    for inner in get_args(annotation):
        yield from kinds(inner)


def numbers(shape: type[BaseModel]) -> list[str]:
    return [
        name
        for name, field in shape.model_fields.items()
        if any(kind in (float, int) for kind in kinds(field.annotation))
    ]


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.__name__)
def test_a_shape_with_a_number_has_a_grade(shape: type[BaseModel]) -> None:
    if shape.__name__ in PARTS:
        assert not issubclass(shape, Graded)
    else:
        assert WITHOUT.get(shape.__name__, []) == numbers(shape) or issubclass(shape, Graded)


def test_the_kinds_that_bakers_could_dispute_are_graded() -> None:
    assert issubclass(Figure, Graded)
    for shape in (
        measured.Band, measured.Coefficient, graph_entries.Link, rule_entries.Lever, rule_entries.Rule,
        texts.Question, graph_entries.Cause, graph_entries.Symptom,
    ):  # fmt: skip
        assert issubclass(shape, Graded)
        assert shape.model_fields["grade"].is_required()
