"""A rule's phase follows from what it reads and concludes; what fits no phase is refused by name."""

from __future__ import annotations

import pytest
from small_rules import rules

from advisor.inference.phases import RuleFault, phase_of
from advisor.inference.rule_book import RuleBook


@pytest.mark.parametrize(
    ("phase", "when", "then"),
    [
        ("structure", "[{measure: a, above: 1}, {trait: t}]", "[{structure: s}]"),
        ("structure", "[{process: p, is: word}]", "[{structure: s}]"),
        ("state", "[{measure: a, is: low}]", "[{state: x}]"),
        ("state", "[{state: y}, {structure: s}]", "[{state: x}]"),
        ("suspect", "[{measure: a, is: low}]", "[{suspect: c, evidence: weak}, {caution: k}, {ask: q}]"),
        ("suspect", "[{symptom: a}, {not: {state: y}}]", "[{reminder: look out}]"),
        ("closing", "[{suspect: c}]", "[{caution: k}, {reminder: look out}, {ask: q}]"),
        ("closing", "[{symptom: a}, {not: {suspect: c}}]", "[{ask: q}]"),
    ],
)
def test_phase_follows_from_reading_and_concluding(phase: str, when: str, then: str) -> None:
    (rule,) = rules(f"[{{id: r, when: {when}, then: {then}}}]")
    assert phase == phase_of(rule)


@pytest.mark.parametrize(
    ("says", "when", "then"),
    [
        ("reads the band of a", "[{measure: a, is: low}]", "[{structure: s}]"),
        ("from symptom a", "[{symptom: a}]", "[{structure: s}]"),
        ("from structure z", "[{measure: a, above: 1}, {not: {structure: z}}]", "[{structure: s}]"),
        ("structure together", "[{measure: a, above: 1}]", "[{structure: s}, {caution: k}]"),
        ("state together", "[{measure: a, is: low}]", "[{state: s}, {caution: k}]"),
        ("state from a suspect", "[{suspect: c}]", "[{state: s}]"),
        ("denies a state", "[{measure: a, is: low}, {not: {state: y}}]", "[{state: s}]"),
        ("only caution, reminder or ask", "[{suspect: c}]", "[{suspect: d, evidence: weak}]"),
        ("only caution, reminder or ask", "[{not: {suspect: c}}]", "[{suspect: c, evidence: weak}]"),
        ("without is, above, below or stated", "[{process: p}]", "[{caution: k}]"),
        ("asks for and denies the same thing", "[{state: x}, {not: {state: x}}]", "[{caution: k}]"),
        ("beyond 1e+09", "[{measure: a, above: 2.0e+9}]", "[{caution: k}]"),
    ],
)
def test_a_rule_that_fits_no_phase_is_refused_by_name(says: str, when: str, then: str) -> None:
    with pytest.raises(RuleFault, match="rule misfit: ") as caught:
        RuleBook.compile(rules(f"[{{id: misfit, when: {when}, then: {then}}}]"))
    assert caught.value.rule == "misfit"
    assert says in caught.value.reason


def test_an_id_that_stands_twice_is_refused() -> None:
    one = "{id: r, when: [{symptom: a}], then: [{ask: q}]}"
    with pytest.raises(RuleFault, match="rule r: stands twice"):
        RuleBook.compile(rules(f"[{one}, {one}]"))
