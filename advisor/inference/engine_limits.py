"""What the engines can hold, counted before an engine sees the rules: past it one fails, hangs or crashes.

Measured on durable_rules 2.0.28: more than 64 comparisons that one fact passes give error 303; more than 16
joined patterns error 304; the 256th rule on one comparison writes past the end of a list and the process
dies; the 512th comparison at one node of the network never returns; more than 4096 rules are refused.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence

from advisor.inference.engine import EngineRule, Pattern
from advisor.inference.phases import RuleFault

MOST_TESTS_OF_A_FACT = 60
MOST_JOINED = 16
MOST_RULES_ON_A_TEST = 250
MOST_TESTS_AT_A_NODE = 400
MOST_RULES = 4000
"""In durable alone, counted as conjunctions; CLIPS takes any number, and past some hundreds "auto" means CLIPS."""


def limit_messages(compiled: Sequence[EngineRule], ids: Sequence[str]) -> list[str]:
    """Name every limit that compiled rules pass; empty when they fit."""
    found: list[str] = []
    tests: defaultdict[str, set[tuple[object, ...]]] = defaultdict(set)
    users: Counter[tuple[str, tuple[object, ...]]] = Counter()
    for rule in compiled:
        if len(rule.patterns) > MOST_JOINED:
            found.append(
                f"rule {ids[rule.rule]}: joins {len(rule.patterns)} facts, at most {MOST_JOINED} fit"
            )
        for pattern in rule.patterns:
            users[(pattern.key, pattern.tests)] += 1
            # Each leading part of a chain of tests is a node of its own that the fact may reach.
            tests[pattern.key].update(pattern.tests[:n] for n in range(1, len(pattern.tests) + 1))
    for key, chains in sorted(tests.items()):
        if len(chains) > MOST_TESTS_OF_A_FACT:
            found.append(
                f"{len(chains)} different comparisons read {key}, at most {MOST_TESTS_OF_A_FACT} fit; "
                "let rules share thresholds, or conclude a state from some of them"
            )
    for (key, _), count in sorted(users.items()):
        if count > MOST_RULES_ON_A_TEST:
            found.append(
                f"{count} rules read {key} in the same way, at most {MOST_RULES_ON_A_TEST} fit; "
                "conclude a state from it and spread the rules"
            )
    return found


def refuse_past_limits(compiled: Sequence[EngineRule], ids: Sequence[str]) -> None:
    """Refuse rules that are too wide.

    Raises:
        RuleFault: naming every limit that is passed.
    """
    found = limit_messages(compiled, ids)
    if found:
        raise RuleFault("set as a whole", "; ".join(found))


def shards(compiled: Sequence[EngineRule]) -> dict[str, int]:
    """Deal the keys out so that no node of a network holds too many comparisons: key to its shard."""
    weight: defaultdict[str, set[Pattern]] = defaultdict(set)
    for rule in compiled:
        for pattern in rule.patterns:
            weight[pattern.key].add(pattern._replace(denied=False))
    dealt: dict[str, int] = {}
    shard, filled = 0, 0
    for key in sorted(weight):
        if filled and filled + len(weight[key]) > MOST_TESTS_AT_A_NODE:
            shard, filled = shard + 1, 0
        dealt[key] = shard
        filled += len(weight[key])
    return dealt
