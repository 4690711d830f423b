"""What can be wrong with a formula text, and the one error that tells its writer."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

_LONGEST_SHOWN = 60


def shown(text: str) -> str:
    """Give text from outside as it may stand in a message: short, on one line, no control characters."""
    clean = "".join(
        c if unicodedata.category(c) not in ("Cc", "Cf", "Cs", "Co", "Zl", "Zp") else f"\\u{ord(c):04x}"
        for c in text[: _LONGEST_SHOWN + 1]
    )
    return clean if len(clean) <= _LONGEST_SHOWN else clean[: _LONGEST_SHOWN - 1] + "…"


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Problem:
    """One thing that the writer of the text can mend: where (both from 1), what, and what to do."""

    line: int
    column: int
    what: str
    do: str
    fragment: str = ""
    """The part of the line that is meant."""
    offers: tuple[str, ...] = ()
    """What may be written in its place, the likeliest first."""


class FormulaFault(Exception):
    """Raised when a text cannot be read as a formula; holds every problem of the text, in order."""

    def __init__(self, name: str, problems: tuple[Problem, ...]) -> None:
        self.name = name
        self.problems = tuple(sorted(problems))
        super().__init__(name, self.problems)

    def __str__(self) -> str:
        """Give one line a problem: ``NAME:LINE:COLUMN: what; what to do``."""
        return "\n".join(f"{shown(self.name)}:{p.line}:{p.column}: {p.what}; {p.do}" for p in self.problems)


class LineFault(Exception):
    """Raised inside one line, at a fragment of it; the reader makes it a `Problem` with line and column."""

    def __init__(self, fragment: str, what: str, do: str, offers: tuple[str, ...] = ()) -> None:
        self.fragment = fragment
        self.what = what
        self.do = do
        self.offers = offers
        super().__init__(what)


class UnknownName(LineFault):
    """Raised where no ingredient has a name; what it is like is only looked up once nothing else reads the line."""

    def __init__(
        self, name: str, do: str = "add it to the ingredients", offered: tuple[str, ...] = ()
    ) -> None:
        super().__init__(name, f"no ingredient is called '{shown(name)}'", do, offered)
