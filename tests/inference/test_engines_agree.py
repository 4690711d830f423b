"""Generated rules and subsets of the shipped ones on generated facts: 500 sets of them, and 2,000 marked slow.

All engines and the direct evaluator agree on conclusions and on proof trees, in any order of rules and facts; each
proof is checked against the rules as they are written, too. tests/bench/engines_agree.py does the same for longer.
"""

from __future__ import annotations

import random
from typing import Any

from fact_sets import differences, facts_for, shipped_rules, with_their_ground
from hypothesis import given
from hypothesis import strategies as st
from laws import examples
from small_rules import ENGINES, judge_between_three_and_seven

from advisor.inference.inferring import RuleBook, infer
from advisor.inference.phases import RuleFault
from advisor.inference.situation import Situation
from advisor.knowledge_base.rule_entries import Rule

NAMES = st.sampled_from(["a", "b", "c"])
NUMBERS = st.sampled_from([-1.0, 0.0, 1e-7, 2.0, 2.5, 2.999999, 3.0, 5.0, 6.5, 7.0, 8.0, 12.25])
WORDS = st.sampled_from(["red", "dark metal", "blue"])


@st.composite
def edges(draw: st.DrawFn) -> dict[str, Any]:
    found = {k: draw(NUMBERS) for k in draw(st.sets(st.sampled_from(["above", "below"]), min_size=1))}
    if draw(st.booleans()):
        found["over"] = draw(st.sampled_from([0.5, 2.0, 1 / 3]))
    return found


@st.composite
def conditions(draw: st.DrawFn, subjects: list[str]) -> dict[str, Any]:
    subject = draw(st.sampled_from(subjects))
    found: dict[str, Any] = {subject.removesuffix("-band"): draw(NAMES)}
    if subject == "measure-band":
        found["is"] = draw(st.sampled_from(["low", "in", "high", "not_low", "not_high"]))
    elif subject == "measure" or (subject == "trait" and draw(st.booleans())):
        found |= draw(edges())
    elif subject == "process":
        aspects = draw(st.sets(st.sampled_from(["is", "edges", "stated"]), min_size=1))
        found |= {"is": draw(WORDS)} if "is" in aspects else {}
        found |= draw(edges()) if "edges" in aspects else {}
        found |= {"stated": draw(st.booleans())} if "stated" in aspects else {}
    elif subject == "symptom" and draw(st.booleans()):
        found["seen"] = draw(st.booleans())
    elif subject == "answer":
        found["is"] = draw(WORDS)
    return found


GIVEN = ["measure", "measure-band", "trait", "process", "symptom", "answer"]
READS = {
    "structure": ["measure", "trait", "process"],
    "state": [*GIVEN, "structure", "state", "state"],
    "suspect": [*GIVEN, "structure", "state", "state"],
    "closing": [*GIVEN, "structure", "state", "suspect", "suspect"],
}


@st.composite
def clauses(draw: st.DrawFn, phase: str) -> list[dict[str, Any]]:
    found = []
    for _ in range(draw(st.integers(1, 4))):
        condition = draw(conditions(READS[phase]))
        denied = draw(st.integers(0, 2)) == 0 and not (phase == "state" and "state" in condition)
        found.append({"not": condition} if denied else condition)
    return found


@st.composite
def one_rule(draw: st.DrawFn, place: int) -> Rule:
    phase = draw(st.sampled_from(list(READS)))
    when = draw(clauses(phase))
    kinds = {
        "structure": ["structure"],
        "state": ["state"],
        "suspect": ["suspect", "caution", "reminder", "ask"],
        "closing": ["caution", "reminder", "ask"],
    }[phase]
    if phase == "closing":
        when.append({"suspect": draw(NAMES)})
    then = []
    for kind in draw(st.lists(st.sampled_from(kinds), min_size=1, max_size=3)):
        conclusion: dict[str, Any] = {kind: "Look out." if kind == "reminder" else draw(NAMES)}
        if kind == "suspect":
            evidence = ["weak", "moderate", "strong", "against", "rules_out"]
            conclusion["evidence"] = draw(st.sampled_from(evidence))
        then.append(conclusion)
    return Rule.model_validate(
        {"id": f"r{place}", "when": when, "then": then, "because": "so it is", "grade": "demo"}
    )


@st.composite
def rule_sets(draw: st.DrawFn) -> list[Rule]:
    found = []
    for place in range(draw(st.integers(1, 14))):
        rule = draw(one_rule(place))
        try:
            RuleBook.compile([rule])
        except RuleFault:  # it asks for and denies the same thing
            continue
        found.append(rule)
    return found


SITUATIONS = st.builds(
    Situation,
    measures=st.dictionaries(NAMES, NUMBERS),
    traits=st.dictionaries(NAMES, st.sampled_from([0.0, 1e-7, 0.5, 2.5, 8.0])),
    process_numbers=st.dictionaries(NAMES, NUMBERS),
    process_words=st.dictionaries(NAMES, st.sampled_from(["red", "dark metal", "green"])),
    stated=st.frozensets(NAMES),
    symptoms=st.dictionaries(NAMES, st.booleans()),
    answers=st.dictionaries(NAMES, st.sampled_from(["red", "dark metal", "green"])),
)


@examples(50)
@given(rules=rule_sets(), situations=st.lists(SITUATIONS, min_size=4, max_size=4))
def test_three_witnesses_agree_on_made_up_rules(rules: list[Rule], situations: list[Situation]) -> None:
    book = RuleBook.compile(rules)
    for situation in situations:
        told, expected = differences(rules, book, situation)
        assert [] == told
        for name in ENGINES:
            found = infer(situation, book, judge_between_three_and_seven, name)
            assert list(expected.structures) == list(found.structures)


SHIPPED = shipped_rules()


@examples(60)
@given(places=st.sets(st.integers(0, len(SHIPPED) - 1), min_size=1, max_size=12), seed=st.integers(0, 2**32))
def test_three_witnesses_agree_on_subsets_of_the_shipped_rules(places: set[int], seed: int) -> None:
    rules, rng = with_their_ground((SHIPPED[place] for place in sorted(places)), SHIPPED), random.Random(seed)
    book = RuleBook.compile(rules)
    for _ in range(5):
        assert [] == differences(rules, book, facts_for(rules, rng))[0]


def test_a_difference_would_be_told() -> None:
    """The comparison can fail: other rules in the book than those that are read directly."""
    rules = with_their_ground(SHIPPED[:40], SHIPPED)
    fewer, rng = RuleBook.compile(rules[::2]), random.Random(1)
    assert any(differences(rules, fewer, facts_for(rules, rng))[0] for _ in range(5))


@examples(25)
@given(rules=rule_sets(), situation=SITUATIONS, seed=st.integers(0, 1000))
def test_the_order_of_rules_and_facts_changes_nothing(
    rules: list[Rule], situation: Situation, seed: int
) -> None:
    shuffled = list(rules)
    random.Random(seed).shuffle(shuffled)

    def turned(values: Any) -> Any:
        return dict(reversed(list(values.items())))

    other = Situation(
        measures=turned(situation.measures),
        traits=turned(situation.traits),
        process_numbers=turned(situation.process_numbers),
        process_words=turned(situation.process_words),
        stated=situation.stated,
        symptoms=turned(situation.symptoms),
        answers=turned(situation.answers),
    )
    for name in ENGINES:
        one = infer(situation, RuleBook.compile(rules), judge_between_three_and_seven, name)
        assert one == infer(other, RuleBook.compile(shuffled), judge_between_three_and_seven, name)
