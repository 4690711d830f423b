"""The same question has the same answer: whatever the order of rules, entries, facts, lines, or of a hash."""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import TypeVar

import pytest
from case_files import demo

from advisor import default_advisor
from advisor.diagnosis.pipeline import Examiner
from advisor.formula.formula import Formula
from advisor.inference.clips_engine import ClipsEngine
from advisor.inference.engine import Fact
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Advisor
from advisor.rendering.documents.assessment import assessment_document
from advisor.rendering.documents.writing import Json, plain

ENGINES = ["durable", "clips"] if sys.version_info < (3, 13) else ["clips"]
NAMES = [
    "canteen-sandwich-loaf-excess-water",
    "cheese-dough-rounds-coated-cheese",
    "ordinary-wheat-tin-loaf-overproofed",
    "psyllium-rolls-too-little-binder",
]
SAW = ("gummy_centre", "dense_crumb", "collapse_on_cooling", "flat_loaf")
V = TypeVar("V")


def answers(advisor: Advisor, formula: Formula, saw: Sequence[str] = SAW) -> str:
    """A check and a diagnosis of a formula, as JSON."""
    both = advisor.check(formula), advisor.diagnose(formula, saw=saw, not_seen=("dry_crumb",))
    return json.dumps(
        [plain(assessment_document(answer, advisor.knowledge)) for answer in both], allow_nan=False
    )


@cache
def usual(name: str) -> str:
    """The answers that all others are held against, once for all tests."""
    return answers(default_advisor(), demo(name))


def shuffled(entries: Mapping[str, V], seed: int) -> dict[str, V]:
    items = list(entries.items())
    random.Random(seed).shuffle(items)
    return dict(items)


@pytest.mark.parametrize("engine", ENGINES)
@pytest.mark.parametrize("seed", [0, pytest.param(1, marks=pytest.mark.slow)])
def test_the_order_of_rules_bands_and_links_changes_nothing(
    knowledge: Knowledge, engine: str, seed: int
) -> None:
    bands, links = list(knowledge.bands), list(knowledge.links)
    random.Random(seed).shuffle(bands)
    random.Random(seed).shuffle(links)
    rules = shuffled(knowledge.rules, seed)
    assert list(rules) != list(knowledge.rules)
    other = Advisor(Examiner(replace(knowledge, rules=rules, bands=tuple(bands), links=tuple(links)), engine))
    for name in NAMES:
        assert usual(name) == answers(other, demo(name)), name


def test_the_order_of_causes_and_levers_changes_nothing(knowledge: Knowledge) -> None:
    mixed = replace(
        knowledge,
        causes=shuffled(knowledge.causes, 3),
        mechanisms=shuffled(knowledge.mechanisms, 3),
        levers=shuffled(knowledge.levers, 3),
    )
    other = Advisor(Examiner(mixed))
    for name in NAMES:
        assert usual(name) == answers(other, demo(name)), name


@pytest.mark.parametrize("engine", ENGINES)
def test_the_order_of_facts_changes_nothing(
    knowledge: Knowledge, engine: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    expected = {name: usual(name) for name in NAMES}
    kind: type = ClipsEngine
    if engine == "durable":
        from advisor.inference.durable_engine import DurableEngine

        kind = DurableEngine
    told, rng, moved = kind.tell, random.Random(5), []

    def tell(self: object, facts: Sequence[Fact]) -> list[int]:
        mixed = rng.sample(list(facts), len(facts))
        moved.append(mixed != list(facts))
        return list(told(self, mixed))

    monkeypatch.setattr(kind, "tell", tell)
    other = Advisor(Examiner(knowledge, engine))
    for name in NAMES:
        assert expected[name] == answers(other, demo(name)), name
    assert any(moved)


def test_the_order_of_what_was_seen_changes_nothing(advisor: Advisor) -> None:
    for name in NAMES:
        assert usual(name) == answers(advisor, demo(name), SAW[::-1]), name


def without_order_of_lines(text: str) -> list[Json]:
    """The answers with the formula's own lines sorted, since they are shown as they were written."""
    found = json.loads(text)
    for answer in found:
        answer["formula"]["lines"].sort(key=lambda line: line["text"])
        answer["assumed"].sort()
    return list(found)


@pytest.mark.parametrize("name", NAMES)
def test_the_order_of_the_lines_of_a_formula_changes_nothing(advisor: Advisor, name: str) -> None:
    formula = demo(name)
    lines = random.Random(7).sample(formula.lines, len(formula.lines))
    assert tuple(lines) != formula.lines
    expected = without_order_of_lines(usual(name))
    assert expected == without_order_of_lines(answers(advisor, replace(formula, lines=tuple(lines))))


def test_neither_the_seed_of_the_hash_nor_the_count_of_processes_changes_a_byte() -> None:
    """Sets have another order in every process."""
    printed = set()
    for seed, jobs in (("1", "1"), ("2", "2")):
        command = [sys.executable, "-m", "advisor", "check", *NAMES[:2], "--jsonl", "--jobs", jobs]
        done = subprocess.run(
            command, capture_output=True, check=False, env={**os.environ, "PYTHONHASHSEED": seed}
        )
        assert b"" == done.stderr
        printed.add(done.stdout)
    assert 1 == len(printed)
    assert 2 == len(printed.pop().splitlines())
