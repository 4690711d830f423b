"""The durable_rules engine behind our small interface; the only file that imports it.

Each assessment is one state (`sid`) of a compiled ruleset, deleted at its end. Rules are given as JSON
definitions; all that is asked of a match is which rule it was, so that nothing can fail unseen in an action.
"""

from __future__ import annotations

import time
import weakref
from collections.abc import Mapping, Sequence
from typing import Any

from durable import engine as durable  # type: ignore[import-untyped]  # the library has no types

from advisor.inference.engine import EngineFault, EngineRule, Fact, Operator, Pattern, Test
from advisor.inference.engine_limits import shards

# The library dates actions with a call that Python 3.12 deprecates; seconds since the epoch is all it needs.
durable._unix_now = time.time
_native = durable.durable_rules_engine

_NAME = "dough"
_SHARD = "at"
_NEVER = "never"
_OPENED = "opened"
_WORDS: Mapping[Operator, str] = {"!=": "$neq", ">": "$gt", "<": "$lt", ">=": "$gte", "<=": "$lte"}


class _SynchronousHost(durable.Host):  # type: ignore[misc]  # the library has no types
    """A host without the two background timer threads that the stock one starts."""

    def _run(self) -> None:
        pass


class DurableEngine:
    """A compiled ruleset, one assessment at a time."""

    def __init__(self, compiled: Sequence[EngineRule]) -> None:
        self._shards = shards(compiled)
        self._assessments = 0
        # A batch fails whole when one of its facts reaches no rule: this one reads them all and never fires.
        rules: dict[str, dict[str, Any]] = {
            "any": {"all": [{"a": {"$ex": {_SHARD: 1}}}, {"b": {_NEVER: 1}}], "run": lambda c: None},
            "opened": {"all": [{"a": {_OPENED: 1}}], "run": lambda c: None},
        }
        for number, rule in enumerate(compiled):
            rules[f"r{number}"] = {
                "all": [
                    {f"c{i}$not" if p.denied else f"c{i}": self._expression(p)}
                    for i, p in enumerate(rule.patterns)
                ],
                "run": lambda c: None,
            }
        self._host = _SynchronousHost({_NAME: rules})
        self._ruleset = self._host.get_ruleset(_NAME)
        # The library never frees a network by itself: 5 to 14 MB for each compiled set of our rules.
        weakref.finalize(self, _native.delete_ruleset, self._ruleset._handle).atexit = False
        self._places = {f"r{number}": rule.rule for number, rule in enumerate(compiled)}

    def _expression(self, pattern: Pattern) -> dict[str, Any]:
        tests = [self._comparison(pattern.key, test) for test in pattern.tests]
        return {"$and": [{_SHARD: self._shards[pattern.key]}, *(tests or [{"$ex": {pattern.key: 1}}])]}

    @staticmethod
    def _comparison(key: str, test: Test) -> dict[str, Any]:
        if test.operator == "=":
            return {key: test.number}
        return {_WORDS[test.operator]: {key: test.number}}

    def begin(self) -> None:
        """Start an assessment with no facts.

        Raises:
            EngineFault: when the engine fails.
        """
        self._assessments += 1
        # Deleting a state in which no action ever ran frees memory that was never set, and the process
        # dies; so one runs in each.
        try:
            self._host.assert_facts(_NAME, [{"sid": str(self._assessments), _OPENED: 1}])
        except Exception as error:
            raise _fault(error) from error

    def tell(self, facts: Sequence[Fact]) -> list[int]:
        """Add facts that were not told before; give the places of the rules that matched.

        Raises:
            EngineFault: when the engine fails.
        """
        sid = str(self._assessments)
        batch = [{"sid": sid, _SHARD: self._shards[f.key], f.key: f.number} for f in facts]
        # The library's own loop over matches wraps each in objects and writes the state back after it. Only
        # the names are wanted: taking them straight from its engine saves a millisecond an assessment.
        matched: list[int] = []
        try:
            state = self._ruleset.assert_facts(batch)
            started = _native.start_action_for_state(self._ruleset._handle, state)
            match = started[1] if started else None
            while match:
                name = match.split('"', 2)[1]  # {"name": {...}}
                if name in self._places:
                    matched.append(self._places[name])
                match = _native.complete_and_start_action(self._ruleset._handle, state)
        except Exception as error:
            raise _fault(error) from error
        return matched

    def end(self) -> None:
        """Forget the assessment and free its state."""
        self._host.delete_state(_NAME, str(self._assessments))


def _fault(error: Exception) -> EngineFault:
    """The library's own errors are bare: a code in a sentence."""
    return EngineFault(f"durable: {getattr(error, 'message', error)}")
