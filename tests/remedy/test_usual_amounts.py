"""What stands far from what is usual goes to what is usual, and no change goes out of it."""

from __future__ import annotations

import pytest

from advisor import default_advisor, read_formula
from advisor.remedy.proposal import Proposal

HUSK = """Husk rounds for the freezer
180 g almond flour
{psyllium} g psyllium husk powder
{powder} g baking powder
5 g salt
120 g egg whites
12 g cider vinegar
270 g boiling water
makes 6 rolls
oven: 175 C for 55 min
"""
GLUTEN = """High tin
{gluten} g vital wheat gluten
{fibre} g oat fibre
40 g ground flaxseed
{salt} g salt
8 g instant yeast
8 g sugar
2 eggs
{oil} g olive oil
250 g warm water
pan: 23 x 12 x 8 cm
mix: 6 min
proof: 60 min at 28 C
oven: 180 C for 45 min
"""
AS_WRITTEN = {"gluten": 160, "fibre": 60, "salt": 6, "oil": 20}


def first(text: str, *saw: str) -> Proposal:
    return default_advisor().diagnose(read_formula(text), saw=saw).plans.proposals[0]


def after(proposal: Proposal, name: str) -> float:
    return next(c.after or 0.0 for c in proposal.changes if name in c.what)


@pytest.mark.parametrize(
    ("text", "saw", "name", "least", "most"),
    [
        (HUSK.format(psyllium=38, powder=30), ("soapy_taste", "bitter_taste"), "baking powder", 8, 13),
        (GLUTEN.format(**{**AS_WRITTEN, "salt": 20}), ("too_salty", "slow_proof"), "salt", 4, 7),
        (GLUTEN.format(**{**AS_WRITTEN, "oil": 150}), ("greasy_crumb", "dense_crumb"), "oil", 15, 40),
        (GLUTEN.format(**{**AS_WRITTEN, "gluten": 300, "fibre": 25}), ("rubbery_chew",), "gluten", 150, 230),
    ],
)
def test_twice_what_is_usual_goes_to_what_is_usual(
    text: str, saw: tuple[str, ...], name: str, least: float, most: float
) -> None:
    assert least <= after(first(text, *saw), name) <= most


def test_a_cut_does_not_go_below_what_is_usual() -> None:
    soda = """Squash loaf
260 g almond flour
30 g coconut flour
14 g baking soda
4 g salt
4 eggs
240 g pumpkin puree
80 g sour cream
60 g butter, melted
pan: 23 x 12 x 8 cm
oven: 175 C for 60 min
"""
    assert 2.5 <= after(first(soda, "soapy_taste", "dark_crust"), "soda") <= 5


def test_less_psyllium_takes_the_water_that_it_held_with_it() -> None:
    text = HUSK.format(psyllium=90, powder=9)
    answer = default_advisor().diagnose(read_formula(text), saw=("rubbery_chew", "purple_crumb"))
    cut = next(p for p in answer.plans.proposals if any("psyllium" in c.what for c in p.changes))
    assert 20 <= after(cut, "psyllium") <= 45
