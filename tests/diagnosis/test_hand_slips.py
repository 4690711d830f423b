"""A sound formula that was not made as written: the slip is named, and the formula is left in peace."""

from __future__ import annotations

from functools import cache

import pytest
from case_files import demo

from advisor import default_advisor, load_knowledge
from advisor.diagnosis.hand_slips import HandSlips, hand_slips
from advisor.explanation.answering import answer_of
from advisor.explanation.further import Further

EXAMINER = default_advisor().examiner
SLIPS = [
    ("ordinary-wheat-tin-loaf", ("weak_aroma", "coarse_holes"), "left_out", "salt"),
    ("canteen-sandwich-loaf", ("too_salty", "flat_loaf"), "doubled", "salt"),
    ("psyllium-rolls", ("flat_loaf", "runny_dough"), "left_out", "psyllium husk powder"),
    ("ordinary-wheat-tin-loaf", ("pale_crust", "gummy_centre"), "short_bake", None),
    ("almond-egg-loaf", ("flat_loaf", "dense_crumb"), "dead_powder", None),
]


@cache
def weighed(name: str, seen: tuple[str, ...]) -> HandSlips:
    return hand_slips(EXAMINER, EXAMINER.examine(demo(name), saw=seen, after_bake=True))


@pytest.mark.parametrize(("name", "seen", "slip", "line"), SLIPS)
def test_the_slip_is_among_the_first_three_that_bring_what_was_seen(name, seen, slip, line):
    formula, found = demo(name), weighed(name, seen)
    first = [s for s in found.found if s.brings][:3]
    named = [(s.id, None if s.line is None else formula.lines[s.line].ingredient.name) for s in first]
    assert (slip, line) in named
    assert all(s.asks for s in first)


@pytest.mark.parametrize(("name", "seen"), [(name, seen) for name, seen, *_ in SLIPS])
def test_hypotheses_share_what_is_certain(name, seen):
    found = weighed(name, seen)
    assert 1.0 == pytest.approx(found.as_written + sum(s.probability for s in found.found))
    assert all(0.0 <= s.probability <= 1.0 for s in found.found)


def test_a_formula_that_explains_what_was_seen_comes_first():
    found = weighed("canteen-sandwich-loaf-excess-water", ("gummy_centre", "collapse_on_cooling"))
    assert found.explained
    assert found.as_written > max(s.probability for s in found.found)


def test_where_nothing_in_the_formula_explains_it_the_page_says_so_and_leaves_it_alone():
    knowledge = load_knowledge()
    given = default_advisor().diagnose(demo("ordinary-wheat-tin-loaf"), saw=["weak_aroma", "coarse_holes"])
    hand = weighed("ordinary-wheat-tin-loaf", ("weak_aroma", "coarse_holes"))
    answer = answer_of(given, knowledge, Further(hand=hand))
    assert "Nothing in the formula as written explains this" in str(answer.verdict.problem)
    assert ("Settle that before you change the formula.",) == answer.verdict.first
    assert answer.by_hand is not None
    assert 3 == len(answer.by_hand.slips)


def test_nothing_is_weighed_before_anything_was_seen():
    assert () == hand_slips(EXAMINER, EXAMINER.examine(demo("almond-egg-loaf"))).found
