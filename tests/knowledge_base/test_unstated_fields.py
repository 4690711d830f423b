"""What a formula may leave out is named as the formula names it, and can be said in words."""

from __future__ import annotations

import re
from dataclasses import fields
from string import Formatter

import pytest

from advisor import default_advisor, load_knowledge
from advisor.formula.formula import Process
from advisor.interface.desk.formula_choice import choose_formula
from advisor.remedy.assessing import filled

KNOWLEDGE = load_knowledge()
PROCESS = {field.name for field in fields(Process)}


@pytest.mark.parametrize("name", sorted(KNOWLEDGE.unstated))
def test_an_unstated_field_is_one_of_the_process(name: str) -> None:
    assert name in PROCESS


def test_what_was_taken_can_be_filled_in() -> None:
    examine = default_advisor().examiner.examine
    loaf, crackers = (
        examine(choose_formula(name, KNOWLEDGE, "us"))
        for name in ("canteen-sandwich-loaf", "almond-crackers")
    )
    for name, entry in KNOWLEDGE.unstated.items():
        found = crackers if name == "thickness_cm" else loaf  # a loaf in a tin is not rolled
        named = [field for _, field, _, _ in Formatter().parse(entry.took) if field]
        said = filled(entry.took, found)
        assert not [name for name in named if name in said], said
        assert len(named) == len(re.findall(r"[0-9]+(?:\.[0-9]+)?", said)), said


@pytest.mark.parametrize("name", sorted(KNOWLEDGE.unstated))
def test_what_rests_on_it_is_known(name: str) -> None:
    entry = KNOWLEDGE.unstated[name]
    assert set(entry.measures) <= set(KNOWLEDGE.measures)
    assert set(entry.groups) <= {measure.group for measure in KNOWLEDGE.measures.values()}
