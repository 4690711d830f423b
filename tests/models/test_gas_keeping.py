"""What helps and hinders a dough in keeping gas: each thing alone, and only where it acts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from advisor.formula.reading import read_formula_text
from advisor.models.dough.hydration import water_budget
from advisor.models.dough.proteins import framework
from advisor.models.loaf.gas_keeping import FilmMakers, Gum, film_makers, film_strength, gas_retention

PLAIN = FilmMakers()
GLUTEN, STARCH, EGG = {"kneaded_gluten": 1.0}, {"starch_gel": 1.0}, {"egg_set": 1.0}
HPMC = Gum(grams=20, in_proof=0.4, in_oven=1.0)
PSYLLIUM = Gum(grams=20, in_proof=1.0, in_oven=0.5)


def made_of(text, knowledge, stages=((50.0, 30.0),)):
    formula = read_formula_text(text, knowledge)
    water = water_budget(formula, knowledge)
    return film_makers(
        formula, framework(formula, water, knowledge), water.mixing_hydration, stages, knowledge
    )


def test_filler_costs_gluten_its_gas(knowledge):
    kept = [gas_retention(replace(PLAIN, filler_weighed=f), GLUTEN, 100, knowledge) for f in (0.0, 0.5, 2.0)]
    assert kept == sorted(kept, reverse=True)
    assert kept[2] < 0.8 * kept[0]
    assert all(0 < k < 1 for k in kept)


def test_fine_pulse_flour_counts_for_less_filler_than_bran(knowledge):
    """Liu, Chen and Xu 2018: a tenth of lupin, soy and bean flour leaves 0.98, 0.93 and 0.90 of the volume."""
    weighed = [
        made_of(f"450 g bread flour\n50 g {filler}\n315 g water", knowledge).filler_weighed
        for filler in ("lupin flour", "full fat soy flour", "chickpea flour", "wheat bran")
    ]
    assert weighed == sorted(weighed)
    assert weighed[2] < 0.5 * weighed[3]


def test_a_starch_loaf_needs_gum_to_keep_its_gas_and_a_gluten_loaf_does_not(knowledge):
    some, plenty, more = (replace(PLAIN, gums=(replace(HPMC, grams=g),)) for g in (1.5, 9.0, 30.0))
    kept = [gas_retention(m, STARCH, 100, knowledge) for m in (PLAIN, some, plenty)]
    assert kept == sorted(set(kept))
    assert kept[2] == gas_retention(more, STARCH, 100, knowledge), (
        "past what the film needs more keeps no more"
    )
    assert gas_retention(PLAIN, GLUTEN, 100, knowledge) == gas_retention(plenty, GLUTEN, 100, knowledge)


def test_a_gum_for_the_proof_and_one_for_the_oven_beat_either(knowledge):
    """Haque and Morris 1994."""
    one, other, both = (
        gas_retention(replace(PLAIN, gums=gums), STARCH, 400, knowledge)
        for gums in ((HPMC,), (PSYLLIUM,), (HPMC, PSYLLIUM))
    )
    assert both > max(one, other)


def test_bubbles_rise_out_of_a_thin_batter_without_gum(knowledge):
    kept = [gas_retention(replace(PLAIN, hydration=h), STARCH, 100, knowledge) for h in (1.1, 1.2, 1.3, 1.5)]
    assert kept == sorted(kept, reverse=True)


@pytest.mark.parametrize(
    "name", ["kneaded_gluten", "gluten_egg", "egg_set", "gum_bound", "cheese_bound", "starch_gel"]
)
def test_a_dough_far_too_stiff_or_far_too_slack_keeps_less(name, knowledge):
    structure = knowledge.structures[name]
    best = (structure.stiff_below.value + structure.slack_above.value) / 2
    gums = (Gum(grams=100, in_proof=1.0, in_oven=1.0),)
    stiff, good, slack = (
        gas_retention(replace(PLAIN, hydration=h, gums=gums), {name: 1.0}, 100, knowledge)
        for h in (0.6 * best, best, 2 * best)
    )
    assert stiff < good
    assert slack < good


def test_native_whey_weakens_gluten_and_heated_whey_less(knowledge):
    """Soogund and Santchurn: native whey costs volume, heat-treated does not."""
    flour = "500 g bread flour\n315 g water\n"
    fresh = made_of(flour + "180 g whole milk", knowledge)
    dried = made_of(flour + "23 g whole milk powder", knowledge)
    native = made_of(flour + "15 g whey protein isolate", knowledge)
    assert 1 > film_strength(fresh, GLUTEN, knowledge) > film_strength(native, GLUTEN, knowledge)
    assert dried.whey_to_gluten < 0.6 * fresh.whey_to_gluten
    assert 1 == film_strength(native, EGG, knowledge)


def test_a_little_fat_helps_kneaded_gluten_and_much_does_not(knowledge):
    """Moore and Hoseney 1986: 3 % of shortening."""
    none, some, much = (
        film_strength(replace(PLAIN, added_fat=f), GLUTEN, knowledge) for f in (0.0, 3.0, 25.0)
    )
    assert none == 1 < much < 1.01 < some
    assert 1 == film_strength(replace(PLAIN, added_fat=3.0), STARCH, knowledge)


def test_linking_helps_where_there_is_no_network_and_tightens_gluten(knowledge):
    """Rice bread is best at a middle dose (Gujral and Rosell 2004); wheat only gets smaller (Caballero 2007)."""
    none, fit, over = (replace(PLAIN, linked=u, linking=20 * u) for u in (0.0, 8.0, 45.0))
    assert film_strength(fit, STARCH, knowledge) > film_strength(none, STARCH, knowledge)
    assert film_strength(none, STARCH, knowledge) > film_strength(over, STARCH, knowledge)
    assert film_strength(fit, GLUTEN, knowledge) < film_strength(none, GLUTEN, knowledge)


def test_egg_white_beside_a_gelling_gum_costs_gas_until_it_makes_walls(knowledge):
    """Crockett, Ie and Vodovotz 2011: 5 % weakens, 15 % raises the volume."""
    little, much = (replace(PLAIN, gums=(HPMC,), rivals=p, heat_set=p) for p in (4.0, 12.0))
    assert film_strength(little, STARCH, knowledge) < 1
    assert film_strength(little, STARCH, knowledge) < film_strength(much, STARCH, knowledge)
    assert 1 == film_strength(replace(little, gums=(PSYLLIUM,)), STARCH, knowledge)


def test_caseinate_lines_bubbles_and_casein_of_cheese_does_not(knowledge):
    caseinate = made_of("500 g bread flour\n315 g water\n20 g sodium caseinate", knowledge)
    cheese = made_of("500 g bread flour\n315 g water\n80 g mozzarella", knowledge)
    assert film_strength(caseinate, GLUTEN, knowledge) > 1.05
    assert 0 == cheese.surfactant


def test_between_two_structures_keeping_is_between(knowledge):
    makers = replace(PLAIN, filler_weighed=0.5, gluten_fill=0.4)
    one, two = (gas_retention(makers, {s: 1.0}, 100, knowledge) for s in ("kneaded_gluten", "gluten_egg"))
    assert (one + two) / 2 == pytest.approx(
        gas_retention(makers, {"kneaded_gluten": 0.5, "gluten_egg": 0.5}, 100, knowledge), rel=0.02
    )
