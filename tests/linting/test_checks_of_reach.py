"""What can never come to pass, and rules that take each other back: each with its smallest broken sample."""

from __future__ import annotations

import pytest
from spoiling import CODE, PROCESS, Kitchen

from advisor.inference.rule_outline import outline
from advisor.knowledge_base.knowledge import read_knowledge
from advisor.knowledge_base.places import find_places
from advisor.linting.checking import lint_knowledge
from advisor.linting.implication import group_of

RULES = "rules/hydration/water.yaml"
BANDS = "knowledge/bands.yaml"
WEAK = "{suspect: unrested, evidence: weak}"


def rule(when: str, then: str = WEAK, name: str = "extra") -> str:
    return f'- id: {name}\n  when: [{when}]\n  then: [{then}]\n  because: "Only a test."\n  grade: practice'


def said(kitchen: Kitchen, check: str) -> list[str]:
    """Messages of one check; no other check may find anything, but samples may read a symptom."""
    found = [finding for finding in kitchen.findings() if finding.check != "twice"]
    assert {check} >= {finding.check for finding in found}, [str(finding) for finding in found]
    return [finding.message for finding in found]


@pytest.mark.parametrize(
    ("when", "why"),
    [
        ("{measure: baked_water_load, is: low}, {measure: baked_water_load, above: 0.7}",
         "baked_water_load cannot be low and above 0.7 there"),
        ("{measure: baked_water_load, is: high}, {measure: baked_water_load, below: 0.9}",
         "baked_water_load cannot be high and below 0.9 there"),
        ("{measure: baked_water_load, is: in}, {measure: baked_water_load, above: 2}",
         "baked_water_load cannot be in and above 2 there"),
        ("{structure: egg_set}, {measure: baked_water_load, is: not_high}, "
         "{measure: baked_water_load, above: 3, over: 1}",
         "baked_water_load cannot be not_high and above 3 there"),
    ],
)  # fmt: skip
def test_a_state_of_a_band_and_a_number_that_exclude_each_other(
    kitchen: Kitchen, when: str, why: str
) -> None:
    kitchen.add(RULES, rule(when))
    assert [f"extra: never fires: in egg_set {why}"] == said(kitchen, "reach")


def test_an_edge_that_only_another_structure_has(kitchen: Kitchen) -> None:
    kitchen.add(
        "knowledge/structures.yaml",
        '- {id: gum_bound, name: loose loaf, says: "Loose.", network: [egg_white], retention: {value: 0.5, '
        "grade: practice}, bears_gas: {value: 3, grade: practice}, holds_slice: {value: 1, grade: practice}, "
        "keeps_gas_min: {value: 60, grade: practice}, grade: practice}",
    )
    kitchen.add(
        RULES, rule("{measure: setting_protein_pct, below: 1}", "{structure: gum_bound}", "gum-binds")
    )
    kitchen.add(
        BANDS,
        "- {measure: setting_protein_pct, structures: [gum_bound], low: 1, high: 9, scale: 2, grade: practice}",
    )
    kitchen.add(RULES, rule("{structure: gum_bound}, {measure: setting_protein_pct, is: high}", name="can"))
    assert [] == said(kitchen, "reach")
    kitchen.add(RULES, rule("{structure: egg_set}, {measure: setting_protein_pct, is: high}"))
    expected = "extra: never fires: in egg_set the band of setting_protein_pct has no high edge there"
    assert [expected] == said(kitchen, "reach")


def test_a_band_that_only_another_structure_has(kitchen: Kitchen) -> None:
    kitchen.add(RULES, rule("{not: {structure: egg_set}}, {measure: baked_water_load, is: high}"))
    kitchen.add(
        "knowledge/structures.yaml",
        '- {id: gum_bound, name: loose loaf, says: "Loose.", network: [egg_white], retention: {value: 0.5, '
        "grade: practice}, bears_gas: {value: 3, grade: practice}, holds_slice: {value: 1, grade: practice}, "
        "keeps_gas_min: {value: 60, grade: practice}, grade: practice}",
    )
    assert [
        "gum_bound: no rule that can fire concludes this structure",
        "extra: never fires: in gum_bound baked_water_load has no band there",
    ] == said(kitchen, "reach")


