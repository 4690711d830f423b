"""Soda against acids: hand-balanced amounts, and where the gas goes."""

from __future__ import annotations

import pytest

from advisor.formula.reading import read_formula_text
from advisor.models.neutralisation import ML_PER_MOL, SODA_G_PER_MOL, chemical_gas


def gas(text, knowledge):
    return chemical_gas(read_formula_text(text, knowledge), knowledge)


def test_vinegar_that_uses_up_a_teaspoon_of_soda(knowledge):
    """4.6 g soda is 54.76 mmol; so much acetic acid (60.05 g/mol) stands in 66 mL of vinegar of 5 g per 100 mL."""
    assert 4.6 / SODA_G_PER_MOL * 60.05 / 0.05 == pytest.approx(65.8, abs=0.2)
    found = gas(f"4.6 g baking soda\n{66 * 1.006} g white vinegar", knowledge)
    assert 54.76 == pytest.approx(found.soda_meq, abs=0.05)
    assert found.soda_meq == pytest.approx(found.acid_meq, rel=0.02)
    assert found.left_soda_meq + found.left_acid_meq < 1.1


def test_soda_with_acid_enough_gives_one_mole_of_gas_a_mole(knowledge):
    found = gas("84.0066 g baking soda\n300 g citric acid", knowledge)
    assert ML_PER_MOL == pytest.approx(found.total, rel=0.01)
    assert 0 == found.left_soda_meq


def test_soda_alone_gives_half_of_it_in_the_oven(knowledge):
    """2 NaHCO3 -> Na2CO3 + CO2 + H2O."""
    found = gas("84.0066 g baking soda\n100 g water", knowledge)
    assert ML_PER_MOL / 2 == pytest.approx(found.total, rel=0.01)
    assert 0 == found.mix + found.bench
    assert found.late_oven > found.early_oven > 0
    assert found.soda_meq == found.left_soda_meq


def test_what_is_neutralised_of_both_is_the_same(knowledge):
    found = gas("3 g baking soda\n20 g lemon juice\n5 g baking powder", knowledge)
    assert found.soda_meq - found.left_soda_meq == pytest.approx(found.acid_meq - found.left_acid_meq)


def test_acid_left_over_is_counted(knowledge):
    found = gas("1 g baking soda\n100 g white vinegar", knowledge)
    assert 0 == found.left_soda_meq
    assert found.acid_meq - found.soda_meq == pytest.approx(found.left_acid_meq)


def test_an_acid_added_last_saves_gas_of_the_mixing_for_the_pan(knowledge):
    text = "300 g almond flour\n4 g baking soda\n60 g cider vinegar"
    first, last = gas(text, knowledge), gas(text + "\nadded last: cider vinegar", knowledge)
    assert first.total == pytest.approx(last.total)
    assert last.mix < first.mix
    assert first.mix - last.mix == pytest.approx(last.bench - first.bench)


def test_powder_gives_its_gas_in_two_strokes(knowledge):
    found = gas("12 g baking powder\n100 g water", knowledge)
    assert found.mix > 0
    assert found.early_oven + found.late_oven > 0.5 * found.total
    # 22.9 g of soda per 100 g, all neutralised
    assert 12 * 0.229 / SODA_G_PER_MOL * ML_PER_MOL == pytest.approx(found.total, rel=0.02)


def test_without_soda_there_is_no_gas(knowledge):
    found = gas("100 g water\n30 g lemon juice", knowledge)
    assert (0, 0) == (found.total, found.soda_meq)
    assert found.left_acid_meq > 0
