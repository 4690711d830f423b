"""Water against published series: what a dough takes at workable consistency, and what sets how much.

- Psyllium series: Fratelli C, Santos FG, Muniz DG, Habu S, Braga ARC, Capriles VD (2021) Foods 10(5):954; the water
  figures are from a transcription of its table.
- Maize and rice: Rozylo R et al. (2015) International Agrophysics 29(3):353 (abstract seen): water from 80 to 120 %
  of flour, best at 120 for maize and 80 for rice.
- Egg: US composition tables, release 28, NDB 01123 (whole egg) and 01077 (milk); a custard's ratio is practice.
"""

from __future__ import annotations

import pytest

from advisor import load_knowledge
from advisor.formula.reading import read_formula_text
from advisor.inference.bands import BandTable
from advisor.models.measuring import dough_state_of

SERIES = ((2.86, 82.14), (7.14, 91.10), (17.14, 117.86))


def values(text: str):
    knowledge = load_knowledge()
    return dough_state_of(read_formula_text(text, knowledge), knowledge).values


def psyllium_dough(psyllium: float, water: float) -> str:
    # 100 g of rice flour and starch; three parts to one is our reading of "flour and starch base"
    return f"75 g white rice flour\n25 g tapioca starch\n{psyllium} g psyllium husk powder\n{water} g water"


def test_the_psyllium_series_stays_at_one_consistency():
    found = [values(psyllium_dough(*step))["mixing_hydration"] for step in SERIES]
    middle = sum(found) / len(found)
    assert [pytest.approx(middle, rel=0.12)] * 3 == found


def test_giving_every_dose_the_same_water_would_not():
    """The check above can fail: with the first dose's water the last dough is a fifth too stiff or more."""
    first, last = (
        values(psyllium_dough(p, SERIES[0][1]))["mixing_hydration"] for p in (SERIES[0][0], SERIES[2][0])
    )
    assert last < 0.8 * first


def test_a_gram_of_psyllium_goes_with_two_to_two_and_a_half_grams_of_water():
    """Water at which the first dough's consistency returns, over the grams added; 15 % for the base's own slope."""
    knowledge = load_knowledge()
    first = values(psyllium_dough(*SERIES[0]))["mixing_hydration"]
    uptake = knowledge.ingredients["psyllium_powder"].dough_uptake.value
    assert 2.0 * 0.85 <= uptake * first <= 2.5 * 1.15


def flour_dough(flour: str, water: float) -> str:
    return f"400 g {flour}\n{water} g water\n8 g instant yeast\n8 g sugar\n8 g salt"


def states(flour: str, percent: float) -> dict[str, str]:
    found = values(flour_dough(flour, 400 * percent / 100))
    two = {k: found[k] for k in ("mixing_hydration", "baked_water_load")}
    judged = BandTable.build(load_knowledge().bands).judge({"starch_gel": 1.0}, two)
    return {k: j.state for k, j in judged.items()}


@pytest.mark.parametrize(("flour", "best"), [("maize flour", 120), ("white rice flour", 80)])
def test_each_flour_lies_in_its_bands_at_its_best_water(flour, best):
    assert {"mixing_hydration": "in", "baked_water_load": "in"} == states(flour, best)


def test_each_flour_leaves_a_band_at_the_other_ones_best_water():
    assert "low" in states("maize flour", 80).values()
    assert "high" in states("white rice flour", 120).values()


def test_boiled_egg_sets_at_its_own_protein():
    # NDB 01123: 12.56 g of protein and 76.15 g of water: 12.56 / 88.71
    assert values("4 large eggs")["setting_protein_pct"] == pytest.approx(100 * 12.56 / 88.71, abs=0.1)


def test_a_custard_sets_softly_near_two_and_a_half_per_cent():
    """One egg to 250 mL of milk (258 g): egg protein over itself and the water of both."""
    knowledge = load_knowledge()
    egg, milk = knowledge.ingredients["whole_egg"].per_100g, knowledge.ingredients["whole_milk"].per_100g
    protein, water = 0.5 * egg.protein, 0.5 * egg.water + 2.58 * milk.water
    assert 100 * protein / (protein + water) == pytest.approx(2.4, abs=0.15)
    # The model counts what whey sets as well: a little above the egg alone, and far under a loaf.
    found = values("1 large egg\n258 g whole milk")["setting_protein_pct"]
    assert 2.4 - 0.15 <= found <= 3.3
