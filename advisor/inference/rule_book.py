"""A set of rules compiled once and run many times, from any number of threads.

An engine serves one assessment at a time, so the book keeps idle engines and builds another only when all
are out: there are never more of them than assessments that ran at once.
"""

from __future__ import annotations

import sys
import threading
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from importlib.util import find_spec
from itertools import pairwise
from typing import Literal

from advisor.inference.engine import Engine, EngineFault, EngineRule, Fact
from advisor.inference.engine_limits import MOST_RULES, limit_messages, refuse_past_limits
from advisor.inference.phases import PHASES, Phase, RuleFault
from advisor.inference.rule_compiler import Vocabulary, compile_rule
from advisor.inference.rule_outline import Outline, outline
from advisor.knowledge_base.rule_entries import Rule

_RULES_ON_A_CLOSING_FACT = 200
MOST_RULES_FOR_DURABLE = 1000
"""Past this, "auto" means clips everywhere: durable sets up 8 kB for every condition of every rule in each
assessment, CLIPS only what matches."""


def compiled_rules(
    rules: Sequence[Rule],
) -> tuple[tuple[Outline, ...], tuple[EngineRule, ...], Vocabulary]:
    """Compile rules in the order of their ids; give outlines, conjunctions, and the words they read.

    Raises:
        RuleFault: when a rule cannot be run, or two rules share an id.
    """
    ordered = sorted(rules, key=lambda r: r.id)
    for one, next_one in pairwise(ordered):
        if one.id == next_one.id:
            raise RuleFault(one.id, "stands twice in the set")
    outlines = tuple(outline(rule) for rule in ordered)
    vocabulary = Vocabulary()
    compiled: list[EngineRule] = []
    waiting: Counter[Phase] = Counter()
    for place, rule in enumerate(ordered):
        phase = outlines[place].phase
        # Many rules wait for the close of a phase; no one fact may be read by too many.
        closed = f"closed_{phase}_{waiting[phase] // _RULES_ON_A_CLOSING_FACT}"
        found = compile_rule(place, rule, phase, closed, vocabulary)
        waiting[phase] += sum(any(p.key == closed for p in one.patterns) for one in found)
        compiled += found
    return outlines, tuple(compiled), vocabulary


class RuleBook:
    """Compiled rules; thread-safe. Make one with `RuleBook.compile(rules)`."""

    def __init__(self, rules: tuple[Rule, ...]) -> None:
        self.rules = tuple(sorted(rules, key=lambda r: r.id))
        self.outlines, self.compiled, self.vocabulary = compiled_rules(self.rules)
        refuse_past_limits(self.compiled, [rule.id for rule in self.rules])
        self.read_keys = frozenset(p.key for rule in self.compiled for p in rule.patterns)
        """Keys of the facts that some rule reads; no other fact is told to an engine."""
        self.closing = {
            phase: sorted(Fact(key, 1) for key in self.read_keys if key.startswith(f"closed_{phase}_"))
            for phase in PHASES
        }
        """The facts that say that a phase is complete."""
        self.read_traits, self.read_stated = (
            {key: key.removeprefix(start) for key in self.read_keys if key.startswith(start)}
            for start in ("trait_", "stated_")
        )
        """Keys that always make a fact, with the names that they stand for."""
        self._idle: defaultdict[str, list[Engine]] = defaultdict(list)
        self._lock = threading.Lock()

    @classmethod
    def compile(cls, rules: Iterable[Rule]) -> RuleBook:
        """Compile rules.

        Raises:
            RuleFault: when a rule cannot be run, or the set is too wide for the engines.
        """
        return cls(tuple(rules))

    def __reduce__(self) -> tuple[Callable[[tuple[Rule, ...]], RuleBook], tuple[tuple[Rule, ...]]]:
        """Travel to another process as rules; networks are built anew there."""
        return RuleBook, (self.rules,)

    @contextmanager
    def engine(self, name: str) -> Iterator[Engine]:
        """Lend an engine with no facts in it; one that failed is thrown away.

        Raises:
            EngineFault: when the engine fails.
            ValueError: when there is no engine of that name.
        """
        chosen = engine_in_use(name, len(self.compiled))
        with self._lock:
            found = self._idle[chosen].pop() if self._idle[chosen] else None
        engine = found or self._built(chosen)
        engine.begin()
        yield engine
        engine.end()
        with self._lock:
            self._idle[chosen].append(engine)

    def _built(self, name: str) -> Engine:
        if name == "durable":
            if len(self.compiled) > MOST_RULES:
                raise EngineFault(
                    f"durable holds {MOST_RULES} conjunctions of conditions, and these rules have "
                    f"{len(self.compiled)}; clips takes them"
                )
            from advisor.inference.durable_engine import DurableEngine

            return DurableEngine(self.compiled)
        from advisor.inference.clips_engine import ClipsEngine

        return ClipsEngine(self.compiled)


def engine_in_use(name: str, rules: int = 0) -> Literal["durable", "clips"]:
    """Give the engine that a name stands for.

    auto is durable where it runs (before Python 3.13) and up to `MOST_RULES_FOR_DURABLE` rules, else clips.

    Raises:
        ValueError: when there is no engine of that name.
    """
    if name == "durable":
        return "durable"
    if name == "clips":
        return "clips"
    if name != "auto":
        raise ValueError(f"there is no engine '{name}'; use auto, durable or clips")
    runs = sys.version_info < (3, 13) and rules <= MOST_RULES_FOR_DURABLE and find_spec("durable") is not None
    return "durable" if runs else "clips"


def check_engine_limits(rules: Iterable[Rule]) -> list[str]:
    """For the linter: say in which ways a set of rules is too wide for the engines; empty when it fits.

    Raises:
        RuleFault: when a rule cannot be compiled at all.
    """
    listed = tuple(rules)
    _, compiled, _ = compiled_rules(listed)
    return limit_messages(compiled, [rule.id for rule in sorted(listed, key=lambda r: r.id)])
