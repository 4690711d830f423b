"""Time of one inference: the engines and the direct evaluator on 250 rules, and on ten times as many.

Run: python tests/bench/bench_inference.py. Medians of warm runs, interleaved in one process, so that the
ratios hold where the milliseconds do not. The 2,250 added rules read the same measures and never match.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1] / "inference")]

from direct_evaluator import infer_directly  # noqa: E402
from small_rules import ENGINES, judge_between_three_and_seven  # noqa: E402

from advisor.inference.inferring import RuleBook, infer  # noqa: E402
from advisor.inference.situation import Situation  # noqa: E402
from advisor.knowledge_base.rule_entries import Rule  # noqa: E402

MEASURES = [f"m{n}" for n in range(45)]
SYMPTOMS = [f"s{n}" for n in range(15)]
ROUNDS = 40


def made_up(count: int, start: int, matching: bool, rng: random.Random) -> list[Rule]:
    """Make rules of two or three conditions; a quarter deny something."""
    found = []
    for n in range(start, start + count):
        one, other = rng.sample(MEASURES, 2)
        when: list[dict[str, object]] = [{"measure": one, "is": rng.choice(["low", "high", "in"])}]
        if matching:
            when.append({"measure": other, "above": rng.randrange(10)})
        else:
            when = [{"measure": one, "above": 100 + rng.randrange(40)}, {"measure": other, "above": 200}]
        if n % 4 == 0:
            when.append({"not": {"symptom": rng.choice(SYMPTOMS)}})
        elif n % 4 == 1:
            when.append({"symptom": rng.choice(SYMPTOMS)})
        then = [{"suspect": f"c{n % 50}", "evidence": "moderate"}]
        raw = {"id": f"r{n}", "when": when, "then": then, "because": "so it is", "grade": "demo"}
        found.append(Rule.model_validate(raw))
    return found


def timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1000


def main() -> None:
    rng = random.Random(250)
    base = made_up(250, 0, True, rng)
    wide = base + made_up(2250, 250, False, rng)
    situations = [
        Situation(
            measures={m: rng.uniform(0.0, 10.0) for m in MEASURES},
            symptoms={s: rng.random() < 0.4 for s in SYMPTOMS},
        )
        for _ in range(ROUNDS)
    ]
    books = {}
    for label, rules in (("250 rules", base), ("2500 rules", wide)):
        start = time.perf_counter()
        books[label] = RuleBook.compile(rules)
        print(f"{label}: compiled in {(time.perf_counter() - start) * 1000:.0f} ms")
        for engine in ENGINES:
            first = timed(partial(infer, situations[0], books[label], judge_between_three_and_seven, engine))
            print(f"  {engine}: first inference, with building the network, {first:.0f} ms")
    times: dict[str, list[float]] = {}
    fired = []
    for situation in situations:
        for label, book in books.items():
            for engine in ENGINES:
                work = partial(infer, situation, book, judge_between_three_and_seven, engine)
                times.setdefault(f"{engine}, {label}", []).append(timed(work))
        work = partial(infer_directly, situation, base, judge_between_three_and_seven, "egg_set")
        times.setdefault("direct evaluator, 250 rules", []).append(timed(work))
        fired.append(len(infer(situation, books["250 rules"], judge_between_three_and_seven).firings))
    middle = {label: statistics.median(found) for label, found in times.items()}
    unit = middle[f"{ENGINES[0]}, 250 rules"]
    print(f"60 facts, {statistics.mean(fired):.0f} firings")
    for label, ms in middle.items():
        print(f"{label:32} {ms:8.2f} ms {ms / unit:6.2f} x")


if __name__ == "__main__":
    main()
