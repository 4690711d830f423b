"""What the numbers of a whole text are: per cents of a base told in words, or grams where no unit stands."""

from __future__ import annotations

import re

_G = r"(?P<n>[0-9]{1,5}(?:[.,][0-9]{1,3})?)\s*(?P<unit>kg|g|gr|gm|grams?)\b"
_BASES = (
    re.compile(rf"\bbase\b[^0-9\n]{{0,25}}{_G}", re.IGNORECASE),
    re.compile(rf"\b100\s*%?\s*=[^\n]{{0,60}}?(?:=|\(|\b(?:is|of)\b)\s*{_G}", re.IGNORECASE),
    re.compile(rf"\b100\s*%?\s*(?:=|is)\s*{_G}", re.IGNORECASE),
    re.compile(rf"=\s*100\b[^\n]{{0,10}}\(?\s*=\s*{_G}", re.IGNORECASE),
    re.compile(
        rf"\b(?:total\s+flour|flour\s+(?:weight|total)|flour|dry(?:\s+(?:mix|base|total))?)\s*"
        rf"(?:is|was|=|:|of|works\s+out\s+at|comes\s+to|weighs|->)\s*(?:about\s+)?{_G}",
        re.IGNORECASE,
    ),
    re.compile(rf"%[^\n]{{0,40}}\bof\s+{_G}", re.IGNORECASE),
    re.compile(rf"(?:\b100\s?|(?<![0-9])(?<![0-9]\s))%[^\n]{{0,60}}=\s*{_G}", re.IGNORECASE),
)
_DOUGHS = (
    re.compile(rf"\b(?P<count>[0-9]{{1,2}})\s+(?:\w+\s+)?(?:balls?|loaves|loafs?|pieces|tins?|rolls|buns|bagels|"
        rf"bases)\s+(?:of|at|@|x)\s*{_G}", re.I),
    re.compile(rf"\b(?P<count>[0-9]{{1,2}})\s*(?:x|×|@)\s*{_G}", re.IGNORECASE),
    re.compile(rf"\b(?:dough|batch|total)(?:\s+(?:weight|wt|mass|size))?\s*(?:is|was|=|:|"
        rf"of)?\s*(?:about\s+)?{_G}", re.I),
    re.compile(rf"{_G}\s+(?:of\s+)?dough\b", re.IGNORECASE),
)  # fmt: skip
_IN_SHARES = re.compile(
    r"\ball\s+%|\bbaker'?s'?\s*(?:%|per\s?cent(?:ages?)?|pct)|(?:%|per\s?cent(?:ages?)?)\s+(?:of|on)\s+(?:the\s+)?(?:flour|dry)|\bin\s+(?:bakers?'?\s+)?(?:%|per\s?cents?)",
    re.IGNORECASE,
)
_BARE_ROW = re.compile(
    r"^[\s*•·-]*(?:[^\W\d][^\n0-9:]{2,40}?[\s.…:=|\t,;–-]+(?P<behind>[0-9]+(?:[.,][0-9]+)?)\s*|"
    r"(?P<front>[0-9]+(?:[.,][0-9]+)?)\s+(?!(?:x|min|large|medium|small)\b)[^\W\d][^\n0-9]{2,40})$",
    re.MULTILINE | re.IGNORECASE,
)
_IN_GRAMS = re.compile(
    r"\ball\s+(?:weights?\s+|amounts?\s+)?(?:(?:are\s+)?in\s+)?g(?:rams?)?\b|\(\s*(?:all\s+)?(?:in\s+)?g(?:rams?)?(?:\s+per\b[^)\n]*)?\s*\)|"
    r"\bin\s+grams\b|\bweights?\s+in\s+g\b|\bgrams\s*:",
    re.IGNORECASE,
)
_IN_KILOS = re.compile(
    r"\b(?:kg|kilos?)\s*,?\s+(?:unless|except|where|if\s+(?:not|nothing))\b|\ball\s+(?:(?:weights?|amounts?)\s+)?(?:are\s+)?in\s+(?:kg|kilos?)\b",
    re.IGNORECASE,
)
_ONE_A_LINE = re.compile(r"[,;]\s+|\s+[/|]\s+|\.\s+(?=[A-Z])|\.$", re.MULTILINE)
_LEAST_ROWS, _LEAST_LARGE = 3, 20.0
_ROUNDED = 0.6
_IN_BLEND = r"[^\W\d][^\n/+=]*?\s+[0-9]{1,2}(?:[.,][0-9])?\s*%?"
_BLEND = re.compile(
    rf"^(?P<parts>[\s*•·-]*{_IN_BLEND}(?:\s*[/+,]\s*{_IN_BLEND})+)\s*=\s*(?:100\s*%?\s*=\s*)?{_G}\s*$",
    re.IGNORECASE | re.MULTILINE,
)
_LAST_NUMBER = re.compile(r"(?P<n>[0-9]{1,2}(?:[.,][0-9])?)\s*%?\s*$")
ASSUMED_BASE_G = 500.0
"""Base of per cents of which nobody says what they are of; only the size of the batch hangs on it, and that is said."""


