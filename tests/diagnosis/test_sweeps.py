"""A sweep finds a risk that hangs on a condition which lets go all at once, and nothing where all is graded."""

from __future__ import annotations

from dataclasses import replace

import pytest
from case_files import demo

from advisor import load_knowledge
from advisor.diagnosis.pipeline import Examiner
from advisor.diagnosis.sweeps import Swept, jumps, narrowed
from advisor.knowledge_base.rule_entries import Rule

CLIFF = Rule.model_validate(
    {
        "id": "cliff",
        "when": [{"process": "altitude_m", "above": 1000}],
        "then": [{"suspect": "excess_leavening", "evidence": "strong", "evidence_group": "altitude"}],
        "because": "Only a test.",
        "grade": "practice",
    }
)


def swept(examiner: Examiner):
    loaf = demo("rice-reference-loaf")
    along = Swept(
        turned="altitude_m",
        unit="m",
        at=(600.0, 1500.0),
        small=20.0,
        make=lambda height: loaf.with_process(altitude_m=height),
    )
    looked = [(at, examiner.examine(along.make(at), after_bake=False, ranked=False)) for at in along.at]
    return narrowed(examiner, "rice", along, *looked, limit=0.05)


def test_a_cliff_is_found_and_its_rule_named():
    knowledge = load_knowledge()
    jump = swept(Examiner(replace(knowledge, rules={**knowledge.rules, "cliff": CLIFF})))
    assert jump is not None
    assert "cliff" in jump.rules
    assert 980 <= float(jump.at.split()[0]) <= 1000


def test_graded_rules_make_no_jump():
    assert swept(Examiner(load_knowledge())) is None


@pytest.mark.slow
def test_no_risk_of_the_reference_wheat_loaf_jumps():
    name = "ordinary-wheat-tin-loaf"
    found = list(jumps(Examiner(load_knowledge()), {name: demo(name)}))
    assert [] == [jump.says for jump in found]
