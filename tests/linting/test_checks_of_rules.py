"""Rules that can never fire, that say nothing new, or whose sentence cannot be filled."""

from __future__ import annotations

import pytest
from spoiling import Kitchen

RULES = "rules/hydration/water.yaml"


def rule(when: str, then: str = "{suspect: unrested, evidence: weak}", because: str = "Only a test.") -> str:
    return f'- id: extra\n  when: [{when}]\n  then: [{then}]\n  because: "{because}"\n  grade: practice'


def extra(kitchen: Kitchen, text: str) -> list[tuple[str, str]]:
    """Check and message of what is found once a rule is added; every finding stands on its line."""
    line = kitchen.add(RULES, text)
    found = kitchen.findings()
    assert {(RULES, line)} >= {(f.file, f.line) for f in found}
    return [(f.check, f.message) for f in found if f.check != "twice"]


NEVER = [
    ("{measure: baked_water_load, above: 3}, {measure: baked_water_load, below: 3}",
     "measure baked_water_load cannot be above 3 and below 3"),
    ("{trait: swelling, above: 3, below: 2}", "trait swelling cannot be above 3 and below 2"),
    ("{process: rest_min, above: 9}, {process: rest_min, below: 1}",
     "process rest_min cannot be above 9 and below 1"),
    ("{measure: baked_water_load, is: low}, {measure: baked_water_load, is: high}",
     "measure baked_water_load cannot be in two states of its band at once"),
    ("{measure: baked_water_load, is: not_low}, {measure: baked_water_load, is: low}",
     "measure baked_water_load cannot be in two states of its band at once"),
    ("{measure: baked_water_load, is: low}, {not: {measure: baked_water_load, is: low}}",
     "measure baked_water_load is asked for and denied"),
    ("{measure: baked_water_load, is: low}, {not: {measure: baked_water_load, is: not_high}}",
     "measure baked_water_load can only be in a state that another condition denies"),
    ("{measure: baked_water_load, above: 5}, {not: {measure: baked_water_load, above: 3}}",
     "measure baked_water_load can only lie where another condition denies it"),
    ("{measure: baked_water_load, above: 2, below: 6}, {not: {measure: baked_water_load, above: 4}}, "
     "{not: {measure: baked_water_load, below: 4}}",
     "measure baked_water_load can only lie where another condition denies it"),
    ("{trait: swelling, above: 1}, {not: {trait: swelling}}",
     "trait swelling can only lie where another condition denies it"),
    ("{trait: swelling}, {not: {trait: swelling}}", "trait swelling is asked for and denied"),
    ("{structure: egg_set}, {not: {structure: egg_set}}", "structure egg_set is asked for and denied"),
    ("{symptom: wet_base, seen: true}, {symptom: wet_base, seen: false}",
     "symptom wet_base cannot be so and not so at once"),
    ("{symptom: wet_base}, {symptom: wet_base, seen: false}",
     "symptom wet_base cannot be so and not so at once"),
    ("{process: rest_min, stated: true}, {process: rest_min, stated: false}",
     "process rest_min cannot be so and not so at once"),
    ('{answer: rested, is: "yes"}, {answer: rested, is: "no"}', "answer rested cannot be no and yes at once"),
    ("{process: pan_material, is: glass}, {process: pan_material, is: metal}",
     "process pan_material cannot be glass and metal at once"),
]  # fmt: skip


@pytest.mark.parametrize(("when", "message"), NEVER)
def test_conditions_that_can_never_hold_together(kitchen: Kitchen, when: str, message: str) -> None:
    assert [("contradiction", f"extra: {message}")] == extra(kitchen, rule(when))


def test_a_cause_suspected_from_a_symptom_counts_it_twice(kitchen: Kitchen) -> None:
    kitchen.add(RULES, rule("{symptom: wet_base, seen: true}"))
    assert ["extra: suspects a cause from a symptom, which the cause graph weighs already"] == [
        f.message for f in kitchen.findings() if f.check == "twice"
    ]


@pytest.mark.parametrize(
    "when",
    [
        "{measure: baked_water_load, above: 2}, {measure: baked_water_load, below: 3}",
        "{measure: baked_water_load, above: 2}, {not: {measure: baked_water_load, above: 3}}",
        "{measure: baked_water_load, is: not_low}, {not: {measure: baked_water_load, is: high}}",
        "{trait: swelling, below: 2}, {not: {trait: swelling}}",
        "{not: {measure: baked_water_load, above: 3}}, {not: {measure: baked_water_load, below: 2}}",
        "{process: rest_min, below: 5}, {not: {process: rest_min, below: 5, stated: true}}",
        "{process: pan_material, is: glass}, {not: {process: pan_material, is: metal}}, "
        '{answer: rested, is: "yes"}',
        "{symptom: wet_base, seen: true}, {symptom: gummy_centre, seen: false}",
        "{measure: baked_water_load, is: high}, {measure: baked_water_load, above: 3}",
    ],
)
def test_conditions_that_can_hold_together_pass(kitchen: Kitchen, when: str) -> None:
    assert [] == extra(kitchen, rule(when))


EDGES = (
    "{{measure: setting_protein_pct, above: {above}, over: 2}}, "
    "{{measure: setting_protein_pct, below: {below}, over: 2}}"
)


def test_the_soft_edges_of_a_structure_may_overlap(kitchen: Kitchen) -> None:
    soft = EDGES.format(above=5, below=5)
    assert [] == extra(kitchen, rule(soft, "{structure: egg_set}"))


