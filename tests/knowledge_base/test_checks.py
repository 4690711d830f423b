"""Every check of the linter with its smallest broken sample: file, text to replace, and the finding expected."""

from __future__ import annotations

import pytest
from spoiling import Kitchen

RULES = "rules/hydration/water.yaml"
FEW = "knowledge/ingredients/few.yaml"


def one_finding(kitchen: Kitchen, check: str) -> str:
    found = [str(f) for f in kitchen.findings()]
    assert 1 == len(found), found
    assert check == found[0].split()[1]
    return found[0]


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
         "knowledge/coefficients.yaml:2 reference energy_eu_fat: no source 'handbok'; did you mean 'handbook'?"),
        ("knowledge/coefficients.yaml", "tests/pins.py", "tests/pin.py::test_it",
         "knowledge/coefficients.yaml:4 pinned_by energy_eu_organic_acid: no test file 'tests/pin.py::test_it'"),
        ("knowledge/structures.yaml", "network: [egg_white]", "network: [egg_whit]",
         "knowledge/structures.yaml:1 reference egg_set: no protein class 'egg_whit'; did you mean 'egg_white'?"),
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
        ("{measure: setting_protein_pct, above: 2, over: 1}", "{measure: seting_protein_pct, above: 2, over: 1}",
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
    assert ["knowledge/levers.yaml:1 reference cut-water: no cause 'exces_water'; did you mean 'excess_water'?"] == (
        kitchen.lines("reference")
    )


def test_process_names_are_not_looked_up_where_the_process_is_not_known(kitchen: Kitchen) -> None:
    from advisor.knowledge_base.checks import lint_knowledge
    from advisor.knowledge_base.knowledge import read_knowledge

    kitchen.change(RULES, "- {process: rest_min, below: 5}", "- {process: rest_mn, below: 5}")
    assert () == lint_knowledge(read_knowledge(kitchen.places), kitchen.places)


def test_pins_are_not_looked_up_where_no_tests_are_installed(kitchen: Kitchen) -> None:
    (kitchen.top / "tests" / "pins.py").unlink()
    assert 1 == len(kitchen.lines("pinned_by"))
    (kitchen.top / "tests").rmdir()
    assert [] == kitchen.lines("pinned_by")


@pytest.mark.parametrize(
    ("file", "entry", "message"),
    [
        ("knowledge/sources.yaml", '- {key: leaflet, cites: "A leaflet", kind: guide, seen: whole}',
         "leaflet: nothing cites this source"),
        ("knowledge/cautions.yaml", '- {id: hot_pan, text: "It is hot.", grade: practice}',
         "hot_pan: no rule calls for this caution"),
        ("knowledge/questions.yaml", '- {id: fan, question: "Fan?", because: "Dries.", answers: {"yes": "On."}, '
         "seconds: 3, grade: practice}", "fan: no rule reads an answer to this question or asks it"),
        ("knowledge/traits.yaml", '- {id: coarse, says: "Large bits."}',
         "coarse: no rule, lever or model reads this trait"),
        ("knowledge/measures.yaml", '- {id: filler_ratio, name: filler, unit: "-", says: "Filler.", decimals: 1, '
         "possible: [0, 9], group: protein}", "filler_ratio: no rule, band, lever or page reads this measure"),
        ("knowledge/coefficients.yaml", '- {id: lonely, value: 1, unit: "-", says: "Nobody asks.", grade: practice}',
         "lonely: no model reads this coefficient"),
    ],
)  # fmt: skip
def test_nothing_stands_alone(kitchen: Kitchen, file: str, entry: str, message: str) -> None:
    line = kitchen.add(file, entry)
    assert f"{file}:{line} orphan {message}" == one_finding(kitchen, "orphan")


def test_a_measure_that_only_a_sentence_or_a_page_reads_is_read(kitchen: Kitchen) -> None:
    tail = 'says: "Filler.", decimals: 1, possible: [0, 9]'
    kitchen.add("knowledge/measures.yaml", f'- {{id: a_ratio, name: a, unit: "-", {tail}, group: protein}}')
    kitchen.add("knowledge/measures.yaml", f'- {{id: b_ratio, name: b, unit: "-", {tail}, group: volume}}')
    kitchen.change(RULES, '"It did not rest."', '"It did not rest, at {a_ratio:.1f}."')
    assert () == kitchen.findings()


def test_a_cause_needs_a_rule_that_speaks_for_it(kitchen: Kitchen) -> None:
    kitchen.change(RULES, "{suspect: excess_water, evidence: strong}, ", "")
    # A heading over finer causes is carried by them.
    assert () == kitchen.findings()
    kitchen.change("knowledge/causes.yaml", "refines: excess_water, ", "")
    expected = "knowledge/causes.yaml:1 orphan excess_water: no rule speaks for this cause"
    assert expected == one_finding(kitchen, "orphan")


def test_a_state_that_no_rule_reads(kitchen: Kitchen) -> None:
    kitchen.change(RULES, "when: [{state: not_swollen}]", "when: [{symptom: wet_base, seen: true}]")
    expected = f"{RULES}:16 orphan swelling-in-haste: no rule reads the state 'not_swollen'"
    assert expected == one_finding(kitchen, "orphan")


def test_a_mechanism_without_ends(kitchen: Kitchen) -> None:
    kitchen.add("knowledge/mechanisms.yaml", '- {id: idle, name: idle, says: "Does nothing.", grade: practice}')
    assert [
        "knowledge/mechanisms.yaml:2 orphan idle: no link leads on from this mechanism",
        "knowledge/mechanisms.yaml:2 orphan idle: no link leads to this mechanism",
    ] == kitchen.lines("orphan")


def test_a_symptom_without_a_link(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/links.yaml", "to: wet_base, strength: 0.4", "to: gummy_centr, strength: 0.4")
    assert ["knowledge/symptoms.yaml:2 orphan wet_base: no link leads to this symptom"] == kitchen.lines("orphan")
    assert ["knowledge/symptoms.yaml:2 graph wet_base: no chain of links leads from a cause to this symptom"] == (
        kitchen.lines("graph")
    )


def test_a_retired_id_may_not_come_back(kitchen: Kitchen) -> None:
    kitchen.change(RULES, "- id: water-within", "- id: water-too-high")
    expected = (
        f"{RULES}:11 retired water-too-high: this id was retired at rules/hydration/retired.yaml:1: take another"
    )
    assert expected == one_finding(kitchen, "retired")


def link(start: str, to: str) -> str:
    return f"- {{from: {start}, to: {to}, strength: 0.5, acts: proof, grade: practice}}"


@pytest.mark.parametrize(
    ("start", "to", "message"),
    [
        ("gummy_centre", "wet_base", "nothing follows from a symptom, and 'gummy_centre' is one"),
        ("excess_water", "unrested", "nothing leads to a cause, and 'unrested' is one"),
        ("excess_water", "wet_base", "a cause leads to a mechanism first: what happens in the dough?"),
    ],
)
def test_links_run_from_causes_over_mechanisms_to_symptoms(
    kitchen: Kitchen, start: str, to: str, message: str
) -> None:
    line = kitchen.add("knowledge/links.yaml", link(start, to))
    assert f"knowledge/links.yaml:{line} graph {start}>{to}: {message}" == one_finding(kitchen, "graph")


def test_a_circle_of_mechanisms_is_shown_whole(kitchen: Kitchen) -> None:
    kitchen.add("knowledge/mechanisms.yaml", '- {id: soft, name: soft, says: "Soft walls.", grade: practice}')
    kitchen.add("knowledge/links.yaml", link("loose_water", "soft"))
    line = kitchen.add("knowledge/links.yaml", link("soft", "loose_water"))
    expected = f"knowledge/links.yaml:{line} graph soft>loose_water: closes a circle: loose_water > soft > loose_water"
    assert expected == one_finding(kitchen, "graph")


def test_causes_that_refine_in_a_circle(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/causes.yaml", "base_rate: 0.1,", "base_rate: 0.1, refines: unrested,")
    assert "refines in a circle: excess_water > unrested > excess_water" in one_finding(kitchen, "graph")


def test_a_cause_that_is_never_felt(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/links.yaml", "from: unrested, to: loose_water", "from: unrest, to: loose_water")
    assert ["knowledge/causes.yaml:2 graph unrested: no chain of links leads from this cause to a symptom"] == (
        kitchen.lines("graph")
    )


def test_one_id_for_two_nodes(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/mechanisms.yaml", "id: loose_water", "id: excess_water")
    assert "knowledge/mechanisms.yaml:1 graph excess_water: a cause has the same id" in kitchen.lines("graph")


def test_every_cause_has_a_lever_or_says_why_not(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/causes.yaml", 'no_lever: "Only patience helps.", ', "")
    assert (
        "knowledge/causes.yaml:2 lever unrested: no lever treats this cause: add one, or say why in no_lever"
        == one_finding(kitchen, "lever")
    )


@pytest.mark.parametrize(
    ("file", "old", "new", "message"),
    [
        ("knowledge/causes.yaml", "base_rate: 0.1,", 'base_rate: 0.1, no_lever: "None helps.",',
         "excess_water: has a lever and says no_lever: keep one of them"),
        ("knowledge/levers.yaml", "{ingredient_role: water}", "{ingredient_role: water, add: egg_white}",
         "cut-water: turns exactly one of ingredient_role, ingredient, trait, process, add, replace, do"),
        ("knowledge/levers.yaml", "into: band}", "into: band, below: 1}",
         "cut-water: until needs exactly one of into, above, below"),
        ("knowledge/levers.yaml", "{measure: baked_water_load, into: band}", "{measure: core_set_min, into: band}",
         "cut-water: until: into band, but core_set_min has no band"),
        ("knowledge/levers.yaml", "{at_least_fraction: 0.5}", "{at_least: 9, at_most: 2}",
         "cut-water: at_least 9 is not below at_most 2"),
    ],
)  # fmt: skip
def test_levers_turn_one_thing_to_one_target(
    kitchen: Kitchen, file: str, old: str, new: str, message: str
) -> None:
    kitchen.change(file, old, new)
    assert f"{file}:1 lever {message}" == one_finding(kitchen, "lever")


@pytest.mark.parametrize(
    ("file", "old", "new", "check", "message"),
    [
        (FEW, "water: 88,", "water: 78,", "closure", "egg_white: the composition adds up to 90.3 g, not 95 to 102 g"),
        (FEW, "fibre: 84, ash: 2, energy", "fibre: 90, ash: 2, energy", "parts",
         "psyllium_husk: parts of the carbohydrate come to 90.0 g, it to 87.0 g; where the record has it so, say why "
         "in the note of per_100g"),
        (FEW, "energy_kcal: 47", "energy_kcal: 147", "energy",
         "egg_white: energy 147 kcal, where the composition gives 47 to 47 kcal; where the record has it so, say why "
         "in the note of per_100g"),
        ("knowledge/bands.yaml", "high: 1.0", "high: 21", "range",
         "baked_water_load@egg_set: baked_water_load 21 lies outside what is possible, 0 to 20"),
        ("knowledge/levers.yaml", "into: band}", "below: 30}", "range",
         "cut-water: baked_water_load 30 lies outside what is possible, 0 to 20"),
        ("knowledge/measures.yaml", "possible: [1, 600]", "possible: [600, 1]", "range",
         "core_set_min: possible: the first number is not below the second"),
        (FEW, "also: [tap water]", 'also: ["PSYLLIUM  HUSK"]', "name",
         "psyllium_husk: 'psyllium husk' is a name of water already, at knowledge/ingredients/few.yaml:1"),
        (FEW, "also: [whole psyllium]", "also: [Egg-White]", "name",
         "psyllium_husk: 'Egg-White' is a name of egg_white already, at knowledge/ingredients/few.yaml:7"),
        ("knowledge/causes.yaml", '"The binder had no time."', '"Unknown."', "text",
         "unrested: says says 'Unknown': leave it out or say what is known"),
        ("knowledge/questions.yaml", '"It did not."', '"n/a"', "text",
         "rested: answers.no says 'n/a': leave it out or say what is known"),
        ("knowledge/sources.yaml", "seen: whole", "seen: whole, note: TODO read it", "text",
         "handbook: note says 'TODO': leave it out or say what is known"),
        ("knowledge/traits.yaml", '"Swells strongly."', '"   "', "text",
         "swelling: says is empty: leave it out or say something"),
        ("knowledge/glossary.yaml", "The inside", "The Crumbly™ inside", "text",
         "crumb: says carries a trade mark: use the plain name of the thing"),
    ],
)  # fmt: skip
def test_figures_and_texts(
    kitchen: Kitchen, file: str, old: str, new: str, check: str, message: str
) -> None:
    kitchen.change(file, old, new)
    assert message == one_finding(kitchen, check).split(" ", 2)[2]


def test_a_note_may_say_why_a_record_is_as_it_is(kitchen: Kitchen) -> None:
    kitchen.change(FEW, "energy_kcal: 47,", 'energy_kcal: 147, note: "Energy as the record prints it.",')
    kitchen.change(
        FEW, "fibre: 84, ash: 2, energy", 'note: "Carbohydrate by another method.", fibre: 90, ash: 2, energy'
    )
    assert () == kitchen.findings()


def test_two_bands_for_one_structure(kitchen: Kitchen) -> None:
    kitchen.add(
        "knowledge/bands.yaml",
        "- {measure: baked_water_load, structures: [egg_set, any], low: 0.5, high: 1, grade: practice}",
    )
    expected = (
        "knowledge/bands.yaml:3 unique baked_water_load@egg_set+any: egg_set has a band of this measure already at "
        "knowledge/bands.yaml:1"
    )
    assert expected == one_finding(kitchen, "unique")
