"""Quantities of texts in the units of the baker."""

from __future__ import annotations

import re

import pytest

from advisor.knowledge_base.knowledge import Knowledge
from advisor.linting.quantities import bare_quantities
from advisor.linting.words import texts_shown
from advisor.rendering.quantities import in_metric, said

_EXACT = re.compile(r"\{[^{}]*\}")


@pytest.mark.parametrize(
    ("text", "metric", "us"),
    [
        ("{71 C}", "71 C", "160 F"),
        ("{10 C difference} more", "10 C more", "18 F more"),
        ("{10 to 25 C difference}", "10 to 25 C", "18 to 45 F"),
        ("{93 to 96 C}", "93 to 96 C", "199 to 205 F"),
        ("at {175 C}", "at 175 C", "at 345 F"),
        ("{20 min}", "20 min", "20 min"),
        ("{450 g} of dough", "450 g of dough", "450 g (1 lb) of dough"),
        ("{40 g}, {8 g}", "40 g, 8 g", "40 g (1 1/2 oz), 8 g"),
        ("{1.0 to 1.3 g}", "1.0 to 1.3 g", "1.0 to 1.3 g"),
        ("{2.5 cm}", "2.5 cm", "1 in"),
        ("{10 cm} wide", "10 cm wide", "4 in wide"),
        ("{4 mm}", "4 mm", "3/16 in"),
        ("20 g C, {no field}", "20 g C, {no field}", "20 g C, {no field}"),
    ],
)
def test_a_quantity_is_written_in_the_bakers_units(text: str, metric: str, us: str) -> None:
    assert metric == said(text)
    assert metric == said(text, "uk")
    assert us == said(text, "us")


def test_every_text_of_the_knowledge_can_be_written_in_all_units(knowledge: Knowledge) -> None:
    """Where places are to be filled something stays in braces; nothing else does, and no C is left for an American."""
    quantities = 0
    for _, name, text in texts_shown(knowledge):
        metric, us = said(text), said(text, "us")
        left = _EXACT.findall(metric)
        assert left == _EXACT.findall(us), name
        assert all(place[1].isalpha() for place in left), name
        plain = _EXACT.sub("", us)
        assert not re.search(r"[0-9] (C|cm|mm)\b", plain), name
        quantities += metric != text
        assert () == bare_quantities(text), name
    assert quantities > 60


def test_a_document_is_metric_to_its_last_text() -> None:
    assert {"a": ["71 C", 3, None], "b": {"c": "x"}} == in_metric({"a": ["{71 C}", 3, None], "b": {"c": "x"}})