def test_a_value_on_the_edge_of_a_band_is_in(kitchen: Kitchen) -> None:
    kitchen.change(BANDS, "low: 0.6, high: 1.0, scale: 0.2", "high: 0, scale: 1")
    kitchen.change(RULES, "{measure: baked_water_load, is: in}", "{measure: baked_water_load, is: in}")
    assert [] == said(kitchen, "reach")


def test_rules_that_only_wait_for_each_other(kitchen: Kitchen) -> None:
    kitchen.add(RULES, rule("{state: one}", "{state: two}", "one-two"))
    kitchen.add(RULES, rule("{state: two}", "{state: one}", "two-one"))
    assert [
        "one-two: never fires: no rule that can fire concludes state one",
        "two-one: never fires: no rule that can fire concludes state two",
    ] == said(kitchen, "reach")


def test_what_follows_only_from_a_rule_that_never_fires(kitchen: Kitchen) -> None:
    kitchen.change(
        RULES,
        "- {process: rest_min, below: 5}",
        "- {process: rest_min, below: 5}\n    - {process: rest_min, above: 5}",
    )
    assert ["not-swollen: never fires: no rule that can fire concludes state not_swollen"] == [
        finding.message for finding in kitchen.findings() if finding.check == "reach"
    ]


def test_a_cause_of_which_only_a_rule_that_never_fires_speaks(kitchen: Kitchen) -> None:
    kitchen.change(
        RULES,
        "when: [{measure: baked_water_load, is: high}]",
        "when: [{measure: baked_water_load, is: high}, {measure: baked_water_load, below: 0.5}]",
    )
    assert [
        "excess_water: no rule that can fire speaks for this cause",
        "water-beyond-set: never fires: in egg_set baked_water_load cannot be high and below 0.5 there",
    ] == said(kitchen, "reach")


def test_a_trait_that_nothing_has(kitchen: Kitchen) -> None:
    line = kitchen.add("knowledge/traits.yaml", '- {id: coarse, says: "Large bits."}')
    kitchen.add(RULES, rule("{trait: coarse}"))
    assert 2 == line
    assert [] == said(kitchen, "reach")  # where nobody says which words of a formula set a trait
    knowledge = read_knowledge(kitchen.places)
    for words, expected in (
        (frozenset({"coarse"}), []),
        (frozenset[str](), ["extra: never fires: no ingredient has the trait coarse"]),
    ):
        found = lint_knowledge(
            knowledge, kitchen.places, process=PROCESS, read_by_code=CODE, traits_of_words=words
        )
        assert expected == [finding.message for finding in found]


