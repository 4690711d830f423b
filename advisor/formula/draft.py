"""What has been read of one text so far; here a fault in a line becomes a problem of the text."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from advisor.formula.faults import LineFault, Problem
from advisor.formula.formula import Line
from advisor.formula.process import Value
from advisor.formula.text_lines import TextLine


@dataclass(slots=True)
class Draft:
    """A formula in the making: lines, process fields, problems, and what was assumed."""

    name: str
    region: str
    title: str = ""
    section: str = ""
    base_g: float | None = None
    lines: list[Line] = field(default_factory=list)
    fields: dict[str, Value] = field(default_factory=dict)
    key_lines: dict[str, int] = field(default_factory=dict)
    tried: int = 0
    added_last: TextLine | None = None
    problems: list[Problem] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)

    def attempt(self, line: TextLine, read: Callable[[], None]) -> None:
        """Read something of a line; note its fault instead of stopping at it."""
        try:
            read()
        except LineFault as fault:
            column = line.column_of(fault.fragment)
            self.problems.append(Problem(line=line.number, column=column, what=fault.what, do=fault.do))
