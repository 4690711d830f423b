"""What every rule engine is given and gives back: whole numbers under keys, and the rules that matched.

Nothing that a person typed goes into an engine. A fact is a key made from identifiers of the knowledge and
one whole number: a quantity in millionths, a place in a list of words, or 1 for "it is so".
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple, Protocol

Operator = Literal["=", "!=", ">", "<", ">=", "<="]
COMPLEMENT: dict[Operator, Operator] = {"=": "!=", "!=": "=", ">": "<=", "<=": ">", "<": ">=", ">=": "<"}


class EngineFault(Exception):
    """Raised when an engine fails on rules and facts that the compiler let through: a bug of this program."""


class Fact(NamedTuple):
    """One thing that is so."""

    key: str
    number: int


class Test(NamedTuple):
    """A comparison of a fact's number with a constant."""

    operator: Operator
    number: int


class Pattern(NamedTuple):
    """A fact that must be there and pass all tests or, `denied`, no such fact."""

    key: str
    tests: tuple[Test, ...]
    denied: bool = False


class EngineRule(NamedTuple):
    """One conjunction of patterns; a rule whose denials can fail in several ways has one for each way."""

    rule: int
    """Place of the rule in the rule book."""
    patterns: tuple[Pattern, ...]


class Engine(Protocol):
    """One compiled network of rules, used by one assessment at a time."""

    def begin(self) -> None:
        """Start an assessment with no facts."""

    def tell(self, facts: Sequence[Fact]) -> list[int]:
        """Add facts that were not told before; give the places of the rules that matched, in any order.

        Raises:
            EngineFault: when the engine fails.
        """

    def end(self) -> None:
        """Forget the assessment and free what it held."""
