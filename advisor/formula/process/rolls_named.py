"""Rolls by their number: "shape 6 rolls", "divide into 8 buns", and what a title says of them."""

from __future__ import annotations

import re

from advisor.formula.lines.amounts import number_at
from advisor.formula.piece_words import PIECE

_SHAPED = re.compile(
    rf"\b(?:shape|divide|form|roll|split|cut|make|portion)\b(?:\s+[a-z]+){{0,3}}?\s+(?P<count>[0-9]{{1,2}}|two|three|four|"
    rf"five|six|seven|eight|nine|ten|twelve)\s+(?:[a-z]+\s+)?{PIECE}\b",
    re.IGNORECASE,
)
_IS_ROLLS = re.compile(rf"\b{PIECE}\b", re.IGNORECASE)
_MOST = 60


def rolls_in(text: str) -> tuple[str, int] | None:
    """Give the words and the number of rolls that a sentence shapes."""
    found = _SHAPED.search(text)
    if found is None:
        return None
    number = number_at(f"{found['count']} ")
    count = int(number.value) if number is not None else 0
    return (found.group(), count) if 1 <= count <= _MOST else None


def names_rolls(title: str) -> bool:
    """Tell whether a title is one of rolls, buns or bagels."""
    return bool(_IS_ROLLS.search(title))
