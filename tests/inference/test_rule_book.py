"""One compiled book serves many assessments, in many threads, and nothing of one is left in the next."""

from __future__ import annotations

import gc
import pickle
import resource
import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from small_rules import ENGINES, judge_between_three_and_seven, rules

from advisor.inference.engine import EngineFault, Fact
from advisor.inference.inferring import RuleBook, infer
from advisor.inference.rule_book import engine_in_use
from advisor.inference.situation import Inference, Situation

RULES = """
- {id: a, when: [{measure: m, is: high}], then: [{state: one}]}
- {id: b, when: [{state: one}, {not: {symptom: s}}], then: [{suspect: c, evidence: strong}]}
- {id: d, when: [{measure: m, is: low}], then: [{suspect: c, evidence: weak}]}
- {id: e, when: [{suspect: c}], then: [{ask: q}]}
- {id: f, when: [{not: {suspect: c}}], then: [{ask: nothing}]}
"""
SITUATIONS = [
    Situation(measures={}),
    Situation(measures={"m": 9.0}),
    Situation(measures={"m": 9.0}, symptoms={"s": True}),
    Situation(measures={"m": 1.0}),
    Situation(measures={"m": 5.0}, symptoms={"s": False}),
]


def run(book: RuleBook, situation: Situation, engine: str) -> Inference:
    return infer(situation, book, judge_between_three_and_seven, engine)


def test_a_thousand_assessments_leave_nothing_behind(engine: str) -> None:
    book = RuleBook.compile(rules(RULES))
    alone = [run(RuleBook.compile(rules(RULES)), s, engine) for s in SITUATIONS]
    for s in SITUATIONS * 40:
        run(book, s, engine)
    before = held_mb()
    for n in range(1000):
        assert alone[n % 5] == run(book, SITUATIONS[n % 5], engine)
    # A state of this book is about 150 kB: a thousand kept ones would be 150 MB.
    assert held_mb() - before < 15


def test_books_that_are_let_go_leave_no_network_behind(engine: str) -> None:
    """A network is 100 kB in the one library and 1.7 MB in the other, neither of which frees any by itself."""
    before = 0.0
    for n in range(130):
        run(RuleBook.compile(rules(RULES)), SITUATIONS[1], engine)
        if n == 39:
            before = held_mb()
    gc.collect()
    assert held_mb() - before < 5


def held_mb() -> float:
    """Memory that this process holds now, where the system tells it, and else the most that it ever held."""
    now = Path("/proc/self/statm")
    if now.exists():
        return int(now.read_text().split()[1]) * resource.getpagesize() / 1e6
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3


def test_threads_share_a_book(engine: str) -> None:
    book = RuleBook.compile(rules(RULES))
    alone = [run(book, s, engine) for s in SITUATIONS]
    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(lambda n: run(book, SITUATIONS[n % 5], engine), range(400)))
    assert [alone[n % 5] for n in range(400)] == found


def test_no_thread_is_started(engine: str) -> None:
    before = threading.active_count()
    run(RuleBook.compile(rules(RULES)), SITUATIONS[1], engine)
    assert before == threading.active_count()


def test_a_book_travels_to_another_process(engine: str) -> None:
    book = RuleBook.compile(rules(RULES))
    expected = run(book, SITUATIONS[1], engine)
    assert expected == run(pickle.loads(pickle.dumps(book)), SITUATIONS[1], engine)


def test_a_book_without_rules_concludes_nothing(engine: str) -> None:
    found = run(RuleBook.compile([]), SITUATIONS[1], engine)
    assert ((), {"egg_set": 1.0}) == (found.firings, found.structures)


def test_after_a_failure_the_next_assessment_is_sound(engine: str) -> None:
    book = RuleBook.compile(rules(RULES))
    with pytest.raises(ZeroDivisionError):
        infer(SITUATIONS[1], book, lambda w, v: {"m": 1 / 0}, engine)  # type: ignore[dict-item]
    assert ["f"] == [f.rule for f in run(book, SITUATIONS[0], engine).firings]


@pytest.mark.skipif("durable" not in ENGINES, reason="durable_rules does not run on this Python")
def test_an_engine_that_refuses_a_fact_says_so() -> None:
    book = RuleBook.compile(rules(RULES))
    with (
        pytest.raises(EngineFault, match="durable: Message has already been observed"),
        book.engine("durable") as running,
    ):
        running.tell([Fact("symptom_s", 1)])
        running.tell([Fact("symptom_s", 1)])


def test_an_assessment_that_the_engine_refused_is_made_again(
    engine: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = RuleBook.compile(rules(RULES))
    expected = run(book, SITUATIONS[1], engine)
    with book.engine(engine) as running:
        kind = type(running)
    tell, refused = kind.tell, []

    def once(self, facts):
        if not refused:
            refused.append(len(facts))
            raise EngineFault("taken for the same")
        return tell(self, facts)

    monkeypatch.setattr(kind, "tell", once)
    assert (expected, 1) == (run(book, SITUATIONS[1], engine), len(refused))


def test_engine_names() -> None:
    assert "clips" == engine_in_use("clips")
    assert ("durable" if sys.version_info < (3, 13) else "clips") == engine_in_use("auto")
    assert "clips" == engine_in_use("auto", 2500)
    with pytest.raises(ValueError, match="no engine 'other'; use auto, durable or clips"):
        engine_in_use("other")
