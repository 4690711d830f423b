"""A day's bake: nobody is lost between mixer and oven, waiting is worked out, and pans are timed anew."""

from __future__ import annotations

from itertools import pairwise

import pytest
from case_files import demo
from hypothesis import given
from hypothesis import strategies as st
from laws import examples

from advisor import scale_up
from advisor.explanation.oven_queue import Steps, better_day, even_sizes, longest_wait, queue
from advisor.formula.writing.scaling import ScalingFault, scale_to_dough
from advisor.models.retiming import retimed

STEPS = Steps(mix_min=6, rest_min=10, shape_min=0.5, proof_min=60, bake_min=40, reload_min=5, every_min=12)


@examples(60)
@given(loaves=st.integers(1, 60), batches=st.integers(1, 8), loads=st.integers(1, 8))
def test_every_loaf_is_baked_once_and_after_its_proof(loaves, batches, loads):
    sizes = even_sizes(loaves, min(batches, loaves))
    assert loaves == sum(sizes)
    assert max(sizes) - min(sizes) <= 1
    found = queue(sizes, min(loads, loaves), STEPS)
    assert loaves == sum(load.loaves for load in found)
    assert len(found) <= loads
    for before, after in pairwise(found):
        assert after.in_min >= before.out_min + STEPS.reload_min
    assert found[0].in_min >= STEPS.mix_min + STEPS.rest_min + STEPS.shape_min + STEPS.proof_min
    assert all(load.longest_wait_min >= 0 for load in found)
    assert better_day(sizes, min(loads, loaves), STEPS).wait_min <= longest_wait(found) + 0.5


def test_one_batch_in_two_loads_waits_a_bake_and_a_reload():
    first, second = queue((2,), 2, STEPS)
    assert second.in_min == first.in_min + 45
    assert second.longest_wait_min == pytest.approx(44.5)


def test_waiting_costs_a_yeast_loaf_and_better_spacing_spares_it():
    plan = scale_up(demo("canteen-sandwich-loaf"), 40, batches=3, oven_loads=4, mixer="spiral")
    assert plan.longest_wait_min > 120
    assert plan.risks
    assert max(risk.after - risk.before for risk in plan.risks) > 0.1
    assert (4, True) == (plan.better_batches, plan.better_wait_min < 10)
    assert 40 == sum(batch.loaves * len(batch.numbers) for batch in plan.batches)
    grams = sum(line.grams for line in plan.batches[0].lines)
    assert grams == pytest.approx(plan.batches[0].dough_g, rel=0.002)


def test_pans_that_are_sold_are_timed_by_the_heat_model():
    plan = scale_up(demo("canteen-sandwich-loaf"), 1)
    assert 3 == len(plan.pans)
    assert all(pan.bake is not None for pan in plan.pans)
    small = min(plan.pans, key=lambda pan: pan.factor)
    assert small.bake.now_min < small.bake.was_min


def test_a_time_keeps_its_place_past_done(knowledge):
    formula = demo("almond-egg-loaf")
    for factor in (0.5, 2.0):
        other = scale_to_dough(formula, factor * formula.dough_g)
        found = retimed(formula, other, knowledge)
        assert found.now_min / found.done_now_min == pytest.approx(
            found.was_min / found.done_was_min, rel=0.02
        )
        assert (factor > 1) == (found.now_min > found.was_min)
    same = retimed(formula, formula, knowledge)
    assert same.now_min == pytest.approx(same.was_min, abs=0.5)


def test_more_batches_than_loaves_is_refused():
    with pytest.raises(ScalingFault, match="no more batches"):
        scale_up(demo("canteen-sandwich-loaf"), 2, batches=3)
