"""Subsets of the shipped rules, and facts that lie on, near and far from every edge that those rules name."""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence
from pathlib import Path

from direct_evaluator import infer_directly
from proof_checker import conclusions, faults_of_missed, faults_of_proof, world_after
from small_rules import ENGINES, judge_between_three_and_seven

from advisor.inference.inferring import RuleBook, infer
from advisor.inference.phases import condition_of
from advisor.inference.proof import why, why_not
from advisor.inference.rule_outline import concluded
from advisor.inference.situation import Inference, Situation
from advisor.knowledge_base.rule_entries import Condition, Rule
from advisor.knowledge_base.strict_yaml import read_yaml

FOLDER = Path(__file__).parents[2] / "rules"
_OFF = (-1.0, -1e-3, -1e-6, -4e-7, 0.0, 4e-7, 1e-6, 1e-3, 1.0)
"""How far from an edge: rounding to millionths decides among the middle ones."""


def shipped_rules() -> list[Rule]:
    """Every rule that is not retired, in the order of the files."""
    found = []
    for path in sorted(FOLDER.rglob("*.yaml")):
        entries = read_yaml(path, path.name).data
        assert isinstance(entries, list)
        found += [Rule.model_validate(e) for e in entries if isinstance(e, dict) and "retired" not in e]
    return found


def with_their_ground(some: Iterable[Rule], every: Sequence[Rule]) -> list[Rule]:
    """Some rules with a rule for every structure, state and suspect that they read, and those for theirs."""
    chosen = {rule.id: rule for rule in some}
    waiting = list(chosen.values())
    while waiting:
        read = {(c.subject, c.name) for c in map(condition_of, waiting.pop().when)}
        for rule in every:
            if rule.id not in chosen and read & set(concluded(rule)):
                chosen[rule.id] = rule
                waiting.append(rule)
                read -= set(concluded(rule))
    return list(chosen.values())


def facts_for(rules: Sequence[Rule], rng: random.Random) -> Situation:
    """Draw facts such that every condition of the rules has a fair chance to hold, to fail and to be unknown."""
    conditions = [condition_of(clause) for rule in rules for clause in rule.when]
    rng.shuffle(conditions)
    known = rng.choice((0.4, 0.7, 0.95))

    def some(kind: str) -> list[Condition]:
        return [c for c in conditions if c.subject == kind and rng.random() < known]

    def number(c: Condition) -> float:
        edges = [e for e in (c.above, c.below) if e is not None]
        if not edges:
            return rng.choice((0.0, 3.0, 7.0, 2.999999, 7.000001, rng.uniform(-1.0, 11.0)))
        over = c.over or 1.0
        return rng.choice(edges) + rng.choice((*_OFF, over, over / 2, -over / 2, 20 * over, -20 * over))

    def word(c: Condition) -> str:
        return c.is_ if c.is_ and rng.random() < 0.8 else "something else"

    return Situation(
        measures={c.name: number(c) for c in some("measure")},
        traits={c.name: max(number(c), 0.0) for c in some("trait")},
        process_numbers={c.name: number(c) for c in some("process") if (c.above, c.below) != (None, None)},
        process_words={c.name: word(c) for c in some("process") if c.is_},
        stated=frozenset(c.name for c in some("process") if rng.random() < 0.5),
        symptoms={c.name: rng.random() < 0.6 for c in some("symptom")},
        answers={c.name: word(c) for c in some("answer")},
    )


def differences(rules: Sequence[Rule], book: RuleBook, situation: Situation) -> tuple[list[str], Inference]:
    """Lay engines, direct evaluator and proofs beside each other; give what differs, and what follows directly."""
    expected = infer_directly(situation, list(rules), judge_between_three_and_seven, "egg_set")
    by_id, world = {rule.id: rule for rule in rules}, world_after(situation, expected)
    told: list[str] = []
    facts = conclusions(expected)
    for name in ENGINES:
        found = infer(situation, book, judge_between_three_and_seven, name)
        if expected != found:
            told.append(f"{name}: {_first_difference(expected, found)}")
            continue
        for kind, what in facts:
            proof = why(found, rules, kind, what)
            if proof is None:
                told.append(f"{name}: no proof of {kind} {what}")
                continue
            told += [
                f"{name}: {kind} {what}: {fault}" for fault in faults_of_proof(proof, by_id, found, world)
            ]
            if proof != why(expected, rules, kind, what):
                told.append(f"{name}: another proof of {kind} {what}")
        for cause in sorted({c.suspect for rule in rules for c in rule.then if c.suspect}):
            if ("suspect", cause) not in facts and why(found, rules, "suspect", cause) is not None:
                told.append(f"{name}: a proof of {cause}, which nothing suspected")
            missed = why_not(situation, found, rules, cause)
            told += [f"{name}: {cause}: {fault}" for fault in faults_of_missed(missed, by_id, world)]
    return told, expected


def _first_difference(expected: Inference, found: Inference) -> str:
    for part in ("structures", "judged", "firings", "suspicions", "states", "cautions", "reminders", "asks"):
        one, other = getattr(expected, part), getattr(found, part)
        if one != other:
            return f"{part}: directly {one}, here {other}"
    return "nothing that can be named"
