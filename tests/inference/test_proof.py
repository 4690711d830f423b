"""Every conclusion can be walked back to given facts, and every cause not suspected can be asked about."""

from __future__ import annotations

import pytest
from small_rules import judge_between_three_and_seven, rules

from advisor.inference.inferring import RuleBook, infer
from advisor.inference.proof import Missed, Proof, why, why_not
from advisor.inference.situation import Inference, Situation

RULES = rules("""
- {id: loose, when: [{measure: m, is: high}, {not: {symptom: firm}}],
   then: [{state: soft}], because: Much water.}
- {id: ring-a, when: [{state: weak}], then: [{state: soft}]}
- {id: ring-b, when: [{state: soft}], then: [{state: weak}]}
- {id: wet, when: [{state: weak}, {structure: egg_set}], then: [{suspect: water, evidence: strong}]}
- {id: dry, when: [{measure: m, is: low}], then: [{suspect: water, evidence: against}]}
- {id: deep, when: [{measure: n, above: 4, over: 2}, {process: oven, below: 150}],
   then: [{suspect: water, evidence: weak}]}
- {id: shy, when: [{symptom: seen}, {not: {measure: m, is: high}}], then: [{suspect: water, evidence: weak}]}
- {id: told, when: [{suspect: water}], then: [{reminder: Weigh it.}, {ask: scale}]}
""")
WET = Situation(measures={"m": 9.0, "n": 3.5}, symptoms={"seen": True})


def run(situation: Situation) -> Inference:
    return infer(situation, RuleBook.compile(RULES), judge_between_three_and_seven)


def leaves(proof: Proof) -> list[tuple[str, str]]:
    below = [leaf for child in proof.children for leaf in leaves(child)]
    return below if proof.children else [proof.fact]


def test_a_proof_ends_in_given_facts() -> None:
    proof = why(run(WET), RULES, "ask", "scale")
    assert proof is not None
    (told,) = proof.children
    assert ("told", "so it is") == (told.rule, told.text)
    assert [("measure", "m"), ("symptom", "firm"), ("structure", "egg_set")] == leaves(proof)


def test_a_firing_shows_what_it_stood_on_and_what_was_not_there() -> None:
    proof = why(run(WET), RULES, "state", "soft")
    assert proof is not None
    (loose,) = proof.children  # the ring soft, weak, soft proves nothing
    assert "Much water." == loose.text
    assert [(False, "9, high"), (True, "")] == [(c.denied, c.text) for c in loose.children]


def test_evidence_stands_on_the_firing() -> None:
    proof = why(run(WET), RULES, "suspect", "water")
    assert proof is not None
    assert [("wet", "strong", 1.0)] == [(c.rule, c.evidence, c.excess) for c in proof.children]


def test_a_reminder_goes_by_its_rule() -> None:
    assert why(run(WET), RULES, "reminder", "told") is not None


@pytest.mark.parametrize(("kind", "name"), [("suspect", "salt"), ("state", "firm"), ("caution", "hot")])
def test_what_was_not_concluded_has_no_proof(kind: str, name: str) -> None:
    assert why(run(WET), RULES, kind, name) is None


def test_why_not_names_the_first_condition_that_failed_and_by_how_much() -> None:
    missed = {m.rule: m for m in why_not(WET, run(WET), RULES, "water")}
    assert {"deep": 0.5, "dry": 6.0, "shy": 2.0} == {rule: m.distance for rule, m in missed.items()}
    assert [False, False, True] == [missed[r].denied for r in ("deep", "dry", "shy")]
    assert "n" == missed["deep"].condition.measure


def first(situation: Situation, rule: str) -> Missed:
    return next(m for m in why_not(situation, run(situation), RULES, "water") if m.rule == rule)


def test_why_not_tells_unknown_from_false() -> None:
    assert not first(Situation(measures={}), "deep").known
    assert not first(Situation(measures={}), "shy").known
    assert first(Situation(measures={}, symptoms={"seen": False}), "shy").known
    warm = Situation(measures={"n": 5.0}, process_numbers={"oven": 175.0})
    assert ("oven", 25.0) == (first(warm, "deep").condition.process, first(warm, "deep").distance)


def test_rules_that_fired_are_not_asked_about() -> None:
    assert [] == [m for m in why_not(WET, run(WET), RULES, "water") if m.rule == "wet"]
    assert () == why_not(WET, run(WET), RULES, "salt")
