"""Volume against relations that are not ours, each with its source."""

from __future__ import annotations

import pytest

from advisor import default_advisor, load_knowledge
from advisor.formula.reading import read_formula_text

KNOWLEDGE = load_knowledge()
LOAF = (
    "{flour} g bread flour\n{others}\n{water} g water\n7 g instant yeast\n15 g sugar\n8 g salt\n15 g shortening\n"
    "pan: 25 x 11 x 11 cm\nmix: 10 min\nrest: 30 min\nproof: 55 min at 30 C\noven: 215 C for 30 min"
)


def volume_ml(others: str = "", flour: float = 500, water: float = 310) -> float:
    """Cool volume of the whole loaf, mL."""
    text = LOAF.format(flour=flour, others=others, water=water)
    work = default_advisor().examiner.measured(read_formula_text(text, KNOWLEDGE)).workings
    dough_g, loss = work.dough_state.dough.total, work.bake.bake_loss
    return work.measures.value("cooled_volume") * dough_g * (1 - loss)


def test_a_point_of_protein_is_worth_what_a_wheat_laboratory_finds():
    """Washington State University: mL of 100 g flour = 65 x protein + 140, so 7 % for a point at 12 % protein.

    A point of protein by vital gluten in place of flour; within a third to one and a half of that, since volume there
    is that of a rich test bake.
    """
    more = volume_ml("8 g vital wheat gluten", flour=492)
    assert 0.07 / 3 <= more / volume_ml() - 1 <= 0.07 * 1.5


@pytest.mark.parametrize(("chia", "published"), [(2, 361.1), (4, 340.8), (6, 323.8), (8, 316.2)])
def test_chia_costs_what_was_measured(chia, published):
    """Journal of Food Quality 2017:7352631, table 3: 372.1 mL without; within 6 %."""
    ratio = volume_ml(f"{5 * chia} g chia seeds", flour=500 - 5 * chia) / volume_ml()
    assert published / 372.1 == pytest.approx(ratio, abs=0.06)


def test_amylase_makes_a_much_larger_loaf():
    """Kim and Yoo 2020, Polymers 12: 24.5 % more with 100 ppm of amylase; at least a quarter of it."""
    assert 1.06 <= volume_ml("0.05 g fungal amylase") / volume_ml() <= 1.25
