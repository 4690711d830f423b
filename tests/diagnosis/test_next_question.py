"""The next question: worth is expected information, answers are weighed consistently, and asking stops."""

from __future__ import annotations

from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st
from laws import examples
from test_diagnosis import COEFFICIENTS, GRAPH, SYMPTOMS, diagnose, say

from advisor.diagnosis.diagnosis import signs_of
from advisor.diagnosis.evidence_scale import EvidenceScale
from advisor.diagnosis.next_question import (
    AskedFact,
    Outcome,
    QuestionWorth,
    answer_likelihood,
    entropy,
    next_question,
    rank_questions,
)

SCALE = EvidenceScale.read(COEFFICIENTS)
SIGNS = signs_of(GRAPH, SYMPTOMS)
DOOR = AskedFact(question="door", seconds=4, ratios={"yes": {"jolted": 15.0}, "no": {"jolted": 0.2}})


def rank(*, saw: tuple[str, ...] = (), known: tuple[str, ...] = (), facts: tuple[AskedFact, ...] = ()):  # type: ignore[no-untyped-def]
    return rank_questions(diagnose(saw=saw), SIGNS, SYMPTOMS, {*saw, *known}, facts, scale=SCALE)


def by_id(ranked: tuple[QuestionWorth, ...], name: str) -> QuestionWorth:
    return next(worth for worth in ranked if worth.id == name)


def test_entropy_is_that_of_the_causes_that_matter() -> None:
    assert pytest.approx(1.0) == entropy({"a": 0.5, "b": 1.0, "c": 0.0})
    assert pytest.approx(-(0.25 * log2(0.25) + 0.75 * log2(0.75))) == entropy({"a": 0.5, "b": 0.25}, {"b"})


def test_two_answers_settle_how_likely_each_is_without_fault() -> None:
    shares = answer_likelihood({"yes": {"c": 5.0}, "no": {"c": 0.2}})
    assert pytest.approx({"yes": 1 / 6, "no": 5 / 6}) == shares
    assert pytest.approx(1.0) == shares["yes"] * 5.0 + shares["no"] * 0.2


def test_silence_is_read_as_the_mirror_image() -> None:
    expected = {"yes": 1 / 6, "no": 5 / 6}
    assert pytest.approx(expected) == answer_likelihood({"yes": {"c": 5.0}, "no": {}})


def test_without_rules_all_answers_are_alike() -> None:
    assert answer_likelihood({"a": {}, "b": {}}) == {"a": 0.5, "b": 0.5}


@given(column=st.lists(st.floats(0.01, 30.0), min_size=2, max_size=5))
def test_shares_add_up_and_balance_where_answers_speak_both_ways(column: list[float]) -> None:
    shares = answer_likelihood({f"a{n}": {"c": ratio} for n, ratio in enumerate(column)})
    assert pytest.approx(1.0) == sum(shares.values())
    if min(column) < 0.9 and max(column) > 1.1:
        balance = sum(share * ratio for share, ratio in zip(shares.values(), column, strict=True))
        assert pytest.approx(1.0, abs=1e-6) == balance


@examples(20)
@given(saw=st.lists(st.sampled_from(["gummy", "runny", "fallen", "flat"]), unique=True, max_size=3))
def test_answers_average_to_what_is_believed_now_and_never_cost_information(saw: list[str]) -> None:
    now = diagnose(saw=tuple(saw)).own
    ranked = rank(saw=tuple(saw), facts=(DOOR,))
    for worth in ranked:
        assert pytest.approx(1.0) == sum(outcome.likelihood for outcome in worth.outcomes)
        for cause, p in now.items():
            mean = sum(o.likelihood * o.probability[cause] for o in worth.outcomes)
            assert pytest.approx(p, abs=1e-5) == mean
        assert worth.gain >= -1e-5


def test_a_symptom_outcome_is_the_posterior_once_it_is_answered() -> None:
    worth = by_id(rank(saw=("gummy",)), "runny")
    outcomes = {outcome.answer: outcome.probability for outcome in worth.outcomes}
    assert diagnose(saw=("gummy", "runny")).own == pytest.approx(outcomes["seen"], abs=1e-6)
    assert diagnose(saw=("gummy",), absent=("runny",)).own == pytest.approx(outcomes["absent"], abs=1e-6)


def test_an_answer_outcome_is_the_posterior_with_the_odds_multiplied() -> None:
    yes = by_id(rank(saw=("fallen",), facts=(DOOR,)), "door").outcomes[0]
    assert diagnose(say("jolted", "strong"), saw=("fallen",)).own == pytest.approx(yes.probability, abs=1e-6)


def test_what_separates_two_causes_is_asked_before_what_repeats_itself() -> None:
    ids = [worth.id for worth in rank(saw=("gummy",))]
    assert ids.index("runny") < ids.index("gummy_base")


def test_known_facts_and_symptoms_without_a_cause_are_not_asked() -> None:
    ids = {worth.id for worth in rank(saw=("gummy",), known=("runny", "door"), facts=(DOOR,))}
    assert {"gummy_base", "fallen", "flat"} == ids


def test_seconds_count_against_a_question() -> None:
    slow = AskedFact(question="slow", seconds=DOOR.seconds * 3, ratios=DOOR.ratios)
    ranked = rank(saw=("fallen",), facts=(DOOR, slow))
    quick, long = by_id(ranked, "door"), by_id(ranked, "slow")
    assert pytest.approx(quick.gain) == long.gain
    assert pytest.approx(quick.gain_per_second / 3) == long.gain_per_second


def test_asking_stops_at_the_limit_when_little_is_told_and_when_no_answer_changes_the_plan() -> None:
    ranked = rank(saw=("fallen",), facts=(DOOR,))

    def jolt_first(outcome: Outcome) -> bool:
        return max(outcome.probability, key=lambda c: outcome.probability[c]) == "jolted"

    assert ranked[0] == next_question(ranked, asked=0, scale=SCALE)
    assert next_question(ranked, asked=8, scale=SCALE) is None
    assert next_question(ranked, asked=0, scale=SCALE, changes_plan=lambda _: False) is None
    chosen = next_question(ranked, asked=0, scale=SCALE, changes_plan=jolt_first)
    assert chosen is not None
    assert chosen.id == "door"
    dull = AskedFact(question="dull", seconds=1, ratios={"yes": {"water": 1.01}, "no": {}})
    told = [worth for worth in rank(facts=(dull,)) if worth.id == "dull"]
    assert told
    assert next_question(told, asked=0, scale=SCALE) is None
