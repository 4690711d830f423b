"""What each kind of condition means, on every engine."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from small_rules import judge_between_three_and_seven, rules

from advisor.inference.condition_reading import SituationFault
from advisor.inference.inferring import RuleBook, infer
from advisor.inference.situation import Firing, Inference, Situation


def run(engine: str, text: str, **given: Any) -> Inference:
    situation = Situation(**{"measures": {}, **given})
    return infer(situation, RuleBook.compile(rules(text)), judge_between_three_and_seven, engine)


def firing(engine: str, when: str, **given: Any) -> Firing | None:
    found = run(engine, f"[{{id: r, when: {when}, then: [{{suspect: c, evidence: weak}}]}}]", **given)
    return found.firings[0] if found.firings else None


@pytest.mark.parametrize(
    ("word", "values"),
    [
        ("low", [2.9]),
        ("in", [3.0, 5.0, 7.0]),
        ("high", [7.1]),
        ("not_low", [3.0, 5.0, 7.0, 7.1]),
        ("not_high", [2.9, 3.0, 5.0, 7.0]),
    ],
)
def test_is_reads_the_band(engine: str, word: str, values: list[float]) -> None:
    held = [
        value
        for value in (2.9, 3.0, 5.0, 7.0, 7.1)
        if firing(engine, f"[{{measure: a, is: {word}}}]", measures={"a": value})
    ]
    assert values == held


@pytest.mark.parametrize(
    ("when", "value", "holds"),
    [
        ("{measure: a, above: 2.5}", 2.5, False),
        ("{measure: a, above: 2.5}", 2.500001, True),
        ("{measure: a, below: 2.5}", 2.499999, True),
        ("{measure: a, below: 2.5}", 2.5, False),
        ("{measure: a, above: 1, below: 2}", 1.5, True),
        ("{measure: a, above: 1, below: 2}", 2.5, False),
        ("{measure: a, above: -1}", -0.5, True),
        ("{measure: a, above: 0}", 1e-7, False),
        ("{measure: a, above: 5}", 1e30, True),
        ("{not: {measure: a, above: 2.5}}", 2.5, True),
        ("{not: {measure: a, above: 2.5}}", 3, False),
    ],
)
def test_above_and_below_read_the_value(engine: str, when: str, value: float, holds: bool) -> None:
    assert holds == (firing(engine, f"[{when}]", measures={"a": value}) is not None)


def test_a_measure_without_a_value_neither_holds_nor_can_be_denied(engine: str) -> None:
    assert firing(engine, "[{measure: a, is: in}]") is None
    assert firing(engine, "[{measure: a, below: 3}]") is None
    assert firing(engine, "[{not: {measure: a, is: in}}]") is not None
    assert firing(engine, "[{not: {measure: a, below: 3}}]") is not None


def test_a_denial_about_a_fact_that_the_rule_also_needs(engine: str) -> None:
    when = "[{measure: a, above: 1}, {not: {measure: a, above: 2, below: 3}}]"
    held = [v for v in (0.5, 1.5, 2.5, 3.5) if firing(engine, when, measures={"a": v})]
    assert [1.5, 3.5] == held


def test_two_conditions_on_one_fact_both_hold(engine: str) -> None:
    when = "[{measure: a, above: 1}, {measure: a, below: 3}, {measure: a, is: low}]"
    held = [v for v in (0.5, 2.5, 3.5) if firing(engine, when, measures={"a": v})]
    assert [2.5] == held


@pytest.mark.parametrize(
    ("when", "grams", "holds"),
    [
        ("{trait: t}", {"t": 0.2}, True),
        ("{trait: t}", {"t": 0.0}, False),
        ("{trait: t}", {}, False),
        ("{trait: t, above: 1}", {"t": 0.5}, False),
        ("{trait: t, below: 1}", {}, True),
        ("{not: {trait: t}}", {}, True),
    ],
)
def test_a_trait_that_no_line_has_is_nought(
    engine: str, when: str, grams: dict[str, float], holds: bool
) -> None:
    assert holds == (firing(engine, f"[{when}]", traits=grams) is not None)


@pytest.mark.parametrize(
    ("when", "holds"),
    [
        ("{process: pan, is: dark metal}", True),
        ("{process: pan, is: glass}", False),
        ("{not: {process: pan, is: glass}}", True),
        ("{process: pan, is: dark metal, stated: true}", True),
        ("{process: oven, above: 170, stated: false}", True),
        ("{process: oven, above: 170, stated: true}", False),
        ("{not: {process: oven, above: 170, stated: true}}", True),
        ("{not: {process: oven, above: 170, stated: false}}", False),
        ("{process: door, stated: false}", True),
        ("{process: door, below: 3}", False),
    ],
)
def test_process_words_numbers_and_whether_they_are_stated(engine: str, when: str, holds: bool) -> None:
    found = firing(
        engine,
        f"[{when}]",
        process_words={"pan": "dark metal"},
        process_numbers={"oven": 175.0},
        stated=frozenset({"pan"}),
    )
    assert holds == (found is not None)


def test_a_symptom_is_seen_looked_for_or_unknown(engine: str) -> None:
    clauses = ["{symptom: s}", "{symptom: s, seen: false}", "{not: {symptom: s}}"]
    expected = {True: [True, False, False], False: [False, True, True], None: [False, False, True]}
    for seen, holds in expected.items():
        given = {} if seen is None else {"s": seen}
        assert holds == [firing(engine, f"[{c}]", symptoms=given) is not None for c in clauses]


def test_an_answer_that_no_rule_reads_stays_outside_the_engine(engine: str) -> None:
    when = "[{answer: q, is: bagged}]"
    assert firing(engine, when, answers={"q": "bagged"}) is not None
    assert firing(engine, when, answers={"q": 'x") (exit'}) is None


def test_excess_is_the_least_of_the_graded_conditions(engine: str) -> None:
    when = "[{measure: a, is: high}, {measure: b, above: 10, over: 4}, {symptom: s}]"
    found = firing(engine, when, measures={"a": 8.5, "b": 11.0}, symptoms={"s": True})
    assert found is not None
    assert (0.25, 1.0) == (found.excess, found.depth)


def test_depth_is_the_least_of_the_conditions_inside_a_band(engine: str) -> None:
    when = "[{measure: a, is: in}, {measure: b, is: not_high}]"
    for a, b, depth in ((3.5, 5.0, 0.5), (5.0, 6.75, 0.25), (5.0, 3.1, 1.0), (5.0, 1.0, 1.0)):
        found = firing(engine, when, measures={"a": a, "b": b})
        assert found is not None
        assert (1.0, depth) == (found.excess, found.depth)


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), float("-inf")])
def test_a_number_that_is_not_finite_is_refused_before_the_engine(engine: str, bad: float) -> None:
    with pytest.raises(SituationFault, match="a is "):
        firing(engine, "[{measure: a, above: 1}]", measures={"a": bad})


STRUCTURES = """
- {id: gluten, when: [{measure: g, above: 10, over: 4}], then: [{structure: kneaded}]}
- {id: egg, when: [{measure: e, above: 10, over: 4}], then: [{structure: egg_set}]}
- {id: gum, when: [{measure: u, above: 10}], then: [{structure: gum_bound}]}
- {id: if-egg, when: [{structure: egg_set}], then: [{state: eggy}]}
"""


def test_a_structure_takes_hold_gradually_around_its_edge(engine: str) -> None:
    found = run(engine, STRUCTURES, measures={"g": 11.0, "e": 9.0})
    assert {"kneaded": 0.75, "egg_set": 0.25} == found.structures
    assert () == found.states  # a quarter is too little for "the structure is egg_set"


def test_two_heaviest_structures_stay(engine: str) -> None:
    found = run(engine, STRUCTURES, measures={"g": 10.0, "e": 20.0, "u": 10.5})
    assert {"egg_set": 0.5, "gum_bound": 0.5} == found.structures
    assert ("eggy",) == found.states


def test_where_no_structure_rule_fires_the_fallback_is_taken(engine: str) -> None:
    assert {"egg_set": 1.0} == run(engine, STRUCTURES, measures={"g": 1.0}).structures


CHAIN = """
- {id: a3, when: [{state: two}], then: [{state: three}]}
- {id: b2, when: [{state: one}], then: [{state: two}]}
- {id: c1, when: [{measure: m, is: high}, {not: {measure: n, is: high}}], then: [{state: one}]}
- {id: d, when: [{state: three}], then: [{suspect: water, evidence: strong}]}
- {id: e, when: [{measure: m, is: high}], then: [{suspect: water, evidence: weak, evidence_group: own}]}
- {id: f, when: [{measure: m, is: in}], then: [{suspect: salt, evidence: against}]}
- {id: g, when: [{suspect: water}], then: [{caution: wet}, {reminder: Weigh it.}]}
- {id: h, when: [{not: {suspect: salt}}], then: [{ask: salted}]}
- {id: i, when: [{suspect: salt}], then: [{caution: salty}]}
"""


def test_rules_chain_and_two_may_suspect_one_cause(engine: str) -> None:
    found = run(engine, CHAIN, measures={"m": 9.0})
    assert ["a3", "b2", "c1", "d", "e", "g", "h"] == [f.rule for f in found.firings]
    assert ("three", "two", "one") == found.states
    assert [("d", "three"), ("e", "own")] == [(s.rule, s.group) for s in found.suspicions]
    assert (("wet",), (("g", "Weigh it."),), ("salted",)) == (found.cautions, found.reminders, found.asks)


def test_opposing_evidence_does_not_make_a_suspect(engine: str) -> None:
    found = run(engine, CHAIN, measures={"m": 5.0})
    assert ["f", "h"] == [f.rule for f in found.firings]


def test_a_suspect_without_excess_does_not_hold(engine: str) -> None:
    text = """
- {id: a, when: [{measure: m, is: high}], then: [{suspect: c, evidence: strong}]}
- {id: b, when: [{suspect: c}], then: [{ask: q}]}
"""
    situation = Situation(measures={"m": 7.0})
    (at_edge,) = judge_between_three_and_seven({}, {"m": 7.0}).values()
    found = infer(
        situation,
        RuleBook.compile(rules(text)),
        lambda w, v: {"m": replace(at_edge, state="high", excess=0.0)},
        engine,
    )
    assert ["a"] == [f.rule for f in found.firings]


def test_bands_are_judged_once_with_the_weights_in_play(engine: str) -> None:
    calls: list[dict[str, float]] = []

    def judge(weights: Any, values: Any) -> dict[str, Any]:
        calls.append(dict(weights))
        return {}

    infer(Situation(measures={"e": 20.0}), RuleBook.compile(rules(STRUCTURES)), judge, engine)
    assert [{"egg_set": 1.0}] == calls
