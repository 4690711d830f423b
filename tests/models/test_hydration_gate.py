"""The gate on the water model: unlike good formulas lie in their bands with one set of coefficients.

Twelve demo formulas and twenty more in tests/cases/sound (wheat, rice with HPMC, maize, buckwheat, gluten and egg,
almond, coconut, sesame, egg-white foam, psyllium, flax, cheese, lupin); common practice, no source: they bake well
at the bench. The published psyllium series stands in tests/outside/test_published_water.py.
"""

from __future__ import annotations

import pytest
from case_files import balanced_names, demo, sound_loaves

from advisor import default_advisor, load_knowledge
from advisor.formula.reading import read_formula_text
from advisor.inference.bands import BandTable
from advisor.models.measuring import dough_state_of

STRUCTURES = {
    "almond-egg-loaf": "egg_set",
    "canteen-sandwich-loaf": "gluten_egg",
    "cheese-dough-rounds": "cheese_bound",
    "coconut-breakfast-loaf": "egg_set",
    "egg-white-loaf": "egg_set",
    "gluten-fibre-tin-loaf": "kneaded_gluten",
    "lupin-egg-rolls": "kneaded_gluten",
    "maize-reference-loaf": "starch_gel",
    "ordinary-wheat-tin-loaf": "kneaded_gluten",
    "psyllium-rolls": "gum_bound",
    "rice-reference-loaf": "starch_gel",
    "seed-meal-loaf": "gum_bound",
}
GATED = (
    "mixing_hydration",
    "baked_water_load",
    "setting_protein_pct",
    "gum_load",
    "filler_ratio",
    "fat_ratio",
)


def _formulas():
    knowledge = load_knowledge()
    for name, structure in STRUCTURES.items():
        yield pytest.param(demo(name), structure, id=name)
    for case in sound_loaves():
        yield pytest.param(read_formula_text(case.text, knowledge, name=case.id), case.structure, id=case.id)


@pytest.mark.parametrize(("formula", "structure"), list(_formulas()))
def test_a_good_formula_lies_in_every_band_of_its_structure(formula, structure, knowledge):
    values = {
        k: v for k, v in dough_state_of(formula, knowledge).values.items() if v is not None and k in GATED
    }
    judged = BandTable.build(knowledge.bands).judge({structure: 1.0}, values)
    outside = {n: (round(j.value, 2), j.low, j.high) for n, j in judged.items() if j.state != "in"}
    assert {} == outside


@pytest.mark.parametrize("name", sorted(set(balanced_names()) - set(STRUCTURES)))
def test_what_the_gate_passes_over_is_a_kind_with_measures_of_its_own(name, knowledge):
    kinds = default_advisor().examiner.kinds
    kind = kinds.of(dough_state_of(demo(name), knowledge)).kind
    assert kind.bands or kind.left_out, kind.id


@pytest.mark.parametrize("formula", [pytest.param(demo(n), id=n) for n in STRUCTURES])
def test_a_third_more_or_less_of_all_water_leaves_the_band(formula, knowledge):
    """A band that nothing leaves says nothing: the load must fail when the loaf would."""
    table = BandTable.build(knowledge.bands)
    structure = STRUCTURES.get(formula.name)
    structure = structure or next(s for n, s in STRUCTURES.items() if demo(n).name == formula.name)
    dough_state = dough_state_of(formula, knowledge)
    for factor, state in ((1.45, "high"), (0.6, "low")):
        load = dough_state.water.available * factor / dough_state.water.holding
        assert state == table.judge({structure: 1.0}, {"baked_water_load": load})["baked_water_load"].state
