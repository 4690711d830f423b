"""From raw text to lines: what is refused whole, and what is taken off before a line is read."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from advisor.formula.faults import FormulaFault, Problem
from advisor.formula.worn_text import is_worn, mended_line

MOST_BYTES = 1_000_000
MOST_LINES = 200
LONGEST_LINE = 300
LONGEST_PROSE = 3000
"""A paragraph of a method may be this long; an ingredient line may not."""
_LONGEST_WORDS, _LEAST_UNLIKE = 9.0, 0.25
"""Letters a word and share of unlike words in what people say; a line of noise or of one word again has others."""
ONE_A_LINE = "write one ingredient a line"
_SENTENCES = re.compile(r"[^\W\d]{2,}[.!?]\s+[^\W\d]")
_NEWLINE = re.compile(r"\r\n|\r|\n|\u2028|\u2029")
_INVISIBLE = dict.fromkeys(map(ord, "\ufeff\u200b\u200c\u200d\u2060\u00ad\u200e\u200f\ufe0e\ufe0f"))
_BULLET = re.compile(
    r"(?:\[[^\]]{0,16}[0-9]{1,2}[:.][0-9]{2}[^\]]{0,8}\]\s*(?:[^\W\d]\w{1,15}:\s+)?"
    r"|[*•·▪◦‣●○■□☐☑✓✔➤►]\s*|[-–—+>]\s+|[-–—](?=[^\W\d])|\[[ xX]?\]\s*|[0-9]{1,3}[.)]\s+|[a-h]\)\s+)+"
)
_COMMENT = re.compile(r"(?:^|\s)#(?![0-9]).*$|^#.*$|^//.*$")
_EMPHASIS = re.compile(r"\*\*|__|~~|(?<!\S)_(?=\w)|(?<=\w)_(?!\S)|`")
_RULED = re.compile(r"(?:#{2,}|={2,}|-{2,}|~{2,}|\*{3,}|<+|\[)\s*(?P<inside>[^#=~\[\]<>]+?)\s*[#=~\-*>\]]*")
_DASH_BEHIND = re.compile(r"(?<=\S)(?:\s+[-–—]+)+$")
TITLE_KEY = re.compile(r"title\s*:\s*(?=\S)", re.IGNORECASE)


def without_dash(title: str) -> str:
    """Give a title without the dash that stands apart behind it."""
    return _DASH_BEHIND.sub("", title)


@dataclass(frozen=True, slots=True, kw_only=True)
class TextLine:
    """One line that is not empty: its number from 1, as it was written, and without bullet and comment.

    `text` is empty where the line says nothing to the formula: a comment, a rule. `ruled` tells that the line
    is set apart as headings are: "## Dry", "=== Dry ===", "**Dry**".
    """

    number: int
    raw: str
    text: str
    ruled: bool = False

    def column_of(self, fragment: str) -> int:
        """Give the column, from 1, at which a fragment begins; the line's first letter if it is not there."""
        for wanted in (fragment, fragment.replace(".", ",")):
            at = self.raw.lower().find(wanted.lower()) if wanted else -1
            if at >= 0:
                return at + 1
        return len(self.raw) - len(self.raw.lstrip()) + 1


def without_comment(text: str) -> str:
    """Give a line without the remark behind '#' or in a line that begins with '//'."""
    return _COMMENT.sub("", text)


def _refused(name: str, what: str, do: str, line: int = 1, column: int = 1) -> FormulaFault:
    return FormulaFault(name, (Problem(line=line, column=column, what=what, do=do),))


def _is_refused(character: str) -> bool:
    if character.isprintable() or character in "\t":
        return False
    return unicodedata.category(character) in ("Cc", "Cf", "Cs", "Cn", "Co")


def raw_lines(text: str) -> tuple[tuple[int, str], ...]:
    """Give every line that is not empty, with its number from 1; what cannot be seen is no text."""
    found = enumerate(_NEWLINE.split(text), 1)
    if text.isascii():
        return tuple((n, raw) for n, raw in found if raw and not raw.isspace())
    return tuple((n, raw) for n, raw in found if raw.translate(_INVISIBLE).strip())


