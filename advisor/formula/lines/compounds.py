"""One line that holds several ingredients: "4 eggs + 1 egg white", "1 tsp each salt and xanthan gum"."""

from __future__ import annotations

import re
from collections.abc import Iterator

_AMOUNT = r"(?=[~≈]?[0-9.¼½¾⅓⅔⅛]|(?:an?|one|two|three|four|half|pinch)\s)"
_JOINED = re.compile(rf"\s*(?:\+|&|\bplus\b|\band\b|\bwith\b|[,;])\s*{_AMOUNT}", re.IGNORECASE)
_EACH = re.compile(
    r"(?P<amount>[^,]*?[0-9¼½¾⅓⅔⅛a-z.]+)\s+each(?:\s+of)?\s*:?\s+(?P<first>[^,]+?)(?P<more>(?:,\s*[^,]+?)*?)"
    r"\s*,?\s+(?:and|&)\s+(?P<last>[^,]+)",
    re.IGNORECASE,
)
_EACH_BEHIND = re.compile(
    r"(?P<first>[^,0-9]+?)(?P<more>(?:,\s*[^,0-9]+?)*?)\s*,?\s+(?:and|&)\s+(?P<last>[^,0-9]+?)\s*[,:]?\s*"
    r"(?P<amount>[0-9¼½¾⅓⅔⅛][^,]*?)\s+each",
    re.IGNORECASE,
)
_WITH_EACH = re.compile(r"\beach\b", re.IGNORECASE)
_MOST_PIECES = 12
_LONGEST_EACH = 200


def pieces_of(text: str) -> tuple[str, ...]:
    """Give the texts of the ingredients that a line may hold, each with its own amount; empty where it is one."""
    # The patterns try every way to share out the commas: only a short line that says "each" is worth that.
    worth = (
        _WITH_EACH.search(text) is not None and text.count(",") <= _MOST_PIECES and len(text) <= _LONGEST_EACH
    )
    for pattern in (_EACH, _EACH_BEHIND) if worth else ():
        if each := pattern.fullmatch(text):
            more = [name.strip() for name in each["more"].split(",") if name.strip()]
            names = [each["first"], *more, each["last"]]
            return tuple(f"{each['amount'].strip()} {name.strip()}" for name in names)
    pieces = [piece.strip(" ,;") for piece in _JOINED.split(text) if piece.strip(" ,;")]
    if not 2 <= len(pieces) <= _MOST_PIECES or text.count("(") != text.count(")"):
        return ()
    if any(piece.count("(") != piece.count(")") for piece in pieces):
        return ()
    return tuple(pieces)


_UNIT_BEHIND = re.compile(
    r"([^\W\d][^0-9]{2,30}?)[\s,:–—-]+(?:an?\s+)?(?:good\s+|big\s+|small\s+)?(pinch|dash|handful|splash|knob|glug|drizzle|bunch)\.?",
    re.IGNORECASE,
)
_IN_BRACKETS = re.compile(
    r"\((?P<inside>[0-9][0-9.,]*\s*(?:g|gr|ml|kg|tsp|tbsp)\s+[^\W\d][^()]*)\)$", re.IGNORECASE
)
_CODE_THEN = re.compile(r"([^\W\d][^0-9]{1,24}[0-9]{2,3})\s+[-–]\s+([0-9][0-9.,]*\s*k?g)\.?")


def turned_ways(text: str) -> Iterator[str]:
    """Give other ways to write a line: its unit in front, its code apart from its amount, its bracket alone."""
    if behind := _UNIT_BEHIND.fullmatch(text):
        yield behind.expand(r"1 \2 \1")  # "salt, a pinch"
    if code := _CODE_THEN.fullmatch(text):
        yield code.expand(r"\2 \1")  # "WPC 80 - 40 g"
    if inside := _IN_BRACKETS.search(text):
        yield inside["inside"]  # "1 zakje bakpoeder (16 g baking powder)"
