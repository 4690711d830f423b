"""Brings worn text back to what was meant: letters for digits from a scanned card, dot leaders, spoken line breaks."""

from __future__ import annotations

import re

_IN_NUMBER = re.compile(
    r"(?<![\w.])(?=[0-9lIO|]*[0-9])(?=[0-9lIO|.]*[lIO|])[0-9lIO|]+(?:[.,][0-9lIO|]+)?(?=\s*(?:g|gr|ml|kg|min|°|º|C\b|F\b|cm|mm|%|\b))"
)
_NUMBER_OF_LETTERS = re.compile(
    r"(?<![\w])(?:lO|IO|l0|I0|l[0-9O]{1,2}|[0-9]O{1,2}|[0-9]{2}O)(?=\s*(?:min|g\b|ml|°|º|cm|mm|C\b|F\b|hours?))"
)
_DIGIT_IN_WORD = re.compile(
    r"(?<=[^\W\d_])[1|](?=[^\W\d_])|(?<=[^\W\d_]{2})[1|](?=[\s.,;]|$)|(?<![\w/])[1|](?=[^\W\d_]{3})|(?<=[^\W\d_])0(?=[^\W\d_])"
)
_BEFORE_A_PART = re.compile(r"(?<![\w])[lI|](?=[½¼¾⅓⅔⅛⅜⅝⅞])")
_S_IN_HEAT = re.compile(r"(?<![\w])(?=[0-9S]{3}\s*[°º])[0-9S]*[0-9][0-9S]*")
_CAPITAL_IN_WORD = re.compile(r"(?<=[a-z])I(?=[a-z])|(?<=\b[a-z])I(?=[a-z]{2})")
_NINE_IN_WORD = re.compile(r"(?<=[a-z]{3})9(?![0-9])")
_EVIDENCE = re.compile(r"[^\W\d_][01|][^\W\d_]{2}|[0-9]O\b|\blO\b")
_LEADERS = re.compile(r"(?:\s*\.){4,}\s*|(?:\s\.){3,}\s*|_{3,}|…{2,}")
_SPOKEN = (
    (re.compile(r"\s*\bnew\s+line\b\s*", re.IGNORECASE), ", "),
    (re.compile(r"\s+(?:period|full\s+stop)\b(?=\s|$)", re.IGNORECASE), "."),
    (re.compile(r"\bflower\b", re.IGNORECASE), "flour"),
    (re.compile(r"\s+comma\b(?=\s|$)", re.IGNORECASE), ","),
)
_DICTATED = re.compile(r"[^.,;:!?]{160,}\.?")
"""A long line without a point in it, in which points may be spoken: "a rise of an hour period then bake"."""
_TAKEN_BACK = re.compile(
    r"\b(?:an?|one|two|three|four|five|six|half\s+an?|[0-9½¼¾]+)\s+(?:[a-z]+\s+){0,2}?(?:of\s+)?(?:the\s+)?"
    r"(?P<name>(?!min|hour|hrs|sec)[a-z]{3,}(?:\s[a-z]{3,})?)[\s,.]+(?:(?:oh|er|um|no|wait)[\s,]+)*(?:sorry|i\s+mean|make\s+that|wait|rather)"
    r"[\s,]+(?=[^.;\n]{2,40}?\b(?P=name)\b)",
    re.IGNORECASE,
)
"""An amount that was taken back at once: "two cups of gluten no sorry one and a half cups of gluten"."""
_COLUMN = re.compile(r"\s{4,}(?=(?:[0-9]|[½¼¾⅓⅔⅛⅜⅝⅞]))")
_BEGINS = re.compile(r"\s*(?:[-*•▢]\s*)?(?:[0-9]|[½¼¾⅓⅔⅛⅜⅝⅞])")
_LEAST_EVIDENCE = 2
_TO_DIGIT = str.maketrans({"l": "1", "I": "1", "|": "1", "O": "0"})


def is_worn(text: str) -> bool:
    """Tell whether a text shows letters and digits taken for each other, as a machine does that reads a card."""
    return len(_EVIDENCE.findall(text)) >= _LEAST_EVIDENCE


def mended_line(line: str, *, worn: bool) -> str:
    """Give a line as it was meant; letters and digits are exchanged only in a text that is `worn`."""
    if worn:
        line = _IN_NUMBER.sub(lambda m: m.group().translate(_TO_DIGIT), line)
        line = _NUMBER_OF_LETTERS.sub(lambda m: m.group().translate(_TO_DIGIT), line)
        line = _BEFORE_A_PART.sub("1", line)
        line = _S_IN_HEAT.sub(lambda m: m.group().replace("S", "5"), line)
        line = _NINE_IN_WORD.sub("g", _CAPITAL_IN_WORD.sub("l", line))
        line = _DIGIT_IN_WORD.sub(lambda m: "o" if m.group() == "0" else "l", line)
    if "H2O" in line:
        line = line.replace("H2O", "water")  # its 2 is no amount
    if "." in line or "_" in line or "…" in line:
        line = _LEADERS.sub("  ", line)
    if " new line " in line.lower() or _DICTATED.fullmatch(line):
        for pattern, written in _SPOKEN:
            line = pattern.sub(written, line)
    if "sorry" in line or "mean" in line or "wait" in line or "rather" in line or "make that" in line:
        line = _TAKEN_BACK.sub("", line)
    if _BEGINS.match(line):
        line = _COLUMN.sub(" ; ", line)
    return line
