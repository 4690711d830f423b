"""Rows that share a form: a weighing log, "WG 148  OF 62  egg 104 (2)", and one amount of several, "100 g each ..."."""

from __future__ import annotations

import re

from advisor.formula.faults import LineFault
from advisor.formula.lines.matching import NameIndex

_GAPS = re.compile(r"\s{2,}")
_PAIR = re.compile(
    r"(?P<name>H2O|[^\W\d][^\d:;,()]{0,24}?)\s+(?P<grams>[0-9]{1,4}(?:[.,][0-9]{1,2})?)\s*g?"
    r"(?:\s*@\s*(?P<warm>[0-9]{1,2})\s*C?)?(?P<note>\s*\([^()]*\))?",
    re.IGNORECASE,
)
_LEAST_PAIRS = 4
_SHORTHAND = {
    "wg": "wheat gluten", "of": "oat fibre", "nacl": "salt", "xg": "xanthan gum", "but": "butter", "psy": "psyllium",
    "eryth": "erythritol", "h2o": "water", "ew": "egg white", "sug": "sugar", "pf": "pea fibre",
    "rws": "resistant wheat starch", "ya": "yeast", "psyll": "psyllium",
}  # fmt: skip
"""Names as a weighing log shortens them; elsewhere they are other words."""


def in_full(row: str) -> str:
    """Give a row "OF 75" with its name in full; any other as it is."""
    name, _, rest = row.partition(" ")
    known = _SHORTHAND.get(name.lower())
    return f"{known} {rest}" if known and rest[:1].isdigit() else row


def weighed_pairs(raw: str) -> str:
    """Give a row of a weighing log as a list in words; empty where the line is none."""
    found = [_PAIR.fullmatch(cell) for cell in _GAPS.split(raw.strip())]
    pairs = [pair for pair in found if pair is not None]
    if len(pairs) < _LEAST_PAIRS or len(pairs) < len(found):
        return ""
    return ", ".join(
        f"{pair['grams']} g {_SHORTHAND.get(pair['name'].lower(), pair['name'])}"
        + (f" ({pair['warm']} C)" if pair["warm"] else "")
        + (pair["note"] or "")
        for pair in pairs
    )


_EACH = re.compile(
    r"(?P<amount>(?<![\w.])[0-9][0-9.,/]*\s*(?:g|gr|grams?|ml|oz|tsp|tbsp|cups?))\s+each\s+(?:of\s+)?(?P<names>[^0-9;.:()]+)",
    re.IGNORECASE,
)
_AND = re.compile(r"\s*(?:,\s*and\b|,|&|\band\b)\s*", re.IGNORECASE)


def each_in_full(text: str, names: NameIndex) -> str:
    """Give "100 g each almonds, seeds; 5 eggs" an amount for every name; a text with a name not known as it is."""
    found = _EACH.search(text)
    foods = [food for food in _AND.split(found["names"].strip()) if food] if found else []
    if not found or len(foods) < 2 or not all(_is_known(food, names) for food in foods):
        return text
    end = text[found.end() :]
    rows = ", ".join(f"{found['amount']} {food}" for food in foods)
    return f"{text[: found.start()]}{rows}{', ' if end[:1].isdigit() else ''}{end}"


def _is_known(food: str, names: NameIndex) -> bool:
    try:
        return names.match(food) is not None
    except LineFault:
        return False