def text_lines(text: str, name: str) -> tuple[tuple[TextLine, ...], tuple[Problem, ...]]:
    """Split a text into its lines; give also the problems of lines that cannot be read at all.

    Raises:
        FormulaFault: an empty, binary or oversized text.
    """
    if len(text) > MOST_BYTES:
        raise _refused(name, f"the text is longer than {MOST_BYTES:,} characters", "give one formula")
    if not text.strip():
        raise _refused(
            name, "the text is empty", "write one ingredient a line, such as '150 g vital wheat gluten'"
        )
    if "\x00" in text:
        raise _refused(name, "this is no text (it holds NUL bytes)", "give a plain text file")
    raws = raw_lines(text)
    if not raws:
        raise _refused(name, "the text is empty", "write one ingredient a line")
    if len(raws) > MOST_LINES and (many := _too_many(raws, name)):
        raise many
    found: list[TextLine] = []
    problems: list[Problem] = []
    worn = is_worn(text)
    for number, raw in raws:
        seen = raw if raw.isascii() else raw.translate(_INVISIBLE)
        if not seen.isprintable() and (bad := next((c for c in seen if _is_refused(c)), None)):
            what = f"the control character U+{ord(bad):04X}"
            problems.append(Problem(line=number, column=raw.index(bad) + 1, what=what, do="take it out"))
        elif len(seen) > LONGEST_LINE and not _is_prose(seen):
            problems.append(Problem(line=number, column=1, what=too_long(seen), do=ONE_A_LINE))
        else:
            found.append(_line(number, raw, " ".join(mended_line(seen, worn=worn).split())))
    return tuple(found), tuple(problems)


def _is_prose(text: str) -> bool:
    """Tell whether a long line is a paragraph: it has sentences, or words enough that were dictated without a stop."""
    words = text.split()
    plain = len(words) >= len(text) / _LONGEST_WORDS and len(set(words)) >= _LEAST_UNLIKE * len(words)
    return len(text) <= LONGEST_PROSE and (bool(_SENTENCES.search(text)) or plain)


def too_long(text: str) -> str:
    """Say that a line is too long to be an ingredient."""
    return f"the line has {len(text)} characters, more than {LONGEST_LINE}"


def _too_many(raws: tuple[tuple[int, str], ...], name: str) -> FormulaFault | None:
    saying = [number for number, raw in raws if not raw.lstrip().startswith("#")]
    if len(saying) <= MOST_LINES and len(raws) <= 5 * MOST_LINES:
        return None
    count = len(saying) if len(saying) > MOST_LINES else len(raws)
    what = f"the text has {count} lines, more than {MOST_LINES}"
    return _refused(name, what, "give one formula", line=raws[MOST_LINES][0])


def _line(number: int, raw: str, line: str) -> TextLine:
    if not line or TITLE_KEY.match(line):  # "...." leaves nothing
        return TextLine(number=number, raw=raw, text=line)
    ruled = _RULED.fullmatch(line) if line[0] in "#=-~*<[" else None
    if ruled is not None and not any(c.isdigit() for c in line) and len(line.split()) <= 7:
        inside = _EMPHASIS.sub("", ruled["inside"]).strip()
        if any(c.isalpha() for c in inside):
            return TextLine(number=number, raw=raw, text=inside, ruled=True)
    if line[0] == ">" and "?" in line:
        return TextLine(number=number, raw=raw, text="")  # somebody else's words, that are answered
    if "#" in line or "//" in line:
        line = without_comment(line)
    bold = line.startswith(("**", "__")) and line.rstrip(": ").endswith(("**", "__"))
    if "*" in line or "_" in line or "`" in line or "~~" in line:
        line = _EMPHASIS.sub("", line).strip()
    if bullet := _BULLET.match(line):
        line = line[bullet.end() :]
    if not any(c.isalnum() for c in line):
        line = ""
    return TextLine(number=number, raw=raw, text=line, ruled=bold and not any(c.isdigit() for c in line))
