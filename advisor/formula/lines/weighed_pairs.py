"""A row of a weighing log: names and grams set apart by nothing but room, "WG 148  OF 62  egg 104 (2)"."""

from __future__ import annotations

import re

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
