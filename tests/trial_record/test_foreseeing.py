"""What would explain a measured core or size is found again where it was put in, and only where it can be told."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pytest import approx
from simulated_kitchens import run, stated

from advisor.diagnosis.kitchen_shifts import KitchenShifts
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Advisor
from advisor.trial_record.bake import CameOut
from advisor.trial_record.foreseeing import expected_of, foresee


@pytest.mark.parametrize("offset", [-25.0, -15.0, -5.0])
def test_a_hidden_oven_error_is_found_from_the_core(offset: float, advisor: Advisor) -> None:
    formula = stated("canteen-sandwich-loaf")
    examiner = advisor.examiner
    really = examiner.examine(formula.with_process(oven_offset_c=offset), after_bake=False)
    came = CameOut(core_c=expected_of(really.workings).core_c)
    assert offset == approx(foresee(examiner, formula, came, ()).oven_offset_c, abs=4)


@pytest.mark.parametrize("strength", [0.4, 0.6, 0.8])
def test_a_weak_powder_is_found_from_the_height(
    strength: float, advisor: Advisor, knowledge: Knowledge
) -> None:
    formula = stated("almond-egg-loaf")
    weak = KitchenShifts(powder_strength=strength).formula_here(formula, knowledge)
    came = CameOut(height_cm=expected_of(advisor.examiner.examine(weak, after_bake=False).workings).height_cm)
    found = foresee(advisor.examiner, formula, came, ())
    assert strength == approx(found.powder_strength, abs=0.05)
    assert foresee(advisor.examiner, formula, came, (), seen=("collapse_in_oven",)).powder_strength is None


def test_a_core_near_boiling_and_a_stated_oven_tell_nothing(advisor: Advisor) -> None:
    formula = stated("canteen-sandwich-loaf")
    long = formula.with_process(bake_min=150.0)
    assert foresee(advisor.examiner, long, CameOut(core_c=99.2), ()).oven_offset_c is None
    known = formula.with_process(oven_offset_c=-10.0)
    assert foresee(advisor.examiner, known, CameOut(core_c=88.0), ()).oven_offset_c is None
    assert foresee(advisor.examiner, formula, CameOut(), ()).oven_offset_c is None


def test_what_was_learnt_does_not_colour_what_is_foreseen(advisor: Advisor) -> None:
    """Or a shift would rest on itself."""
    formula, came = stated("canteen-sandwich-loaf"), CameOut(core_c=88.0, height_cm=10.0)
    taught = advisor.examiner.in_kitchen(
        KitchenShifts(base_rates={"underbaked": 2.0}, oven_offset_c=-20.0, powder_strength=0.5)
    )
    told = ("gummy_centre",)
    assert foresee(advisor.examiner, formula, came, told) == foresee(taught, formula, came, told)


def test_a_core_written_in_the_formula_is_no_prediction(advisor: Advisor) -> None:
    formula = stated("canteen-sandwich-loaf")
    noted = replace(formula, process=replace(formula.process, core_measured_c=70.0))
    came = CameOut(core_c=70.0)
    assert foresee(advisor.examiner, formula, came, ()) == foresee(advisor.examiner, noted, came, ())


def test_ten_bakes_in_a_kitchen_with_a_hidden_bias_bring_its_cause_first_oftener() -> None:
    """A small part of what tests/bench/bench_learning.py measures on 200 kitchens."""
    found = [run(bias, 5, seed=3, tried=4) for bias in ("oven", "powder")]
    without, learnt, loaves = (sum(each) for each in zip(*found, strict=True))
    assert 40 == loaves
    assert learnt >= without + 0.1 * loaves
