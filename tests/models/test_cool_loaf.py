"""The cool loaf: bite, colour and keeping move as physics says, and smoothly."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from advisor import default_advisor, load_knowledge
from advisor.formula.reading import read_formula_text
from advisor.models.loaf.crumb_texture import CoolCrumb, texture_of
from advisor.models.loaf.films import Films
from advisor.models.loaf.influences import Influences, form_of
from advisor.models.loaf.keeping import LONGEST_DAYS, Firming, days_without_mould

KNOWLEDGE = load_knowledge()
NOTHING = Influences(by_thing={})
WHEAT = Films(
    shares={s: float(s == "kneaded_gluten") for s in KNOWLEDGE.structures},
    gluten_fill=0.45,
    egg_fill=0.0,
    watered=1.0,
)
LOAF = (
    "500 g bread flour\n{water} g water\n{sugar} g sugar\n15 g butter\n7 g instant yeast\n8 g salt\n"
    "pan: 25 x 11 x 11 cm\nmix: 10 min\nrest: 30 min\nproof: 55 min at 30 C\noven: {oven} C for {minutes} min"
)


def crumb(volume: float = 3.85, load: float = 0.72) -> CoolCrumb:
    return CoolCrumb(volume_ml_g=volume, water_load=load, gas_over_dough=3.6, mixing_hydration=1.0)


def measured(water: float = 310, sugar: float = 15, oven: float = 215, minutes: float = 30):
    text = LOAF.format(water=water, sugar=sugar, oven=oven, minutes=minutes)
    return default_advisor().examiner.measured(read_formula_text(text, KNOWLEDGE)).workings.measures


def test_an_ordinary_loaf_is_the_measure_of_all():
    bite = texture_of(crumb(1 / KNOWLEDGE.coefficient("firm_reference_density")), WHEAT, NOTHING, KNOWLEDGE)
    assert [1, 1, 1, 1] == pytest.approx(
        [bite.firmness, bite.cohesion, bite.springiness, bite.chew], abs=1e-9
    )


def test_firmness_goes_with_the_square_of_the_density():
    light, dense = (texture_of(crumb(v), WHEAT, NOTHING, KNOWLEDGE).firmness for v in (4.0, 2.0))
    assert dense == pytest.approx(4 * light)


def test_water_softens():
    found = [texture_of(crumb(load=w), WHEAT, NOTHING, KNOWLEDGE).firmness for w in (0.6, 0.7, 0.8, 0.9)]
    assert found == sorted(found, reverse=True)


def test_firming_begins_fresh_and_ends_at_its_rise():
    firming = Firming(fresh=0.8, rise=2.5, per_day=0.36, power=1.0)
    assert firming.after(0.0) == pytest.approx(0.8)
    assert firming.after(60.0) == pytest.approx(0.8 * 3.5, rel=1e-6)
    assert firming.after(firming.days_until(2.0)) == pytest.approx(1.6)
    assert LONGEST_DAYS == Firming(fresh=1, rise=0.5, per_day=0.36, power=1.0).days_until(2.0)


def test_mould_waits_for_the_dry_the_sour_and_the_preserved():
    usual = days_without_mould(0.955, 5.6, NOTHING, KNOWLEDGE)
    kept = Influences(by_thing={"mould": 0.6})
    assert usual == pytest.approx(KNOWLEDGE.coefficient("mould_days_usual"))
    assert 2 * usual == pytest.approx(days_without_mould(0.925, 5.6, NOTHING, KNOWLEDGE))
    assert usual < days_without_mould(0.955, 4.6, NOTHING, KNOWLEDGE)
    gained = [
        days_without_mould(0.955, ph, kept, KNOWLEDGE) / days_without_mould(0.955, ph, NOTHING, KNOWLEDGE)
        for ph in (5.0, 6.0)
    ]
    assert gained[0] > gained[1] > 1, "a preservative does more in a sour crumb"


@pytest.mark.parametrize(
    ("form", "at"),
    [("linear", 2.0), ("saturates", 1 - math.exp(-2)), ("peaks", 2 * math.exp(-1)), ("grows", 4 / 3)],
)
def test_forms(form, at):
    assert 0 == form_of(form, 0.0) == form_of(form, -1.0)
    assert at == pytest.approx(form_of(form, 2.0))


def test_a_crust_darkens_with_heat_time_and_sugar():
    for turned in ({"oven": (180, 200, 220, 240)}, {"minutes": (20, 30, 40)}, {"sugar": (1, 15, 40)}):
        ((name, steps),) = turned.items()
        found = [measured(**{name: step}).value("crust_lightness") for step in steps]
        assert found == sorted(found, reverse=True), turned
        assert found[0] - found[-1] > 4, turned


@pytest.mark.parametrize(
    "name", ["crumb_firmness", "cooled_volume", "crust_lightness", "slice_strength", "days_soft"]
)
def test_a_gram_more_water_makes_no_jump(name):
    found = [measured(water=w).value(name) for w in range(290, 341, 5)]
    assert all(abs(b / a - 1) < 0.06 for a, b in pairwise(found)), found
