"""What sets at which temperature, and what the unset part of a loaf costs it."""

from __future__ import annotations

import pytest
from case_files import balanced_names, demo
from gas_stages import oven
from hypothesis import given
from hypothesis import strategies as st
from laws import examples

from advisor import load_knowledge
from advisor.formula.reading import read_formula_text
from advisor.models.dough.coagulation import set_share
from advisor.models.loaf.after_set import set_course, shrinkage
from advisor.models.measuring import dough_state_of, measure

KNOWLEDGE = load_knowledge()


def setting(text):
    return dough_state_of(read_formula_text(text, KNOWLEDGE), KNOWLEDGE).setting


def test_egg_white_sets_over_a_range_and_not_at_a_point():
    """61 to 88 C from the ovotransferrin to the ovalbumin (protein_classes.yaml names its sources)."""
    white = setting("300 g egg white").carriers
    assert 0 == set_share(white, 60)
    assert 0.2 < set_share(white, 72) < 0.6
    assert 1 == pytest.approx(set_share(white, 88.5))


def test_custard_of_whole_egg_stands_near_80_c():
    """Diluted whole egg sets at 79 to 83 C (handbook, from memory); half of its protein lies beneath, the yolk's."""
    assert 74 <= setting("200 g whole egg\n300 g water").set_c <= 83


def test_an_ordinary_wheat_crumb_stands_where_its_expansion_ends():
    """Expansion of wheat bread ends at 68 to 80 C (from memory of baking texts)."""
    assert 68 <= setting("500 g bread flour\n320 g water").set_c <= 80


def test_yolk_sets_before_white_and_white_before_whey():
    order = [setting(f"100 g {x}").set_c for x in ("egg yolk", "egg white", "whey protein isolate")]
    assert order == sorted(order)


def test_cheese_and_gelatine_carry_only_when_cold():
    cheesy = setting("300 g low-moisture mozzarella\n50 g whole egg\n80 g almond flour")
    assert cheesy.cool_share > 0.5
    assert 0 == setting("300 g whole egg\n100 g almond flour").cool_share
    more = setting("300 g whole egg\n100 g almond flour\n20 g gelatine")
    assert more.cool_share > 0.1


@examples(40)
@given(st.sampled_from(balanced_names()), st.floats(20, 115), st.floats(0, 20))
def test_hotter_never_sets_less(name, temp_c, more):
    s = dough_state_of(demo(name), KNOWLEDGE).setting
    assert set_share(s.carriers, temp_c) <= set_share(s.carriers, temp_c + more) + 1e-12
    assert 0 <= set_share(s.carriers, temp_c) <= 1
    assert set_share(s.carriers, s.set_c + 0.5) >= s.carries_from - 0.02


def test_what_has_set_does_not_come_undone_as_the_oven_cools():
    s = setting("300 g whole egg")
    rising = set_course(oven(per_min=2.0), s)
    assert list(rising.share) == sorted(rising.share)
    assert rising.at(0) == 0
    assert rising.at(1e6) == rising.share[-1]


def test_a_loaf_pulled_raw_shrinks_and_one_baked_through_hardly():
    dough_state = dough_state_of(demo("almond-egg-loaf"), KNOWLEDGE)
    work = measure(dough_state, KNOWLEDGE)
    lost = [shrinkage(work.rise, dough_state.setting, s, 0.0, KNOWLEDGE) for s in (0.3, 0.7, 1.0)]
    assert lost == sorted(lost, reverse=True)
    assert lost[0] > 0.1
    assert lost[2] < 0.02


def test_a_door_opened_later_finds_more_set():
    shares = []
    for minute in (15, 30, 45, 60):
        formula = demo("canteen-sandwich-loaf").with_process(opened_at_min=float(minute))
        work = measure(dough_state_of(formula, KNOWLEDGE), KNOWLEDGE)
        shares.append(work.measures.value("set_share_at_door"))
    assert shares == sorted(shares)
    assert shares[0] < 0.5 < shares[-1]


def test_high_kitchens_bake_bigger_from_the_same_gas():
    """Less air pressure, larger bubbles (standard atmosphere 1976)."""
    volumes = []
    for altitude in (0.0, 1200.0, 2200.0):
        formula = demo("almond-egg-loaf").with_process(altitude_m=altitude)
        work = measure(dough_state_of(formula, KNOWLEDGE), KNOWLEDGE)
        volumes.append(work.measures.value("specific_volume"))
    assert volumes == sorted(volumes)


def test_sugar_makes_starch_set_later():
    """Spies and Hoseney 1982 (from memory): sugar raises gelatinisation, by some degrees in a sweet dough."""
    found = [
        dough_state_of(
            read_formula_text(f"400 g corn starch\n300 g water\n{g} g sugar\n8 g guar gum", KNOWLEDGE),
            KNOWLEDGE,
        ).setting.set_c
        for g in (1, 50, 100, 150)
    ]
    assert found == sorted(found)
    assert 4 < found[-1] - found[0] < 15
