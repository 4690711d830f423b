"""Words around a name that change nothing: what it is for, where it comes from, a name that was taken back."""

from __future__ import annotations

import re
from collections.abc import Iterator

_BEHIND = re.compile(
    r"\s+(?:(?P<free>(?:the\s+)?size|to|for|from|approx|approximately|roughly|or\s+so|ish|"
    r"if|optional|okay|ok|(?:the\s+)?(?:\w+\s+){1,2}(?:kind|ones?|sort|type|stuff))\b|(?P<bound>in|on|with|at|of|that|which|as|per|left)\b)",
    re.IGNORECASE,
)
_TOOK_BACK = re.compile(
    r"(?P<wrong>.+?)\s*(?:\.{2,}|…|,|-|–|\()\s*(?:(?:oh|er|erm|no|oops)[\s,]+)*"
    r"(?:sorry|i\s+mean|i\s+meant|wait|make\s+that|correction|rather|actually)\b[\s,:.…]*(?P<right>.*)",
    re.IGNORECASE,
)
_NO = re.compile(r"(?P<wrong>.+?)\s*(?:\.{2,}|…)\s*no\b[\s,!]*(?P<right>[^\W\d][^!]*)!*", re.IGNORECASE)


def shorter_names(name: str) -> Iterator[tuple[str, str, bool]]:
    """Give a name without the words behind it, the longest first, those words, and whether they must name no food.

    "sugar to feed the yeast" gives "sugar", whatever the purpose speaks of; "flour with honey" may hold two foods.
    """
    for found in reversed(list(_BEHIND.finditer(name))):
        behind = name[found.start() :].strip()
        if not any(letter.isdigit() for letter in behind):
            yield name[: found.start()].strip(" ,-"), behind, found["free"] is None


def taken_back(name: str, notes: tuple[str, ...]) -> tuple[str, tuple[str, ...], str] | None:
    """Give the right name ("chickpea... no sorry, lupin"), the notes that are left, and the name taken back."""
    found = _TOOK_BACK.fullmatch(name) or _NO.fullmatch(name)
    if found is None:
        return None
    if found["right"]:
        return found["right"], notes, found["wrong"]
    return (notes[0], notes[1:], found["wrong"]) if notes else None
