"""Takes a list apart into its rows, whichever order each has: "gluten 110, 1 egg white, butter, soft 40 g"."""

from __future__ import annotations

import re
from collections.abc import Callable

from advisor.formula.lines.running import is_loose
from advisor.formula.lines.states import only_states
from advisor.formula.lines.weighed_pairs import in_full
from advisor.formula.spelling import words_of

_BRACKET = re.compile(r"\([^()]*\)")
_MARKS = re.compile(r"\s*[,;]\s+|\s+(?:[/|+·•&]|//)\s+|\s*;\s*|,(?=[^\W\d])")
_ALL_GRAMS = re.compile(r"[\s.,;(–-]*\b(?:all\s+)?(?:in\s+)?gram(?:me)?s\b[\s.)]*$", re.IGNORECASE)
_SHARES = re.compile(
    r"(?P<front>.*?)(?<!\w)(?<![0-9]\s)(?:baker'?s?'?\s+)?(?:%|percent)\s*(?:on|of|to)\s+(?:the\s+)?\w+(?:\s+\w+)?\s*\(\s*(?P<base>[0-9]+(?:\.[0-9]+)?)\s*g\)\s*:\s*",
    re.IGNORECASE,
)
_SHARE_ROW = re.compile(r"(?P<name>[^\W\d][^0-9%]*?)\s+(?P<share>[0-9]+(?:\.[0-9]+)?)\s*%?")
_BRACKETED = re.compile(
    r"(?P<name>[^\W\d][^(),;:]{1,40}?)\s*\((?:[^()0-9]*,\s*)?(?P<amount>[0-9]+(?:[.,][0-9]+)?\s*(?:g|ml)?)\)(?:\s*[\[(][0-9.,]+[\])])?"
)
_SQUARE = re.compile(r"\[[^\[\]]*\]")
_LEAST_BRACKETED = 2
_ORDER = re.compile(r"^\W*(?:(?:then|now)\s+)?(?:take|add|use)\s+", re.IGNORECASE)
_STATE_BEHIND = re.compile(
    r"(?P<name>[^\W\d][^0-9(]*?)\s+(?P<amount>[0-9]+(?:\.[0-9]+)?(?:\s*(?:g|ml))?)\s+(?P<state>[a-z][a-z ]+)"
)
_INTO_IT = re.compile(r"\s+(?:in|into)\s+(?:the\s+)?(?:dough|mix|batter)$", re.IGNORECASE)
_COUNT_BEHIND = re.compile(
    r"(?P<name>[^\W\d][^0-9(]*?)\s+(?P<grams>[2-9][0-9]|[1-9][0-9]{2})\s*\((?P<count>[1-9][0-9]?)\)"
)
_AMOUNT = re.compile(
    r"[0-9½¼¾⅓⅔⅛]|^(?:an?|one|two|three|four|five|six|seven|eight|half|quarter)\s", re.IGNORECASE
)


def rows_of(text: str, reads: Callable[[str], bool]) -> tuple[str, ...]:
    """Give the rows of a list; a part without an amount goes with the one before it, or begins the one behind.

    `reads` tells whether a text is one whole ingredient with its amount.
    """
    text = _ALL_GRAMS.sub("", text)
    held = _BRACKET.sub(lambda found: "\x00" * len(found.group()), text)
    parts: list[str] = []
    start = 0
    for end, behind in [*(m.span() for m in _MARKS.finditer(held)), (len(text), len(text))]:
        if part := text[start:end].strip():
            parts.append(_turned(in_full(part)))
        start = behind
    rows: list[str] = []
    waiting = ""
    for part in parts:
        if is_loose(part):
            rows, waiting = [*(_with_note(rows, waiting) if waiting else rows), part], ""
        elif _AMOUNT.search(_BRACKET.sub("", part)):
            joined = f"{waiting}, {part}" if waiting else part
            if waiting and not reads(joined):
                rows, joined = _with_note(rows, waiting), part
            rows.append(joined)
            waiting = ""
        elif only_states(words_of(part)) and rows:
            rows = _with_note(rows, part)
        elif waiting:
            rows, waiting = _with_note(rows, waiting), part
        else:
            waiting = part
    return tuple(_with_note(rows, waiting) if waiting else rows)


def _turned(row: str) -> str:
    """Give "milk 110 warm" and "eggs 100 (2)", grams with their count, in the order of other rows."""
    if found := _STATE_BEHIND.fullmatch(row):
        state = found["state"].strip()
        return f"{found['amount']} {state} {found['name']}" if only_states(words_of(state)) else row
    row = _INTO_IT.sub("", row)
    found = _COUNT_BEHIND.fullmatch(row)
    return f"{found['grams']} g {found['name']} ({found['count']})" if found else row


def _with_note(rows: list[str], note: str) -> list[str]:
    """Put a note behind the last row; one in front of all, or a pinch without a number, is a row of its own."""
    return [*rows[:-1], f"{rows[-1]}, {note}"] if rows else [note]


def brackets_as_amounts(text: str) -> str:
    """Give a list whose amounts all stand in brackets without them: "ricotta (250), eggs (2)"; any other as it is.

    A second bracket is that of another batch.
    """
    found = list(_BRACKETED.finditer(text))
    if len(found) < _LEAST_BRACKETED or any(c.isdigit() for c in _BRACKET.sub("", _SQUARE.sub("", text))):
        return text
    return _BRACKETED.sub(r"\g<name> \g<amount>", _ORDER.sub("", text))


def shares_of(text: str) -> tuple[float, str, str] | None:
    """Give base [g], words in front, and list of shares of "Rings. % on dry (240 g): gluten 63, water 75"."""
    found = _SHARES.match(text)
    if found is None:
        return None
    rows = rows_of(text[found.end() :].rstrip(" ."), lambda _: True)
    shares = [_SHARE_ROW.fullmatch(row) for row in rows]
    if not all(shares) or len(shares) < 2:
        return None
    listed = ", ".join(f"{m['share']} % {m['name']}" for m in shares if m)
    return float(found["base"]), found["front"].strip(" ,.:;"), listed
