"""The rules that are shipped: on made-up situations around their thresholds, all witnesses agree."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from direct_evaluator import infer_directly
from small_rules import ENGINES, judge_between_three_and_seven

from advisor.inference.inferring import RuleBook, infer
from advisor.inference.phases import condition_of
from advisor.inference.rule_book import check_engine_limits
from advisor.inference.situation import Situation
from advisor.knowledge_base.rule_entries import Condition, Rule
from advisor.knowledge_base.strict_yaml import read_yaml

FOLDER = Path(__file__).parents[2] / "rules"


@pytest.fixture(scope="module")
def shipped() -> list[Rule]:
    found = []
    for path in sorted(FOLDER.rglob("*.yaml")):
        entries = read_yaml(path, path.name).data
        assert isinstance(entries, list)
        found += [Rule.model_validate(e) for e in entries if "retired" not in e]
    return found


def made_up(rules: list[Rule], seed: int) -> Situation:
    """Draw a situation in which every quantity lies near an edge that some rule names."""
    rng = random.Random(seed)
    conditions = [condition_of(clause) for rule in rules for clause in rule.when]
    rng.shuffle(conditions)

    def near(c: Condition) -> float:
        edges = [e for e in (c.above, c.below) if e is not None]
        return rng.choice(edges) * rng.choice([0.9, 1.0, 1.1]) if edges else rng.uniform(0.0, 10.0)

    def some(kind: str) -> list[Condition]:
        return [c for c in conditions if c.subject == kind and rng.random() < 0.5]

    return Situation(
        measures={c.name: near(c) for c in some("measure")},
        traits={c.name: near(c) for c in some("trait")},
        process_numbers={c.name: near(c) for c in some("process") if c.above or c.below},
        process_words={c.name: c.is_ for c in some("process") if c.is_},
        stated=frozenset(c.name for c in some("process")),
        symptoms={c.name: rng.random() < 0.6 for c in some("symptom")},
        answers={c.name: c.is_ for c in some("answer") if c.is_},
    )


def test_the_shipped_rules_fit_the_engines(shipped: list[Rule]) -> None:
    assert [] == check_engine_limits(shipped)


def test_all_witnesses_agree_on_the_shipped_rules(shipped: list[Rule]) -> None:
    book = RuleBook.compile(shipped)
    fired: set[str] = set()
    for seed in range(40):
        situation = made_up(shipped, seed)
        expected = infer_directly(situation, shipped, judge_between_three_and_seven, "egg_set")
        fired |= {f.rule for f in expected.firings}
        for name in ENGINES:
            assert expected == infer(situation, book, judge_between_three_and_seven, name), (name, seed)
    assert len(fired) > len(shipped) / 2  # the situations are lively enough to tell
