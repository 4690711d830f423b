"""Where a lever stops: a little inside the near edge of the band."""

from __future__ import annotations

import pytest

from advisor.inference.bands import BandTable
from advisor.knowledge_base.measured import Band
from advisor.knowledge_base.rule_entries import LeverTarget
from advisor.remedy.levers.target import Aim, aim_at

ONLY = {"egg_set": 1.0}


def table(**edges):
    return BandTable.build((Band(measure="salt", structures=("any",), grade="practice", **edges),))


BOTH = table(low=1.0, high=2.0, scale=0.5)
INTO = LeverTarget(measure="salt", into="band")


@pytest.mark.parametrize(
    ("now", "value", "rising"),
    [(0.75, 1.225, True), (0.4, 1.3, True), (2.25, 1.775, False), (3.0, 1.7, False)],
)
def test_the_aim_lies_past_the_near_edge_further_the_further_out_it_was(now, value, rising):
    aim = aim_at(INTO, now, BOTH, ONLY)
    assert value == pytest.approx(aim.value)
    assert (rising, 1.0, 2.0) == (aim.rising, aim.low, aim.high)


def test_where_good_loaves_lie_near_an_edge_the_aim_does_too():
    near = table(low=1.0, high=2.0, scale=0.5, near_edge=True)
    assert 1.15 == pytest.approx(aim_at(INTO, 0.4, near, ONLY).value)


@pytest.mark.parametrize("now", [1.0, 1.5, 2.0, None])
def test_there_is_no_aim_where_all_is_well_or_nothing_known(now):
    assert aim_at(INTO, now, BOTH, ONLY) is None


def test_a_one_sided_band_is_measured_by_its_scale():
    aim = aim_at(INTO, 9.0, table(high=4.0, scale=2.0), ONLY)
    assert 4.0 - 0.15 * 2.0 == pytest.approx(aim.value)
    assert aim.low is None
    assert aim_at(INTO, 3.9, table(high=4.0, scale=2.0), ONLY) is None


def test_without_a_band_there_is_no_aim():
    assert aim_at(LeverTarget(measure="sugar", into="band"), 9.0, BOTH, ONLY) is None


def test_stated_edges_are_passed_a_little():
    up = aim_at(LeverTarget(measure="salt", above=5.0), 3.0, BOTH, ONLY)
    down = aim_at(LeverTarget(measure="salt", below=5.0), 8.0, BOTH, ONLY)
    assert (True, 5.0, None) == (up.rising, up.low, up.high)
    assert (False, None, 5.0) == (down.rising, down.low, down.high)
    assert down.value < 5.0 < up.value
    assert aim_at(LeverTarget(measure="salt", above=5.0), 5.0, BOTH, ONLY) is None
    assert aim_at(LeverTarget(measure="salt", below=5.0), 5.0, BOTH, ONLY) is None


def test_two_structures_blend_their_bands():
    blended = BandTable.build(
        (
            Band(measure="salt", structures=("egg_set",), low=1.0, high=2.0, scale=0.5, grade="practice"),
            Band(measure="salt", structures=("gum_bound",), low=2.0, high=3.0, scale=0.5, grade="practice"),
        )
    )
    aim = aim_at(INTO, 0.5, blended, {"egg_set": 0.5, "gum_bound": 0.5})
    assert (1.5, 2.5) == (aim.low, aim.high)
    assert 1.8 == pytest.approx(aim.value)


def test_reached_means_inside():
    aim = Aim(measure="salt", value=1.2, low=1.0, high=2.0, rising=True)
    assert [True, True, False, False, False] == [aim.reached(v) for v in (1.0, 2.0, 0.99, 2.01, None)]
