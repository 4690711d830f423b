"""What has been read of one text so far; here a fault in a line becomes a problem of the text."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from advisor.formula.faults import LineFault, Problem
from advisor.formula.formula import Line, Unweighed
from advisor.formula.lines.prose_amounts import Pair
from advisor.formula.lines.weighed import BareNumber
from advisor.formula.method.facts import Fact
from advisor.formula.method.method_facts import MethodReader
from advisor.formula.process.process_values import Value
from advisor.formula.reports import Kind, ReadLine
from advisor.formula.text_lines import TextLine, raw_lines


@dataclass(frozen=True, slots=True, kw_only=True)
class Warmth:
    """The temperature that an ingredient line gives to a liquid."""

    number: int
    name: str
    grams: float
    celsius: float
    is_water: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Unknown:
    """An amount of something that is not known, and what is told where it is left out."""

    grams: float
    millilitres: float
    told: str


@dataclass(slots=True)
class Draft:
    """A formula in the making: lines, process fields, problems, and what was assumed."""

    name: str
    region: str
    title: str = ""
    section: str = ""
    method: bool = False
    base_g: float | None = None
    base_stated: bool = True
    bare: BareNumber = "either"
    thousands: bool | None = None
    lines: list[Line] = field(default_factory=list)
    unweighed: list[Unweighed] = field(default_factory=list)
    warmth: list[Warmth] = field(default_factory=list)
    fields: dict[str, Value] = field(default_factory=dict)
    totals: list[tuple[int, str, int]] = field(default_factory=list)
    whole_g: list[tuple[int, float]] = field(default_factory=list)
    key_lines: dict[str, int] = field(default_factory=dict)
    written_keys: dict[str, int] = field(default_factory=dict)
    tried: int = 0
    added_last: TextLine | None = None
    problems: list[Problem] = field(default_factory=list)
    kinds: dict[int, Kind] = field(default_factory=dict)
    passed_over: list[int] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)
    unknown: dict[int, Unknown] = field(default_factory=dict)
    """Lines whose name is not known, by their number."""
    told: list[tuple[TextLine, Pair]] = field(default_factory=list)
    """Amounts of ingredients that sentences tell; they count where no line gives that ingredient."""
    method_reader: MethodReader = field(default_factory=MethodReader)
    facts: list[tuple[int, Fact]] = field(default_factory=list)
    pans: list[tuple[int, str, dict[str, float | str], tuple[str, ...]]] = field(default_factory=list)

    def attempt(self, line: TextLine, read: Callable[[], Kind | None]) -> None:
        """Read something of a line; note its fault instead of stopping at it."""
        try:
            kind = read()
        except LineFault as fault:
            self.note_fault(line, fault)
        else:
            if kind is not None:
                self.kinds.setdefault(line.number, kind)

    def note_fault(self, line: TextLine, fault: LineFault) -> None:
        """Make a problem of a fault, beside what the rest of its line says."""
        column = line.column_of(fault.fragment)
        self.problems.append(
            Problem(
                line=line.number,
                column=column,
                what=fault.what,
                do=fault.do,
                fragment=fault.fragment,
                offers=fault.offers,
            )
        )
        self.kinds[line.number] = "problem"

    @contextmanager
    def under(self, section: str) -> Iterator[None]:
        """Read what stands in one line under a heading of its own, and go on under the one before."""
        before, self.section = self.section, section
        try:
            yield
        finally:
            self.section = before

    def mark(self) -> tuple[int, ...]:
        """Give how much has been read so far, to go back to where a line turns out to be read in another way."""
        return tuple(len(held) for held in self._held())

    def back_to(self, mark: tuple[int, ...]) -> None:
        """Forget what was read behind a mark."""
        for held, size in zip(self._held(), mark, strict=True):
            del held[size:]

    def _held(self) -> tuple[list[Any], ...]:
        return (self.lines, self.unweighed, self.warmth, self.assumed, self.warnings, self.told, self.facts)

    def assume(self, line: TextLine, said: str) -> None:
        """Note what was assumed to read a line."""
        self.assumed.append(f"line {line.number}: {said}")

    def warn(self, line: TextLine, said: str) -> None:
        """Note what is doubtful about a line."""
        self.warnings.append(f"line {line.number}: {said}")

    def line_kinds(self, text: str, *, written_as_yaml: bool) -> tuple[ReadLine, ...]:
        """Give every line that is not empty its kind; in YAML a line that only holds others together is a heading."""
        refused: dict[int, Kind] = {problem.line: "problem" for problem in self.problems}
        kinds = {**self.kinds, **refused}
        rest: Kind = "heading" if written_as_yaml else "problem"
        return tuple(ReadLine(number=n, text=raw, kind=kinds.get(n, rest)) for n, raw in raw_lines(text))
