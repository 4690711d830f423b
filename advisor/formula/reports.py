"""What became of every line of a text, so that anyone can see that nothing was dropped."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from advisor.formula.faults import FormulaFault, Problem
from advisor.formula.formula import Formula

Kind = Literal["ingredient", "unweighed", "process", "heading", "title", "comment", "problem"]
"""`process` is also a total ("makes 2 loaves") or a base; `comment` is also a line under a heading of the method."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadLine:
    """One line of a text that is not empty: its number from 1, its text as written, and what it was taken for."""

    number: int
    text: str
    kind: Kind


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadReport:
    """All lines of a text that are not empty, in order, each exactly once; a formula if there is no problem."""

    name: str
    lines: tuple[ReadLine, ...]
    problems: tuple[Problem, ...] = ()
    formula: Formula | None = None
    rest: Formula | None = None
    """Of a text with problems what its other lines say, to be shown; it is no formula to judge."""

    def numbers(self, kind: Kind) -> tuple[int, ...]:
        """Give the numbers of the lines of one kind."""
        return tuple(line.number for line in self.lines if line.kind == kind)

    def required(self) -> Formula:
        """Give the formula.

        Raises:
            FormulaFault: there are problems; holds them all.
        """
        if self.formula is None:
            raise FormulaFault(self.name, self.problems)
        return self.formula
