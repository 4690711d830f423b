"""The same formula as YAML: read strictly, with the line of each problem, and written so that it reads back."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.formula.writing.as_text import write_formula_text
from advisor.formula.writing.as_yaml import write_formula_yaml
from advisor.knowledge_base.knowledge import Knowledge

Read = Callable[..., Formula]

_TEXT = """Canteen: loaf #2
Dry:
100 g gluten
salt, to taste
Wet:
2 eggs
30 g butter, melted
150.25 g water
slices: 12
oven: 175 C for 60 min
added last: butter
"""


def test_text_and_yaml_say_the_same(kitchen: Knowledge, read: Read) -> None:
    first = read("title: " + _TEXT)
    as_yaml = read(write_formula_yaml(first))
    as_text = read(write_formula_text(as_yaml))
    for again in (as_yaml, as_text):
        assert first.name == again.name
        assert first.process == again.process
        assert [(x.ingredient.id, x.grams, x.counted, x.traits, x.section) for x in first.lines] == [
            (x.ingredient.id, x.grams, x.counted, x.traits, x.section) for x in again.lines
        ]
        assert ["salt"] == [e.ingredient.id for e in again.unweighed]


@pytest.mark.parametrize(
    ("text", "line", "what"),
    [
        ("name: x\nlines:\n  - 100 g nosuch\n", 3, "no ingredient is called"),
        ("name: x\nlines:\n  - {ingredient: water, gram: 5}\n", 3, "no line of a formula"),
        ("name: x\nlines:\n  - {ingredient: water, grams: -5}\n", 3, "below zero"),
        ("name: x\nlines:\n  - 100 g water\nname: y\n", 4, "stands twice"),
        ("name: x\nlines:\n  - 100 g water\nprocess: {ovn: 175 C}\n", 4, "no process line"),
        ("name: x\nlines:\n  - 100 g water\nprocess:\n  mix: many\n", 5, "cannot be read"),
        ("name: x\nlines:\n  - 100 g water\nprocess: [1]\n", 4, "holds no keys"),
        ("name: x\nlines:\n  - 100 g water\nbatch: 2\n", 4, "no key of a formula"),
        ("name: x\nlines:\n  - [a\n", 4, "not YAML"),
        ("name: x\nlines:\n", 2, "no list"),
    ],
)
def test_problem_names_its_line(read: Read, text: str, line: int, what: str) -> None:
    with pytest.raises(FormulaFault) as caught:
        read(text)
    assert line == caught.value.problems[0].line
    assert what in caught.value.problems[0].what


def test_title_that_looks_like_yaml_stays_text(kitchen: Knowledge) -> None:
    assert (
        "a" == read_formula_text(write_formula_yaml(read_formula_text("a\n1 g salt", kitchen)), kitchen).name
    )
