"""Orphans, graph, levers, figures and texts: each check of the linter with its smallest broken sample."""

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
    ("file", "entry", "message"),
    [
        ("knowledge/sources.yaml", '- {key: leaflet, cites: "A leaflet", kind: guide, seen: whole}',
         "leaflet: nothing cites this source"),
        ("knowledge/cautions.yaml", '- {id: hot_pan, short: "It is hot.", text: "It is hot.", grade: practice}',
         "hot_pan: no rule calls for this caution"),
        ("knowledge/questions.yaml", '- {id: fan, question: "Fan?", because: "Dries.", '
         'answers: {"yes": "On.", "no": "Off."}, '
         "seconds: 3, grade: practice}", "fan: no rule reads an answer to this question or asks it"),
        ("knowledge/traits.yaml", '- {id: coarse, says: "Large bits."}',
         "coarse: no rule, lever or model reads this trait"),
        ("knowledge/measures.yaml", '- {id: filler_ratio, name: filler, unit: "-", says: "Filler.", '
         'decimals: 1, '
         "possible: [0, 9], group: protein}",
         "filler_ratio: no rule, band, lever or page reads this measure"),
        ("knowledge/coefficients.yaml", '- {id: lonely, value: 1, unit: "-", says: "Nobody asks.", '
         'grade: practice}',
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
    kitchen.change(RULES, "when: [{state: not_swollen}]", "when: [{trait: swelling, above: 40}]")
    expected = f"{RULES}:16 orphan swelling-in-haste: no rule reads the state 'not_swollen'"
    assert expected == one_finding(kitchen, "orphan")


def test_a_mechanism_without_ends(kitchen: Kitchen) -> None:
    kitchen.add(
        "knowledge/mechanisms.yaml", '- {id: idle, name: idle, says: "Does nothing.", grade: practice}'
    )
    assert [
        "knowledge/mechanisms.yaml:2 orphan idle: no link leads on from this mechanism",
        "knowledge/mechanisms.yaml:2 orphan idle: no link leads to this mechanism",
    ] == kitchen.lines("orphan")


def test_a_symptom_without_a_link(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/links.yaml", "to: wet_base, strength: 0.4", "to: gummy_centr, strength: 0.4")
    assert ["knowledge/symptoms.yaml:2 orphan wet_base: no link leads to this symptom"] == kitchen.lines(
        "orphan"
    )
    assert [
        "knowledge/symptoms.yaml:2 graph wet_base: no chain of links leads from a cause to this symptom"
    ] == (kitchen.lines("graph"))


def test_a_retired_id_may_not_come_back(kitchen: Kitchen) -> None:
    kitchen.change(RULES, "- id: water-within", "- id: water-too-high")
    expected = (
        f"{RULES}:11 retired water-too-high: this id was retired at rules/hydration/retired.yaml:1: "
        "take another"
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
    expected = (
        f"knowledge/links.yaml:{line} graph soft>loose_water: "
        "closes a circle: loose_water > soft > loose_water"
    )
    assert expected == one_finding(kitchen, "graph")


def test_causes_that_refine_in_a_circle(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/causes.yaml", "base_rate: 0.1,", "base_rate: 0.1, refines: unrested,")
    assert "refines in a circle: excess_water > unrested > excess_water" in one_finding(kitchen, "graph")


def test_a_cause_that_is_never_felt(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/links.yaml", "from: unrested, to: loose_water", "from: unrest, to: loose_water")
    assert [
        "knowledge/causes.yaml:2 graph unrested: no chain of links leads from this cause to a symptom"
    ] == (kitchen.lines("graph"))


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
         "cut-water: turns exactly one of ingredient_role, ingredient, trait, process, add, replace, do, undoes"),
        ("knowledge/levers.yaml", "into: band}", "into: band, below: 1}",
         "cut-water: until needs exactly one of into, above, below"),
        ("knowledge/levers.yaml", "{measure: baked_water_load, into: band}",
         "{measure: core_set_min, into: band}",
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
        (FEW, "water: 88,", "water: 78,", "closure",
         "egg_white: the composition adds up to 90.3 g, not 95 to 102 g"),
        (FEW, "fibre: 84, ash: 2, energy", "fibre: 90, ash: 2, energy", "parts",
         "psyllium_husk: parts of the carbohydrate come to 90.0 g, it to 87.0 g; "
         "where the record has it so, say why in the note of per_100g"),
        (FEW, "energy_kcal: 47", "energy_kcal: 147", "energy",
         "egg_white: energy 147 kcal, where the composition gives 47 to 47 kcal; "
         "where the record has it so, say why in the note of per_100g"),
        ("knowledge/bands.yaml", "low: 0.6", "low: -1", "range",
         "baked_water_load@egg_set: baked_water_load -1 lies outside what is possible, 0 to 20"),
        ("knowledge/levers.yaml", "into: band}", "below: 30}", "range",
         "cut-water: baked_water_load 30 lies outside what is possible, 0 to 20"),
        ("knowledge/measures.yaml", "possible: [1, 600]", "possible: [600, 1]", "range",
         "core_set_min: possible: the first number is not below the second"),
        (FEW, "also: [tap water]", 'also: ["PSYLLIUM  HUSK"]', "name",
         "psyllium_husk: 'psyllium husk' is a name of water already, at knowledge/ingredients/few.yaml:1"),
        (FEW, "also: [whole psyllium]", "also: [Egg-White]", "name",
         "psyllium_husk: 'Egg-White' is a name of egg_white already, at knowledge/ingredients/few.yaml:7"),
        (FEW, "also: [whole psyllium]", "shared_names: [husk]", "name",
         "psyllium_husk: shared_names: 'husk' has to stand in two ingredients or more, and be no other name of any"),
        ("knowledge/causes.yaml", '"The binder had no time."', '"Unknown."', "text",
         "unrested: says says 'Unknown': leave it out or say what is known"),
        ("knowledge/questions.yaml", '"It did not."', '"n/a"', "text",
         "rested: answers.no says 'n/a': leave it out or say what is known"),
        ("knowledge/sources.yaml", "seen: whole", "seen: whole, note: TODO read it", "text",
         "handbook: note says 'TODO': leave it out or say what is known"),
        ("knowledge/traits.yaml", '"Swells strongly."', '"   "', "text",
         "swelling: says is empty: leave it out or say something"),
        ("knowledge/glossary.yaml", "The inside", "The crumbly™ inside", "text",
         "crumb: says carries a trade mark: use the plain name of the thing"),
    ],
)  # fmt: skip
def test_figures_and_texts(kitchen: Kitchen, file: str, old: str, new: str, check: str, message: str) -> None:
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
        "- {measure: baked_water_load, structures: [egg_set, any], low: 0.5, high: 1, scale: 0.2, grade: practice}",
    )
    expected = (
        "knowledge/bands.yaml:3 unique baked_water_load@egg_set+any: egg_set has a band of this measure "
        "already at knowledge/bands.yaml:1"
    )
    assert expected == one_finding(kitchen, "unique")
