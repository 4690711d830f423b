"""A set of rules that an engine cannot hold is refused before the engine sees it; one at the edge runs."""

from __future__ import annotations

import pytest
from small_rules import ENGINES, judge_between_three_and_seven, rules

from advisor.inference.engine import EngineFault
from advisor.inference.inferring import RuleBook, infer
from advisor.inference.phases import RuleFault
from advisor.inference.rule_book import check_engine_limits
from advisor.inference.situation import Situation
from advisor.knowledge_base.rule_entries import Rule


def many(count: int, when: str) -> list[Rule]:
    """Give rules that differ in their number, which stands for N in the condition."""
    return rules(
        "\n".join(
            f"- {{id: r{n}, when: [{when.replace('N', str(n))}], then: [{{caution: k}}]}}"
            for n in range(count)
        )
    )


def fired(engine: str, found: list[Rule], **given: object) -> int:
    situation = Situation(**{"measures": {}, **given})  # type: ignore[arg-type]
    return len(infer(situation, RuleBook.compile(found), judge_between_three_and_seven, engine).firings)


def test_sixty_thresholds_on_one_measure_run(engine: str) -> None:
    found = many(60, "{measure: a, above: N}")
    assert [] == check_engine_limits(found)
    assert 60 == fired(engine, found, measures={"a": 100.0})


def test_more_thresholds_on_one_measure_are_refused() -> None:
    found = many(61, "{measure: a, above: N}")
    (message,) = check_engine_limits(found)
    assert message.startswith("61 different comparisons read measure_a, at most 60 fit")
    with pytest.raises(RuleFault, match="61 different comparisons read measure_a"):
        RuleBook.compile(found)


def test_two_hundred_and_fifty_rules_on_one_symptom_run(engine: str) -> None:
    found = many(250, "{symptom: s}")
    assert [] == check_engine_limits(found)
    assert 250 == fired(engine, found, symptoms={"s": True})


def test_more_rules_on_one_symptom_are_refused() -> None:
    (message,) = check_engine_limits(many(251, "{symptom: s}"))
    assert message.startswith("251 rules read symptom_s in the same way, at most 250 fit")


def test_many_rules_may_wait_for_the_close_of_a_phase(engine: str) -> None:
    found = many(450, "{symptom: sN}, {not: {symptom: tN}}")
    assert [] == check_engine_limits(found)
    assert 2 == fired(engine, found, symptoms={"s7": True, "s449": True, "s3": True, "t3": True})


def test_more_kinds_of_facts_than_one_node_of_a_network_holds(engine: str) -> None:
    found = many(1200, "{answer: qN, is: true-enough}")
    assert [] == check_engine_limits(found)
    assert 2 == fired(engine, found, answers={"q0": "true-enough", "q1199": "true-enough", "q5": "no"})


def test_more_rules_than_one_engine_holds_go_to_the_other() -> None:
    found = many(4001, "{symptom: sN}")
    assert [] == check_engine_limits(found)
    assert 1 == fired("auto", found, symptoms={"s4000": True})
    if "durable" in ENGINES:
        with pytest.raises(
            EngineFault, match="durable holds 4000 conjunctions of conditions, and these rules"
        ):
            fired("durable", found, symptoms={"s4000": True})


def test_the_widest_rule_that_can_be_written_fits(engine: str) -> None:
    twelve = [f"{{process: p{n}, is: word, above: 1, stated: true}}" for n in range(5)]
    found = rules(f"[{{id: r, when: [{', '.join(twelve)}], then: [{{caution: k}}]}}]")
    assert [] == check_engine_limits(found)
    names = [f"p{n}" for n in range(5)]
    assert 1 == fired(
        engine,
        found,
        process_words=dict.fromkeys(names, "word"),
        process_numbers=dict.fromkeys(names, 2.0),
        stated=frozenset(names),
    )


def test_a_rule_that_joins_too_many_facts_is_refused() -> None:
    six = [f"{{process: p{n}, is: word, above: 1, stated: true}}" for n in range(6)]
    (message,) = check_engine_limits(
        rules(f"[{{id: wide, when: [{', '.join(six)}], then: [{{caution: k}}]}}]")
    )
    assert "rule wide: joins 18 facts, at most 16 fit" == message
