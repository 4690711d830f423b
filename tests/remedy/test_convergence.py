"""Putting the first change in, again and again, makes a formula quiet and leads towards the sound one."""

from __future__ import annotations

import pytest
from convergence import Course, course, sisters, strangers, told
from edited_texts import counted


@pytest.fixture(scope="module")
def demo() -> list[Course]:
    return [course(faulty) for faulty in sisters()]


def test_a_failing_sister_is_quiet_within_two_rounds(demo: list[Course]) -> None:
    loud = [told(found) for found in demo if not found.quiet]
    assert 20 <= len(demo)
    assert 0.9 * len(demo) <= len(demo) - len(loud), loud


OTHER_WAY = {"ordinary-wheat-tin-loaf-overfilled-pan"}
"""Too much dough for its tin is cured by less yeast, and its sound sister has less dough."""


def test_no_failing_sister_goes_further_from_the_sound_one(demo: list[Course]) -> None:
    assert [] == [told(found) for found in demo if found.further and found.name not in OTHER_WAY]


@pytest.mark.long
def test_what_strangers_got_wrong_is_quiet_within_two_rounds() -> None:
    """The aim is nine in ten, and none further away; what is reached is held here, so that it does not get worse."""
    courses = [course(faulty) for faulty in strangers()]
    quiet, further = sum(c.quiet for c in courses), [told(c) for c in courses if c.further]
    assert 0.85 * len(courses) <= quiet, counted(quiet, len(courses))
    assert len(further) <= 0.12 * len(courses), further
