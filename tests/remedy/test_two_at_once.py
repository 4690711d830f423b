"""Two likely causes: their cures made together."""

from __future__ import annotations

from dataclasses import replace

import pytest
from case_files import demo

from advisor.remedy.plan.two_at_once import two_at_once


@pytest.fixture(scope="module")
def raw_and_salty(advisor):
    """Half the time in the oven and four times the salt, both of which the loaf shows."""
    formula = demo("almond-egg-loaf")
    lines = tuple(replace(x, grams=4 * x.grams) if x.ingredient.id == "salt" else x for x in formula.lines)
    bad = formula.with_lines(lines).with_process(bake_min=formula.process.bake_min / 2)
    return advisor.diagnose(bad, saw=["gummy_centre", "collapse_on_cooling", "too_salty"])


def test_both_faults_are_undone_and_what_is_not_at_fault_stays(advisor, raw_and_salty):
    plan = two_at_once(advisor.examiner, raw_and_salty.examination, raw_and_salty.plans.proposals)
    assert plan is not None
    was = raw_and_salty.examination.formula
    assert plan.formula.process.bake_min > was.process.bake_min
    assert plan.formula.grams_of("salt") < was.grams_of("salt")
    for line in was.lines:
        if line.ingredient.id != "salt":
            assert line.grams == plan.formula.grams_of(line.ingredient.id)


def test_together_they_help_more_than_the_first_alone(advisor, raw_and_salty):
    plan = two_at_once(advisor.examiner, raw_and_salty.examination, raw_and_salty.plans.proposals)
    assert plan.relief > raw_and_salty.plans.proposals[0].relief


def test_one_likely_cause_needs_no_second_change(advisor):
    answer = advisor.check(demo("canteen-sandwich-loaf"))
    assert two_at_once(advisor.examiner, answer.examination, answer.plans.proposals) is None
