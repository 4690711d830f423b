"""The CLIPS engine behind our small interface; the only file that imports clips.

Keys are symbols and numbers are whole numbers, since CLIPS tells 3 from 3.0 and a symbol from a string.
"""

from __future__ import annotations

from collections.abc import Sequence

import clips  # type: ignore[import-untyped]  # the library has no types

from advisor.inference.engine import EngineFault, EngineRule, Fact, Pattern, Test


class ClipsEngine:
    """A CLIPS environment, one assessment at a time."""

    def __init__(self, compiled: Sequence[EngineRule]) -> None:
        self._matched: list[int] = []
        self._environment = clips.Environment()
        # The library keeps what it calls for ever: a method of this engine would keep the engine and its network too.
        self._environment.define_function(self._matched.append, name="matched")
        self._environment.build("(deftemplate fact (slot key) (slot number))")
        self._template = self._environment.find_template("fact")
        self._symbols = {p.key: clips.Symbol(p.key) for rule in compiled for p in rule.patterns}
        for number, rule in enumerate(compiled):
            patterns = " ".join(_pattern(i, p) for i, p in enumerate(rule.patterns))
            self._environment.build(f"(defrule r{number} {patterns} => (matched {rule.rule}))")
        self._environment.reset()

    def begin(self) -> None:
        """Start an assessment with no facts."""
        self._matched.clear()

    def tell(self, facts: Sequence[Fact]) -> list[int]:
        """Add facts that were not told before; give the places of the rules that matched.

        Raises:
            EngineFault: when the engine fails.
        """
        try:
            for fact in facts:
                self._template.assert_fact(key=self._symbols[fact.key], number=fact.number)
            self._environment.run()
        except clips.CLIPSError as error:
            raise EngineFault(f"clips: {error}") from error
        matched, self._matched[:] = list(self._matched), []
        return matched

    def end(self) -> None:
        """Forget the assessment."""
        self._environment.reset()


def _pattern(place: int, pattern: Pattern) -> str:
    number = f"?n{place}"
    tests = "".join(f"&:{_comparison(number, test)}" for test in pattern.tests)
    slot = f" (number {number}{tests})" if tests else ""
    written = f"(fact (key {pattern.key}){slot})"
    return f"(not {written})" if pattern.denied else written


def _comparison(number: str, test: Test) -> str:
    return f"({'<>' if test.operator == '!=' else test.operator} {number} {test.number})"
