"""Which scale of heat a text is written in: by its signs, else by the size of its oven."""

from __future__ import annotations

import re

_SIGN = re.compile(
    r"[0-9]\s?(?:°|º|deg(?:rees?)?)?\s?(?P<scale>C|F|celsius|fahrenheit|c|f)\b(?!\s*[.]?\s*(?:flour|sugar|milk|water))"
)
_OVEN = re.compile(
    r"\b(?:oven|bake|baked|preheat(?:ed)?|at|then|@)\s+(?:to\s+|at\s+|on\s+|about\s+)*(?P<n>[1-5][0-9]{2})\b(?!\s*(?:g|gr|gm|ml|min|grams?)\b)",
    re.IGNORECASE,
)
_ONLY_C = re.compile(r"(?<![0-9.,])-?[1-9]\s?[°º]|(?<![0-9.,])(?:1[0-9]|2[0-9])\s?[°º]")
"""Degrees without a scale that no dough, fridge or room has in Fahrenheit."""
_LEAST_F, _MOST_C = 290, 260
"""Oven heats from which a bare number is Fahrenheit, and up to which, in steps of 5, it is Celsius."""


def is_fahrenheit(text: str) -> bool | None:
    """Tell whether a text gives its heats in Fahrenheit; `None` where it gives both scales alike, or none."""
    signs = [found["scale"][:1].lower() for found in _SIGN.finditer(text)]
    if not signs and _ONLY_C.search(text):
        return False
    in_f, in_c = signs.count("f"), signs.count("c")
    if in_f != in_c and (not in_f or not in_c):
        return in_f > in_c
    heats = [int(found["n"]) for found in _OVEN.finditer(text)]
    hot, mild = sum(h >= _LEAST_F for h in heats), sum(120 <= h <= _MOST_C for h in heats)
    return hot > mild if hot != mild and not (hot and mild) else None
