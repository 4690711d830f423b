"""Two loaves beside each other: every ingredient of both, what is out first, and no word that calls one the better."""

from __future__ import annotations

import pytest

from advisor import default_advisor
from advisor.explanation.answering import answer_of
from advisor.explanation.two_loaves import OneLoaf, two_loaves_blocks
from advisor.formula.files import formula_from_file
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.text_blocks import text_of


@pytest.fixture(scope="module")
def page(knowledge: Knowledge) -> str:
    advisor = default_advisor()

    def loaf(name: str) -> OneLoaf:
        found = advisor.look(formula_from_file(knowledge.formulas[name], knowledge))
        return OneLoaf(called=name, found=found.examination, answer=answer_of(found, knowledge))

    pair = loaf("canteen-sandwich-loaf-excess-water"), loaf("almond-egg-loaf")
    return text_of(tuple(two_loaves_blocks(*pair, knowledge)))


def test_every_ingredient_of_both_stands_with_its_share(page: str, knowledge: Knowledge) -> None:
    for name in ("canteen-sandwich-loaf-excess-water", "almond-egg-loaf"):
        for line in formula_from_file(knowledge.formulas[name], knowledge).lines:
            assert line.ingredient.name in page


def test_what_is_out_in_one_of_them_comes_first(page: str) -> None:
    rows = page.partition("HOW THEY DIFFER")[2].partition("WHAT MAY GO WRONG")[0]
    assert rows.index("too high") < rows.index("good")
    assert rows.rindex("too high") < rows.index("fat ratio")


def test_neither_is_called_the_better(page: str) -> None:
    for word in ("better", "worse", "rises", "falls", "instead"):
        assert word not in page
