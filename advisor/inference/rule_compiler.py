"""From a rule as written to conjunctions of patterns that any engine can match.

Each condition becomes one pattern on one fact, or several where it reads several things (a process field's
word and whether it was stated). An engine may not use one fact for two patterns of a rule, so what a rule
says of one fact is merged into one pattern; a denial about a fact that the rule also needs becomes the
opposite comparison, and where it can be met in several ways, one conjunction each.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import dataclass

from advisor.inference.condition_reading import edges
from advisor.inference.engine import COMPLEMENT, EngineRule, Operator, Pattern, Test
from advisor.inference.phases import Phase, RuleFault
from advisor.knowledge_base.rule_entries import Condition, Denial, Rule

MILLION = 1_000_000
LARGEST = 1e9
"""Numbers beyond this are held at it: in millionths they still fit an engine's whole numbers exactly."""
BAND_NUMBER = {"low": -1, "in": 0, "high": 1}
_BAND_TESTS: Mapping[str, tuple[Operator, int]] = {
    "low": ("=", -1),
    "in": ("=", 0),
    "high": ("=", 1),
    "not_low": (">=", 0),
    "not_high": ("<=", 0),
}
_MOST_WAYS = 32


def millionths(value: float) -> int:
    """Give a finite number, already rounded to six decimals, in whole millionths."""
    return round(max(-LARGEST, min(LARGEST, value)) * MILLION)


class Vocabulary:
    """The words that rules compare with, each with its number."""

    def __init__(self) -> None:
        self._number: dict[str, int] = {}

    def learn(self, word: str) -> int:
        """Give the number of a word, a new one if it is new."""
        return self._number.setdefault(word, len(self._number))

    def number(self, word: str) -> int | None:
        """Give the number of a word, or `None` where no rule reads it."""
        return self._number.get(word)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Aspect:
    """One fact that a condition reads, with the tests on it; no tests means that it need only be there."""

    key: str
    tests: tuple[Test, ...]


def compile_rule(
    place: int, rule: Rule, phase: Phase, closed: str, vocabulary: Vocabulary
) -> tuple[EngineRule, ...]:
    """Compile one rule; `closed` is the key of the fact that says that earlier phases are complete.

    Raises:
        RuleFault: when the rule asks for and denies the same thing, or its denials can fail in too many ways.
    """
    needed: dict[str, tuple[Test, ...]] = {}
    for clause in rule.when:
        if not isinstance(clause, Denial):
            for aspect in _aspects(rule, clause, phase, vocabulary):
                needed[aspect.key] = (*needed.get(aspect.key, ()), *aspect.tests)
    ways: list[list[Pattern]] = []
    for clause in rule.when:
        if isinstance(clause, Denial):
            ways.append(_ways_to_deny(rule, _aspects(rule, clause.not_, phase, vocabulary), needed))
    if len(list(itertools.islice(itertools.product(*ways), _MOST_WAYS + 1))) > _MOST_WAYS:
        raise RuleFault(rule.id, f"its denials can be met in more than {_MOST_WAYS} ways; split the rule")
    return tuple(EngineRule(place, _joined(needed, choice, closed)) for choice in itertools.product(*ways))


def _joined(
    needed: Mapping[str, tuple[Test, ...]], choice: tuple[Pattern, ...], closed: str
) -> tuple[Pattern, ...]:
    tests = dict(needed)
    denied: dict[Pattern, None] = {}
    for pattern in choice:
        if pattern.denied:
            denied[pattern] = None
        else:
            tests[pattern.key] = (*tests[pattern.key], *pattern.tests)
    present = [Pattern(key, tuple(sorted(set(found)))) for key, found in tests.items()]
    if denied:
        present.append(Pattern(closed, ()))
    return (*present, *denied)


def _ways_to_deny(
    rule: Rule, aspects: tuple[_Aspect, ...], needed: Mapping[str, tuple[Test, ...]]
) -> list[Pattern]:
    ways: list[Pattern] = []
    for aspect in aspects:
        if aspect.key in needed:
            ways += [Pattern(aspect.key, (Test(COMPLEMENT[t.operator], t.number),)) for t in aspect.tests]
        else:
            ways.append(Pattern(aspect.key, tuple(sorted(set(aspect.tests))), denied=True))
    if not ways:
        raise RuleFault(rule.id, f"asks for and denies the same thing ({aspects[0].key})")
    return ways


def _aspects(rule: Rule, condition: Condition, phase: Phase, vocabulary: Vocabulary) -> tuple[_Aspect, ...]:
    name, subject = condition.name, condition.subject
    if subject == "measure" and condition.is_ is not None:
        return (_Aspect(key=f"band_{name}", tests=(Test(*_BAND_TESTS[condition.is_]),)),)
    if subject in ("measure", "trait"):
        return (_Aspect(key=f"{subject}_{name}", tests=_number_tests(rule, condition, phase)),)
    if subject == "process":
        return _process_aspects(rule, condition, phase, vocabulary)
    if subject == "symptom":
        return (_Aspect(key=f"symptom_{name}", tests=(Test("=", 0 if condition.seen is False else 1),)),)
    if subject == "answer":
        return (_Aspect(key=f"answer_{name}", tests=(Test("=", vocabulary.learn(condition.is_ or "")),)),)
    return (_Aspect(key=f"{subject}_{name}", tests=()),)


def _process_aspects(
    rule: Rule, condition: Condition, phase: Phase, vocabulary: Vocabulary
) -> tuple[_Aspect, ...]:
    name = condition.name
    found: list[_Aspect] = []
    if condition.is_ is not None:
        found.append(_Aspect(key=f"word_{name}", tests=(Test("=", vocabulary.learn(condition.is_)),)))
    if condition.stated is not None:
        found.append(_Aspect(key=f"stated_{name}", tests=(Test("=", int(condition.stated)),)))
    if condition.above is not None or condition.below is not None:
        found.append(_Aspect(key=f"process_{name}", tests=_number_tests(rule, condition, phase)))
    if not found:
        raise RuleFault(rule.id, f"names the process field {name} without is, above, below or stated")
    return tuple(found)


def _number_tests(rule: Rule, condition: Condition, phase: Phase) -> tuple[Test, ...]:
    above, below = edges(condition, phase)
    for edge in (above, below):
        if edge is not None and abs(edge) >= LARGEST:
            raise RuleFault(rule.id, f"compares {condition.name} with {edge:g}, beyond {LARGEST:g}")
    tests: list[Test] = []
    if above is not None:
        tests.append(Test(">", millionths(above)))
    if below is not None:
        tests.append(Test("<", millionths(below)))
    return tuple(tests) or (Test(">", 0),)  # a trait that is there at all
