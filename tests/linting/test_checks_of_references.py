"""Every id that an entry names must exist; each sample misspells one."""

from __future__ import annotations

import pytest
from spoiling import Kitchen

from advisor.knowledge_base.knowledge import read_knowledge
from advisor.linting.checking import lint_knowledge

RULES = "rules/hydration/water.yaml"
FEW = "knowledge/ingredients/few.yaml"


@pytest.mark.parametrize(
    ("file", "old", "new", "finding"),
    [
        (FEW, "traits: [swelling]\n  solids_like", "traits: [sweling]\n  solids_like",
         f"{FEW}:20 reference psyllium_powder: no trait 'sweling'; did you mean 'swelling'?"),
        (FEW, "solids_like: psyllium_husk", "solids_like: psylium_husk",
         f"{FEW}:20 reference psyllium_powder: no ingredient 'psylium_husk'; did you mean 'psyllium_husk'?"),
        (FEW, "solids_like: psyllium_husk", "solids_like: psyllium_powder",
         f"{FEW}:20 reference psyllium_powder: solids_like names the ingredient itself"),
        (FEW, "{acetic_acid:", "{acetic_acd:",
         f"{FEW}:27 reference vinegar: no acid 'acetic_acd'; did you mean 'acetic_acid'?"),
        (FEW, "{egg_white: 1}", "{yolk: 1}", f"{FEW}:7 reference egg_white: no protein class 'yolk'"),
        (FEW, "data_set: handbook, record: page 4", "data_set: hanbook, record: page 4",
         f"{FEW}:20 reference psyllium_powder: no source 'hanbook'; did you mean 'handbook'?"),
        ("knowledge/coefficients.yaml", "Fat.\", grade: published, sources: [handbook]",
         "Fat.\", grade: published, sources: [handbok]",
         "knowledge/coefficients.yaml:2 reference energy_eu_fat: "
         "no source 'handbok'; did you mean 'handbook'?"),
        ("knowledge/coefficients.yaml", "tests/pins.py", "tests/pin.py::test_it",
         "knowledge/coefficients.yaml:4 pinned_by energy_eu_organic_acid: "
         "no test file 'tests/pin.py::test_it'"),
        ("knowledge/structures.yaml", "network: [egg_white]", "network: [egg_whit]",
         "knowledge/structures.yaml:1 reference egg_set: "
         "no protein class 'egg_whit'; did you mean 'egg_white'?"),
        ("knowledge/bands.yaml", "structures: [any]", "structures: [eg_set]",
         "knowledge/bands.yaml:2 reference setting_protein_pct@eg_set: no structure 'eg_set'; "
         "did you mean 'egg_set'?"),
        ("knowledge/bands.yaml", "measure: setting_protein_pct", "measure: setting_protein",
         "knowledge/bands.yaml:2 reference setting_protein@any: no measure 'setting_protein'; "
         "did you mean 'setting_protein_pct'?"),
        ("knowledge/causes.yaml", "refines: excess_water", "refines: exces_water",
         "knowledge/causes.yaml:2 reference unrested: no cause 'exces_water'; did you mean 'excess_water'?"),
        ("knowledge/levers.yaml", "ingredient_role: water", "ingredient_role: watr",
         "knowledge/levers.yaml:1 reference cut-water: no role 'watr'; did you mean 'water'?"),
        ("knowledge/levers.yaml", "{ingredient_role: water}", "{replace: [watr, egg_white]}",
         "knowledge/levers.yaml:1 reference cut-water: no ingredient 'watr'; did you mean 'water'?"),
        ("knowledge/levers.yaml", "{ingredient_role: water}", "{trait: sweling}",
         "knowledge/levers.yaml:1 reference cut-water: no trait 'sweling'; did you mean 'swelling'?"),
        ("knowledge/levers.yaml", "{ingredient_role: water}", "{process: rest_mn}",
         "knowledge/levers.yaml:1 reference cut-water: no process field 'rest_mn'; did you mean 'rest_min'?"),
        ("knowledge/levers.yaml", "  effort: small", "  structures: [egg_se]\n  effort: small",
         "knowledge/levers.yaml:1 reference cut-water: no structure 'egg_se'; did you mean 'egg_set'?"),
        (RULES, "- {process: rest_min, below: 5}", "- {process: rest_mn, below: 5}",
         f"{RULES}:16 reference swelling-in-haste: no process field 'rest_mn'; did you mean 'rest_min'?"),
        (RULES, "- {process: rest_min, below: 5}", "- {process: rest_min, is: short}",
         f"{RULES}:16 reference swelling-in-haste: rest_min is a number: read it by above or below"),
        (RULES, "- {process: rest_min, below: 5}", "- {process: pan_material, below: 5}",
         f"{RULES}:16 reference swelling-in-haste: pan_material is a word: read it by 'is'"),
        (RULES, "- {process: rest_min, below: 5}", '- {process: oven_fan, is: "tru"}',
         f"{RULES}:16 reference swelling-in-haste: no word of oven_fan 'tru'; did you mean 'true'?"),
        (RULES, "- {process: rest_min, below: 5}", "- {symptom: gumy_centre}",
         f"{RULES}:16 reference swelling-in-haste: no symptom 'gumy_centre'; did you mean 'gummy_centre'?"),
        (RULES, "- {process: rest_min, below: 5}", "- not: {structure: eg_set}",
         f"{RULES}:16 reference swelling-in-haste: no structure 'eg_set'; did you mean 'egg_set'?"),
        (RULES, "{trait: swelling, above: 1}", "{trait: sweling, above: 1}",
         f"{RULES}:16 reference swelling-in-haste: no trait 'sweling'; did you mean 'swelling'?"),
        (RULES, 'is: "no"', 'is: "noo"',
         f"{RULES}:28 reference unrested-says-baker: no answer to rested 'noo'; did you mean 'no'?"),
        (RULES, "{caution: raw_dough}", "{caution: raw_dough}, {ask: restd}",
         f"{RULES}:6 reference water-beyond-set: no question 'restd'; did you mean 'rested'?"),
        (RULES, "then: [{structure: egg_set}]", "then: [{structure: egg_st}]",
         f"{RULES}:1 reference egg-sets: no structure 'egg_st'; did you mean 'egg_set'?"),
        ("knowledge/symptoms.yaml", 'below.", look: "Turn it over.", severity: 0.5, leak: 0.02, seconds: 5, '
         "alike: wet_crumb", 'below.", look: "Turn it over.", severity: 0.5, leak: 0.02, seconds: 5',
         "knowledge/symptoms.yaml:1 reference gummy_centre: no other symptom that is alike by 'wet_crumb'"),
    ],
)  # fmt: skip
def test_every_id_must_exist_and_the_nearest_is_offered(
    kitchen: Kitchen, file: str, old: str, new: str, finding: str
) -> None:
    kitchen.change(file, old, new)
    found = [str(f) for f in kitchen.findings() if f.check in ("reference", "pinned_by")]
    # Some samples leave an orphan behind as well, or break an id that two checks read.
    assert [finding] == found


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("then: [{suspect: unrested, evidence: moderate}]", "then: [{suspect: unrestd, evidence: moderate}]",
         "not-swollen: no cause 'unrestd'; did you mean 'unrested'?"),
        ("{caution: raw_dough}", "{caution: raw_doug}",
         "water-beyond-set: no caution 'raw_doug'; did you mean 'raw_dough'?"),
        ("{measure: setting_protein_pct, above: 2, over: 1}",
         "{measure: seting_protein_pct, above: 2, over: 1}",
         "egg-sets: no measure 'seting_protein_pct'; did you mean 'setting_protein_pct'?"),
        ("when: [{state: not_swollen}]", "when: [{state: not_swolen}]",
         "not-swollen: no state that a rule concludes 'not_swolen'; did you mean 'not_swollen'?"),
        ("when: [{answer: rested", "when: [{answer: restet",
         "unrested-says-baker: no question 'restet'; did you mean 'rested'?"),
    ],
)  # fmt: skip
def test_ids_in_rules(kitchen: Kitchen, old: str, new: str, what: str) -> None:
    kitchen.change(RULES, old, new)
    assert [what] == [f.message for f in kitchen.findings() if f.check == "reference"]


def test_a_lever_for_an_unknown_cause(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/levers.yaml", "for: excess_water", "for: exces_water")
    assert [
        "knowledge/levers.yaml:1 reference cut-water: no cause 'exces_water'; did you mean 'excess_water'?"
    ] == (kitchen.lines("reference"))


def test_process_names_are_not_looked_up_where_the_process_is_not_known(kitchen: Kitchen) -> None:
    kitchen.change(RULES, "- {process: rest_min, below: 5}", "- {process: rest_mn, below: 5}")
    assert () == lint_knowledge(read_knowledge(kitchen.places), kitchen.places)


def test_pins_are_not_looked_up_where_no_tests_are_installed(kitchen: Kitchen) -> None:
    (kitchen.top / "tests" / "pins.py").unlink()
    assert 1 == len(kitchen.lines("pinned_by"))
    (kitchen.top / "tests").rmdir()
    assert [] == kitchen.lines("pinned_by")
