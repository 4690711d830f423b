"""Cost of a loaf by the user's own prices."""

from __future__ import annotations

from dataclasses import replace

import pytest

from advisor.explanation.numbers import cost_line
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.cost import cost_of

TEXT = "200 g almond flour\n4 large eggs (200 g)\n100 g water\n5 g salt\n"


def priced(knowledge: Knowledge, **prices: float) -> Formula:
    ingredients = {
        name: entry.model_copy(update={"price_per_kg": prices[name]}) if name in prices else entry
        for name, entry in knowledge.ingredients.items()
    }
    return read_formula_text(TEXT, replace(knowledge, ingredients=ingredients))


def test_without_prices_nothing_is_said(knowledge: Knowledge) -> None:
    formula = read_formula_text(TEXT, knowledge)
    assert cost_of(formula, slices=10) is None
    assert cost_line(formula, slices=10, loaves=1) is None


def test_grams_times_price_over_loaves_and_slices(knowledge: Knowledge) -> None:
    cost = cost_of(priced(knowledge, almond_flour=12, whole_egg=6, salt=1), slices=10, loaves=2)
    assert cost is not None
    total = 0.2 * 12 + 0.2 * 6 + 0.005 * 1
    assert total == pytest.approx(cost.total)
    assert total / 2 == pytest.approx(cost.per_loaf)
    assert total / 20 == pytest.approx(cost.per_slice)
    assert () == cost.without_price
    assert 1 == pytest.approx(cost.priced_share)


def test_what_has_no_price_is_named_and_water_is_free(knowledge: Knowledge) -> None:
    formula = priced(knowledge, almond_flour=12)
    cost = cost_of(formula, slices=10)
    assert cost is not None
    assert ("whole egg", "salt") == cost.without_price
    assert (200 + 100) / 505 == pytest.approx(cost.priced_share)
    expected = (
        "Cost by your own prices: 2.40 a loaf, 0.24 a slice, without whole egg, salt, which have no price "
        "(59 % of the dough is priced)."
    )
    assert expected == cost_line(formula, slices=10, loaves=1)


@pytest.mark.parametrize(("slices", "loaves"), [(0, 1), (1, 0)])
def test_no_slice_and_no_loaf_are_refused(knowledge: Knowledge, slices: int, loaves: int) -> None:
    with pytest.raises(ValueError, match="one loaf and one slice"):
        cost_of(priced(knowledge, salt=1), slices=slices, loaves=loaves)
