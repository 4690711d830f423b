"""From raw text to lines: what is refused whole, and what is taken off before a line is read."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from advisor.formula.faults import FormulaFault, Problem, shown

MOST_BYTES = 1_000_000
MOST_LINES = 200
LONGEST_LINE = 300
_NEWLINE = re.compile(r"\r\n|\r|\n|\u2028|\u2029")
_INVISIBLE = dict.fromkeys(map(ord, "\ufeff\u200b\u200c\u200d\u2060\u00ad\u200e\u200f"))
_BULLET = re.compile(r"(?:[*•·▪◦‣●○■□☐☑✓✔]\s*|[-–—+]\s+|\[[ xX]?\]\s*|[0-9]{1,3}[.)]\s+)+")
_COMMENT = re.compile(r"(?:^|\s)#.*$")
TITLE_KEY = re.compile(r"title\s*:\s*(?=\S)", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class TextLine:
    """One line that says something: its number from 1, as it was written, and without bullet and comment."""

    number: int
    raw: str
    text: str

    def column_of(self, fragment: str) -> int:
        """Give the column, from 1, at which a fragment begins; the line's first letter if it is not there."""
        for wanted in (fragment, fragment.replace(".", ",")):
            at = self.raw.lower().find(wanted.lower()) if wanted else -1
            if at >= 0:
                return at + 1
        return len(self.raw) - len(self.raw.lstrip()) + 1


def _refused(name: str, what: str, do: str, line: int = 1, column: int = 1) -> FormulaFault:
    return FormulaFault(name, (Problem(line=line, column=column, what=what, do=do),))


def _is_refused(character: str) -> bool:
    if character.isprintable() or character in "\t":
        return False
    return unicodedata.category(character) in ("Cc", "Cf", "Cs", "Cn", "Co")


def text_lines(text: str, name: str) -> tuple[TextLine, ...]:
    """Split a text into the lines that say something.

    Raises:
        FormulaFault: an empty, binary or oversized text, or lines with control characters.
    """
    if len(text) > MOST_BYTES:
        raise _refused(name, f"the text is longer than {MOST_BYTES:,} characters", "give one formula")
    if not text.strip():
        raise _refused(
            name, "the text is empty", "write one ingredient a line, such as '150 g vital wheat gluten'"
        )
    if "\x00" in text:
        raise _refused(name, "this is no text (it holds NUL bytes)", "give a plain text file")
    raws = _NEWLINE.split(text)
    found: list[TextLine] = []
    problems: list[Problem] = []
    for number, raw in enumerate(raws, 1):
        seen = raw if raw.isascii() else raw.translate(_INVISIBLE)
        if not seen.isprintable() and (bad := next((c for c in seen if _is_refused(c)), None)):
            what = f"the control character U+{ord(bad):04X}"
            problems.append(Problem(line=number, column=raw.index(bad) + 1, what=what, do="take it out"))
            continue
        if len(seen) > LONGEST_LINE:
            what = f"the line has {len(seen)} characters, more than {LONGEST_LINE}"
            problems.append(Problem(line=number, column=1, what=what, do="write one ingredient a line"))
            continue
        line = seen if TITLE_KEY.match(seen.strip()) else _COMMENT.sub("", seen)
        line = " ".join(line.split())
        if bullet := _BULLET.match(line):
            line = line[bullet.end() :]
        if line:
            found.append(TextLine(number=number, raw=raw, text=line))
    if len(found) > MOST_LINES:
        what = f"the text has {len(found)} lines, more than {MOST_LINES}"
        raise _refused(name, what, "give one formula", line=found[MOST_LINES].number)
    if problems:
        raise FormulaFault(shown(name), tuple(problems[:20]))
    return tuple(found)
