"""Soda against acids: hand-balanced amounts, and where the gas goes."""

from __future__ import annotations

import pytest
from gas_stages import oven, soda_gas

from advisor.formula.reading import read_formula_text
from advisor.models.leavening.neutralisation import ML_PER_MOL, SODA_G_PER_MOL, soda_and_acids


def dough(text, knowledge):
    return soda_and_acids(read_formula_text(text, knowledge), knowledge)


def gas(text, knowledge, **how):
    return soda_gas(read_formula_text(text, knowledge), knowledge, **how)


def test_vinegar_that_uses_up_a_teaspoon_of_soda(knowledge):
    """4.6 g soda is 54.76 mmol; so much acetic acid (60.05 g/mol) stands in 66 mL of vinegar of 5 g per 100 mL."""
    assert 4.6 / SODA_G_PER_MOL * 60.05 / 0.05 == pytest.approx(65.8, abs=0.2)
    found = dough(f"4.6 g baking soda\n{66 * 1.006} g white vinegar", knowledge)
    assert 54.76 == pytest.approx(found.soda_meq, abs=0.05)
    assert found.soda_meq == pytest.approx(found.acid_meq, rel=0.02)
    assert found.left_soda_meq + found.left_acid_meq < 1.1


def test_soda_with_acid_enough_gives_one_mole_of_gas_a_mole(knowledge):
    text = "84.0066 g baking soda\n300 g citric acid"
    assert ML_PER_MOL == pytest.approx(gas(text, knowledge).total, rel=0.01)
    assert ML_PER_MOL == pytest.approx(dough(text, knowledge).potential_ml, rel=0.01)
    assert 0 == dough(text, knowledge).left_soda_meq


def test_soda_alone_gives_half_of_it_by_heat_and_takes_its_time(knowledge):
    """2 NaHCO3 -> Na2CO3 + CO2 + H2O, first order: nothing cold, half of a mole a mole in the end."""
    text = "84.0066 g baking soda\n100 g water"
    found, long = gas(text, knowledge), gas(text, knowledge, warming=oven(hold_min=400))
    assert ML_PER_MOL / 2 == pytest.approx(dough(text, knowledge).potential_ml, rel=0.01)
    assert ML_PER_MOL / 2 == pytest.approx(long.total, rel=0.01)
    assert 1 > found.mix + found.bench
    assert found.late_oven > found.early_oven > 0
    assert found.total < long.total


def test_what_is_neutralised_of_both_is_the_same(knowledge):
    found = dough("3 g baking soda\n20 g lemon juice\n5 g baking powder", knowledge)
    assert found.soda_meq - found.left_soda_meq == pytest.approx(found.acid_meq - found.left_acid_meq)


def test_acid_left_over_is_counted(knowledge):
    found = dough("1 g baking soda\n100 g white vinegar", knowledge)
    assert 0 == found.left_soda_meq
    assert found.acid_meq - found.soda_meq == pytest.approx(found.left_acid_meq)


def test_an_acid_added_last_saves_gas_of_the_mixing_for_the_pan(knowledge):
    text = "300 g almond flour\n4 g baking soda\n60 g cider vinegar"
    first, last = gas(text, knowledge), gas(text + "\nadded last: cider vinegar", knowledge)
    assert first.total == pytest.approx(last.total, rel=1e-3)
    assert last.mix < 0.7 * first.mix
    assert first.mix - last.mix == pytest.approx(last.bench - first.bench, rel=0.05)


def test_powder_gives_its_gas_in_two_strokes(knowledge):
    found = gas("12 g baking powder\n100 g water", knowledge)
    assert found.mix > 0
    assert found.early_oven + found.late_oven > 0.5 * found.total
    # 22.9 g of soda per 100 g, all neutralised
    potential = dough("12 g baking powder\n100 g water", knowledge).potential_ml
    assert 12 * 0.229 / SODA_G_PER_MOL * ML_PER_MOL == pytest.approx(potential, rel=0.02)


def test_without_soda_there_is_no_gas(knowledge):
    text = "100 g water\n30 g lemon juice"
    assert 0 == gas(text, knowledge).total
    assert 0 == dough(text, knowledge).soda_meq
    assert dough(text, knowledge).left_acid_meq > 0


def test_a_fast_acid_has_first_call_on_the_soda(knowledge):
    """Soda for one acid only: cream of tartar takes it in the bowl, and nothing is left for the slow phosphate."""
    slow = "4 g baking soda\n6 g sapp"
    both = slow + "\n30 g cream of tartar"
    alone, shared = gas(slow, knowledge), gas(both, knowledge)
    assert shared.mix > 2 * alone.mix
    assert shared.early_oven + shared.late_oven < 0.35 * (alone.early_oven + alone.late_oven)


def test_an_hours_proof_spends_fast_powder_and_not_slow(knowledge):
    """What is left for the oven after an hour at 27 C: much of a slow powder, next to nothing of a fast one."""
    hour = ((60.0, 27.0),)
    fast, slow = (
        gas(text, knowledge, after=hour)
        for text in ("4 g baking soda\n9 g cream of tartar", "4 g baking soda\n5.6 g sapp")
    )
    assert fast.early_oven < 0.25 * fast.total
    assert slow.early_oven > 0.5 * slow.total


def test_powder_a_year_open_has_lost_much_of_its_strength(knowledge):
    fresh, old = (
        dough(f"12 g baking powder{x}\n100 g water", knowledge).potential_ml
        for x in ("", ", opened 12 months ago")
    )
    assert 0.4 * fresh < old < 0.75 * fresh


def test_a_crust_that_heats_fast_sets_before_slow_acid_has_given_its_gas(knowledge):
    """The quicker a shell passes from 60 C to its set, the less of a heat-acting acid acts in time."""
    text = "20 g baking powder"
    slow, quick = (gas(text, knowledge, warming=oven(per_min=p)) for p in (1.5, 12.0))
    assert quick.late_oven > 2 * slow.late_oven