def test_a_lever_that_turns_what_nothing_is(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/levers.yaml", "{ingredient_role: water}", "{ingredient_role: yeast}")
    assert ["cut-water: no ingredient has the role yeast"] == said(kitchen, "reach")


LOOSE = (
    '- {id: gum_bound, name: loose loaf, says: "Loose.", network: [egg_white], retention: {value: 0.5, '
    "grade: practice}, bears_gas: {value: 3, grade: practice}, holds_slice: {value: 1, grade: practice}, "
    "keeps_gas_min: {value: 60, grade: practice}, grade: practice}"
)


def test_a_lever_for_a_structure_in_which_there_is_no_band(kitchen: Kitchen) -> None:
    kitchen.add("knowledge/structures.yaml", LOOSE)
    kitchen.add(
        RULES, rule("{measure: setting_protein_pct, below: 1}", "{structure: gum_bound}", "gum-binds")
    )
    assert [] == said(kitchen, "reach")  # a lever for any structure serves those that have the band
    kitchen.change(
        "knowledge/levers.yaml", "  effort: small", "  structures: [egg_set, gum_bound]\n  effort: small"
    )
    expected = "cut-water: has nowhere to go in gum_bound: no band of baked_water_load there"
    assert [expected] == said(kitchen, "reach")


def test_a_band_that_nobody_goes_by(kitchen: Kitchen) -> None:
    line = kitchen.add(
        BANDS,
        "- {measure: core_set_min, structures: [egg_set], low: 20, high: 60, scale: 9, grade: practice}",
    )
    assert [f"{BANDS}:{line} orphan core_set_min@egg_set: no rule and no lever goes by this band"] == [
        str(finding) for finding in kitchen.findings()
    ]


def test_a_band_that_serves_only_structures_with_their_own(kitchen: Kitchen) -> None:
    kitchen.add(
        BANDS,
        "- {measure: baked_water_load, structures: [any], low: 0.5, high: 1, scale: 0.2, grade: practice}",
    )
    assert ["baked_water_load@any: no rule and no lever goes by this band"] == said(kitchen, "orphan")


@pytest.mark.parametrize(
    ("when", "evidence"),
    [
        (
            "{measure: baked_water_load, is: in}, {symptom: wet_base}",
            "weak",
        ),  # only where the other speaks against
        ("{measure: baked_water_load, is: in}", "strong"),  # the same conditions
        (
            "{measure: baked_water_load, is: not_high}, {symptom: wet_base}",
            None,
        ),  # each can hold without the other
    ],
)
def test_rules_that_speak_for_and_against_a_cause_at_once(
    kitchen: Kitchen, when: str, evidence: str | None
) -> None:
    kitchen.add(RULES, rule(when, f"{{suspect: excess_water, evidence: {evidence or 'moderate'}}}"))
    if evidence is None:
        assert [] == said(kitchen, "opposed")
        return
    expected = (
        f"extra: speaks for excess_water only where water-within at {RULES}:11 speaks against it "
        "from the same evidence"
    )
    assert [expected] == said(kitchen, "opposed")


def test_a_rule_against_a_cause_only_where_another_speaks_for_it(kitchen: Kitchen) -> None:
    kitchen.add(
        RULES,
        rule(
            "{measure: baked_water_load, is: high}, {symptom: wet_base, seen: false}",
            "{suspect: excess_water, evidence: rules_out}",
        ),
    )
    expected = (
        f"extra: speaks against excess_water only where water-beyond-set at {RULES}:6 speaks for it "
        "from the same evidence"
    )
    assert [expected] == said(kitchen, "opposed")


def test_evidence_of_two_groups_may_differ(kitchen: Kitchen) -> None:
    kitchen.add(
        RULES,
        rule(
            "{measure: baked_water_load, is: in}, {symptom: wet_base}",
            "{suspect: excess_water, evidence: weak, evidence_group: seen}",
        ),
    )
    assert [] == said(kitchen, "opposed")


@pytest.mark.parametrize(
    ("when", "then"),
    [
        ("{answer: rested, is: \"no\"}, {symptom: wet_base}", WEAK),  # weaker, from more
        ("{answer: rested, is: \"no\"}", "{suspect: unrested, evidence: moderate}"),  # weaker, from the same
        ("{measure: setting_protein_pct, is: low}, {symptom: wet_base, seen: false}", WEAK),
    ],
)  # fmt: skip
def test_a_rule_that_never_outweighs_a_wider_one(kitchen: Kitchen, when: str, then: str) -> None:
    kitchen.add(RULES, rule(when, then))
    (message,) = said(kitchen, "implied")
    assert message.startswith("extra: ")
    assert message.endswith(" concludes as much from no more")


@pytest.mark.parametrize(
    ("when", "then"),
    [
        ("{answer: rested, is: \"yes\"}, {symptom: wet_base}", WEAK),  # another answer
        ("{answer: rested, is: \"no\"}", "{suspect: unrested, evidence: weak, evidence_group: told}"),
        ("{measure: setting_protein_pct, is: not_low}", WEAK),
        ("{measure: setting_protein_pct, below: 2, over: 1}", WEAK),  # another scale may be heavier
    ],
)  # fmt: skip
def test_a_rule_that_may_outweigh_or_add_passes(kitchen: Kitchen, when: str, then: str) -> None:
    kitchen.add(RULES, rule(when, then))
    assert [] == said(kitchen, "implied")


def test_evidence_groups_are_those_of_the_inference() -> None:
    """The linter works out groups by itself, since it stands below the inference."""
    for name, shipped in read_knowledge(find_places()).rules.items():
        expected = [group for _, _, group in outline(shipped).evidence]
        assert expected == [group_of(shipped, then) for then in shipped.then if then.suspect], name
