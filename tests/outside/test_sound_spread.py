"""Edges that rest on the spread of sound formulas stand where tests/sound_spread.py puts them."""

from __future__ import annotations

import pytest
import sound_spread

from advisor import default_advisor

pytestmark = pytest.mark.slow


DRAWN_FROM = frozenset({"own", *(f"round_{number}" for number in range(1, 6))})
"""The rounds that the edges were drawn from: of some bands more of the later ones lie outside than the rule allows."""


def test_no_edge_has_more_sound_formulas_outside_than_its_rule_allows():
    every = sound_spread.sound_formulas(default_advisor().examiner)
    formulas = [one for one in every if one.round in DRAWN_FROM]
    assert len(formulas) > 150
    assert {} == sound_spread.derived(formulas)


def test_a_limit_made_from_other_rounds_holds_most_of_the_next():
    """A tolerance limit that the next writer's formulas lie outside of more often than it says is none."""
    formulas = sound_spread.sound_formulas(default_advisor().examiner)
    held = missed = 0
    for left_out in {one.round for one in formulas} - {"own"}:
        others = sound_spread.spreads(sound_spread.by_band(o for o in formulas if o.round != left_out))
        for band, values in sound_spread.by_band(o for o in formulas if o.round == left_out).items():
            if band not in others:
                continue
            for side, edge in ((-1, band.low), (1, band.high)):
                if edge is not None:
                    limit = others[band].limit(sound_spread.EDGE, side)
                    missed += sum((v - limit) * side > 0 for v in values)
                    held += len(values)
    assert missed / held < 0.08