def _grams(found: re.Match[str]) -> float:
    if found["unit"].lower() == "kg":
        return 1000 * float(found["n"].replace(",", "."))
    return float(found["n"].replace(",", ""))


def with_blend_in_shares(text: str) -> tuple[str, float | None]:
    """Give a text whose blend is written with per cents, and the weight of it, g: "wheat 85 / rye 15 = 1000 g".

    The numbers of a blend that add up to 100 are per cents of it, and so are those of the rows below it.
    """
    for found in _BLEND.finditer(text):
        parts = re.split(r"\s*[/+]\s*|,\s+", found["parts"].strip())
        ends = [_LAST_NUMBER.search(part) for part in parts]
        if all(ends) and abs(sum(float(end["n"].replace(",", ".")) for end in ends if end) - 100) < _ROUNDED:
            named = (
                f"{part[: end.start()]}{end['n']} %" for part, end in zip(parts, ends, strict=True) if end
            )
            return f"{text[: found.start()]}{', '.join(named)}{text[found.end() :]}", _grams(found)
    return text, None


def base_in(text: str) -> float | None:
    """Give the weight that per cents are of, g, where a sentence or a heading tells it."""
    found = next((m for pattern in _BASES if (m := pattern.search(text))), None)
    return _grams(found) if (found and "%" in text) or (found and _IN_SHARES.search(text)) else None


def dough_in(text: str) -> float | None:
    """Give the weight of the whole dough, g, where a text tells it: "6 balls of 260 g", "dough 900 g"."""
    for pattern in _DOUGHS:
        if found := pattern.search(text):
            return _grams(found) * int(found.groupdict().get("count") or 1)
    return None


def bare_are_shares(text: str) -> bool:
    """Tell whether numbers without a unit are baker's per cents: a heading says so, and no row is weighed in grams."""
    rows = _bare_values(text)
    weighed = len(
        re.findall(r"^[^\n%]{0,40}\b[0-9.,]+\s*g\b[^\n]{0,30}$", text, re.MULTILINE | re.IGNORECASE)
    )
    return bool(_IN_SHARES.search(text)) and len(rows) >= _LEAST_ROWS and weighed < len(rows) / 2


def bare_are_grams(text: str) -> bool:
    """Tell whether numbers without a unit are grams, also those of eggs and yeast: most rows are written so."""
    if _IN_GRAMS.search(text):
        return True
    rows = _bare_values(text)
    return len(rows) >= _LEAST_ROWS and sum(value >= _LEAST_LARGE for value in rows) >= _LEAST_ROWS


def bare_are_kilos(text: str) -> bool:
    """Tell whether a text says that its numbers without a unit are kilograms: "(kg unless it says)"."""
    return _IN_KILOS.search(text) is not None


def _bare_values(text: str) -> list[float]:
    return [
        float((m["behind"] or m["front"]).replace(",", "."))
        for m in _BARE_ROW.finditer(_ONE_A_LINE.sub("\n", text))
    ]
