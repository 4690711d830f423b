"""Lines with numbers that are no ingredient and are kept as remarks: sums, plans, prices, water for the pot."""

from __future__ import annotations

import re

from advisor.formula.lines.running import amounts_at
from advisor.formula.lines.units import UnitTable

_PIECE = r"(?:bun|roll|piece|loaf|ball|tin|portion|person|slice|serving|wrap|bagel|cracker|muffin|cup|flatbread|each)"
_KEPT = re.compile(
    rf"""
    \b(?:for|into|in)\s+the\s+(?:boiling\s+)?(?:pot|steamer|water\s?bath|steam|oven)\b
    | ^\W*(?:boiling|poaching)\s+(?:pot|bath|liquid|water)\s*:
    | \b(?:boil|bring)\b .{{0,40}} \bwater\b (?!.*\b(?:dough|flour|mix)\b)
    | ^\W*(?:run|trial|attempt|test|version|try|batch|bake)\s*(?:no\.?\s*|\#\s*)?[0-9]+\b
    | ^\W*(?:next|last)\s+(?:time|run|bake|trial)\b
    | ^\(.*\)$
    | = .* (?:=|%|÷)
    | \bper\s+(?:100\s*g|{_PIECE})\b
    | \b{_PIECE}\s+weight\b | \bweight\s+(?:per|of\s+each|each|raw|before|after)\b
    | \b[0-9]+(?:\.[0-9]+)?\s*(?:g|gr|gm|grams?|oz)\s+each\s*$
    | [£$€]\s?[0-9] | [0-9]\s?(?:kcal|kj|cal)\b | \b(?:calories|net\s+carbs?|nutrition)\b
    | ^\W*(?:hydration|total\s+hydration|yield|cost|price|source|date|page|serves)\b
    """,
    re.IGNORECASE | re.VERBOSE,
)
_DIGIT = re.compile(r"[0-9½¼¾⅓⅔⅛]\s*")
_SHORT = 12


def is_kept(text: str, units: UnitTable) -> bool:
    """Tell whether a line that could not be read as an ingredient is one that says something else.

    What begins or ends in an amount with a few words is an ingredient that is not known, and is asked back.
    """
    if not any(c.isdigit() for c in text):
        return False
    if _KEPT.search(text):
        return True
    amounts = amounts_at(text, units)
    if not amounts:
        measured = any(
            units.unit_at(text, at.end()) or text[at.end() :][:1] == "%" for at in _DIGIT.finditer(text)
        )
        return not measured and not _ends_in_number(text)
    within = amounts[0].start > 0 and amounts[-1].end < len(text.rstrip(" ."))
    return within and len(text.split()) > _SHORT


def _ends_in_number(text: str) -> bool:
    """Tell whether a line has a bare number at one of its ends, as a row without a unit has."""
    return bool(re.search(r"^[~≈]?[0-9][0-9.,/]*(?=\s)|\s[0-9][0-9.,/]*$", text.strip(" .")))