def test_soft_edges_that_lie_too_far_apart_cannot_overlap(kitchen: Kitchen) -> None:
    apart = EDGES.format(above=6, below=4)
    assert [("contradiction", "extra: measure setting_protein_pct cannot be above 5 and below 5")] == extra(
        kitchen, rule(apart, "{structure: egg_set}")
    )


def test_elsewhere_edges_are_sharp(kitchen: Kitchen) -> None:
    sharp = EDGES.format(above=5, below=5)
    assert [("contradiction", "extra: measure setting_protein_pct cannot be above 5 and below 5")] == extra(
        kitchen, rule(sharp)
    )


@pytest.mark.parametrize(
    ("when", "message"),
    [
        ("{measure: baked_water_load, above: 20}",
         "baked_water_load above 20 never holds: at most 20 is possible"),
        ("{measure: core_set_min, below: 1}", "core_set_min below 1 never holds: at least 1 is certain"),
        ("{measure: core_set_min, above: 0.5}", "core_set_min above 0.5 always holds: at least 1 is certain"),
        ("{measure: baked_water_load, below: 21}",
         "baked_water_load below 21 always holds: at most 20 is possible"),
        ("{measure: core_set_min, is: high}", "core_set_min has no band, so 'is: high' never holds"),
        ("{measure: setting_protein_pct, is: high}",
         "no band of setting_protein_pct has a high edge, so it is never high"),
        ("{measure: setting_protein_pct, is: not_high}",
         "no band of setting_protein_pct has a high edge, so it is always not_high"),
    ],
)  # fmt: skip
def test_conditions_that_always_or_never_hold(kitchen: Kitchen, when: str, message: str) -> None:
    assert [("reach", f"extra: {message}")] == extra(kitchen, rule(when))


def test_above_nothing_is_how_a_rule_says_that_there_is_some(kitchen: Kitchen) -> None:
    assert [] == extra(kitchen, rule("{measure: core_set_min, above: 0}"))


def test_two_rules_alike_whatever_the_order_of_their_conditions(kitchen: Kitchen) -> None:
    found = extra(
        kitchen, rule("{process: rest_min, below: 5}, {trait: swelling, above: 1}", "{state: not_swollen}")
    )
    assert [
        ("alike", f"extra: has the conditions and conclusions of swelling-in-haste at {RULES}:16")
    ] == found


def test_a_condition_or_conclusion_that_stands_twice(kitchen: Kitchen) -> None:
    twice = extra(
        kitchen,
        rule(
            "{symptom: wet_base, seen: true}, {symptom: wet_base, seen: true}",
            "{suspect: unrested, evidence: weak}, {suspect: unrested, evidence: weak}",
        ),
    )
    assert [
        ("alike", "extra: one conclusion stands twice"),
        ("alike", "extra: one condition stands twice"),
    ] == twice


@pytest.mark.parametrize(
    "when",
    [
        "{trait: swelling, above: 1}, {process: rest_min, below: 5}, {structure: egg_set}",
        "{trait: swelling, above: 2}, {process: rest_min, below: 5}",
        "{trait: swelling, above: 1, below: 9}, {process: rest_min, below: 5}",
    ],
)
def test_a_rule_that_a_wider_one_implies(kitchen: Kitchen, when: str) -> None:
    expected = f"extra: swelling-in-haste at {RULES}:16 concludes the same from less"
    assert [("implied", expected)] == extra(kitchen, rule(when, "{state: not_swollen}"))


def test_a_narrower_rule_with_stronger_evidence_is_no_repetition(kitchen: Kitchen) -> None:
    narrow = rule("{state: not_swollen}, {structure: egg_set}", "{suspect: unrested, evidence: strong}")
    assert [] == extra(kitchen, narrow)


@pytest.mark.parametrize(
    ("because", "check", "message"),
    [
        ("At {baked_water_lod:.2f}.", "reference",
         "no measure or process field 'baked_water_lod'; did you mean 'baked_water_load'?"),
        ("At {rest_mn:.0f min}.", "reference",
         "no measure or process field 'rest_mn'; did you mean 'rest_min'?"),
        ("At {:.0f}.", "placeholder", "'{:.0f}' is no field: write {175 C}, {60 min}, {20 g} or {measure:.1f}"),
        ("At {baked_water_load:.2q}.", "placeholder", "'{baked_water_load:.2q}' is no format for a number"),
        ("A pan of {pan_material:.0f}.", "placeholder", "'{pan_material:.0f}' is no format for a word"),
        ("At {baked_water_load.", "placeholder", "cannot be filled: a brace stands without the other of its pair"),
    ],
)  # fmt: skip
def test_places_in_a_sentence_name_what_is_known(
    kitchen: Kitchen, because: str, check: str, message: str
) -> None:
    assert [(check, f"extra: {message}")] == extra(
        kitchen, rule("{symptom: wet_base, seen: true}", because=because)
    )


def test_places_in_a_reminder_are_looked_at_too(kitchen: Kitchen) -> None:
    found = extra(kitchen, rule("{symptom: wet_base, seen: true}", '{reminder: "Wait {rest_mi:.0f min}."}'))
    assert [("reference", "extra: no measure or process field 'rest_mi'; did you mean 'rest_min'?")] == found


def test_a_word_of_the_process_may_stand_in_a_sentence(kitchen: Kitchen) -> None:
    because = "A pan of {pan_material} after {rest_min:.0f min} at {baked_water_load:.2f}."
    assert [] == extra(kitchen, rule("{symptom: wet_base, seen: true}", because=because))
