"""Pieces by their number and weight: "shape 6 rolls", "8 balls about 45 g each", "divide into 6 at 310 g", "x 12"."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from advisor.formula.lines.amounts import number_at
from advisor.formula.piece_words import PIECE
from advisor.formula.process.process_values import Value

Made = Literal["pieces", "slices", "loaves"]

_PIECES = (
    rf"(?:{PIECE}|tortillas?|rounds?|naans?|pittas?|pitas?|rotis?|puffs?|sticks?|crackers?|pieces?|pcs?|balls?|strips?|"
    r"portions?|bolitas?|squares?|rectangles?|heaps?|scoops?|slabs?|lumps?|blobs?|dollops?|logs?|discs?|patties|wedges|bars|mounds?|fingers?|twists?|knots?|"
    r"bases?|ropes?|baps?|parathas?|chapatis?|bao|mantou|pretzels?|farls?|crispbreads?)"
)
_WORD = r"(?!(?:inch|inches|cm|mm|in|on|g|min|mins|minutes|hrs?|hours?|slices?|of|more|at|for)\b)[a-z-]+\s+"
_HOLDERS = (
    r"(?:cases|mou?lds|ramekins|cavities|holes|wells|cakes|cups(?=\s*(?:$|[.,;:!?)(]|(?:and|with|about|to|at|then|each|"
    r"half|full|for|two|three)\b)))\b(?!\s+of\b)"
)
"""What single pieces are baked in, and cakes; a cup with a name behind it is a measure."""
_NUMBER = (
    r"(?:[0-9]{1,3}(?![0-9]|[.:][0-9]|\s*(?:cm|mm|in\b|inch|\"))|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|sixteen|twenty|"
    r"a\s+dozen|(?:1|one)\s+doz(?:en)?\b\.?)"
)
_COUNT = rf"(?P<count>{_NUMBER})(?:\s?(?:-|–|to|or)\s?(?P<most>{_NUMBER}))?"
_ABOUT = (
    r"(?:(?:about|around|approx\.?|approximately|abt\.?|ca\.?|~|roughly|of|at|each|like|weighing|"
    r"scaled|=|@|-|–)\s*)*"
)
_SIZE = r"(?P<g>[0-9]{1,4}(?:\.[0-9]{1,2})?)\s*(?P<unit>g|gr|gms?|grams?|oz|ounces?)\b"
_CUT = (
    r"\b(?:shape|divide|form|roll|split|cut|make|makes|portion|scale|pinch\s+off|yields?|into|six it was|it was|in|get|"
    r"gets|got|grease|fill|gives?|gave|then|set|spoon|drop|score)d?\b"
)
_HARD = (
    r"\b(?:divide[ds]?|scale[ds]?|cut|split|portion(?:ed)?|pinch\s+off|cut\s+up|score[ds]?|shape[ds]?|"
    r"quarter(?:ed)?|break)"
)
_END = (
    r"(?=\s*(?:$|[.,;:!?x×@(=)]|at\b|of\b|with\b|pcs\b|pieces\b|equal|and\b|then\b|while\b|about\b|each\b|or\b|on\b|once\b|straight\b|"
    r"roll\b|shape\b))"
)
_YIELD = (
    r"\b(?:makes?|gets?\s+(?:you|me|us)|got|yields?|gives?|gave|have)(?<![0-9][CF]\sgot)\s+"
    r"(?:about|around|approx\.?|roughly|me|you|us|~)?\s*"
)


def _as(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern, re.IGNORECASE)


_WEIGHED: tuple[re.Pattern[str], ...] = (
    _as(rf"\b{_COUNT}\s+(?:x\s+)?{_SIZE}\s+{_PIECES}\b"),
    _as(rf"{_SIZE}\s*(?:x|×)\s*{_COUNT}(?![\w.])"),
    _as(rf"\b{_COUNT}\s+(?P<loaves>loaves|tins)\s+(?:of|at|@)\s+{_ABOUT}{_SIZE}"),
    _as(r"\b(?:scale[ds]?|div(?:ide[ds]?)?)\.?\s+(?:into\s+)?(?P<count>[0-9]{1,3})\s*(?:x|×|@|at)\s*(?:~\s*|about\s+)?(?P<g>[0-9]{2,4})(?P<unit>)(?!\w|\.[0-9]|\s*(?:g|kg|oz|cm|mm)\b)"),
    _as(rf"\b{_COUNT}\s*(?:x|×|@|at|of|(?<=[0-9]\s)=|\(|"
        rf"(?:{_WORD})?{_PIECES}\s*(?:,\s*each|[,(@=–-]|at|of|about|each|weighing)?)\s*{_ABOUT}{_SIZE}"),
)  # fmt: skip
"""Pieces with the weight of one."""
_COUNTED: tuple[tuple[Made, re.Pattern[str]], ...] = (
    ("slices", _as(rf"\b(?:slice[ds]?|cuts)\s+(?:it\s+|the\s+\w+\s+)?in(?:to)?\s+(?:about\s+)?{_COUNT}"
        r"(?!\s*(?:min|hour|cm|mm|g\b))")),
    ("slices", _as(rf"\b(?:about\s+)?{_COUNT}\s+(?:[a-z]+\s+)?(?P<noun>slices)\b")),
    ("slices", _as(rf"\bslices\s*:?\s+(?:about\s+)?{_COUNT}(?=\s*(?:at\b|of\b|$|[.,;]))")),
    ("slices", _as(rf"\b(?:get|got|had|cut)\s+(?:about\s+)?{_COUNT}\s+(?:[a-z]+\s+)?out\s+of\s+(?:it|one|"
        rf"the\s+loaf)\b")),
    ("loaves", _as(rf"(?<![\w.-]){_COUNT}\s+(?:[a-z]+\s+)?(?:loaves|ovals|braids|boules|batards|batons)\b")),
    ("loaves", _as(rf"(?<![\w.-])(?P<count>[2-6]|two|three|four)\s+(?:{_WORD}){{0,3}}?(?:tins|pans)\b(?!\s+of)")),
    ("loaves", _as(r"\btins?\s*(?:[x×]\s*)(?P<count>[1-6])\b")),
    ("pieces", _as(rf"{_CUT}(?:\s+[a-z]+){{0,3}}?\s+{_COUNT}\s+(?:{_WORD}){{0,2}}?(?P<noun>{_PIECES})\b")),
    ("pieces", _as(r"\b(?:fill(?:s|ed)?|line|grease|butter|between|among|divide[ds]?|spoon(?:ed)?|scoop(?:ed)?|"
        rf"into|makes?|made|gives?|gave|yields?)\s+(?:[a-z]+\s+){{0,3}}?{_COUNT}\s+(?:{_WORD}){{0,2}}?(?P<held>{_HOLDERS})")),
    ("pieces", _as(rf"{_HARD}\s+(?:\w+\s+){{0,2}}?(?:in(?:to|\s+to)?\s+)?{_COUNT}{_END}")),
    ("pieces", _as(rf"(?:^|[.;:,(/–—-]\s*|\bof\s+|\band\s+)(?:about\s+)?{_COUNT}\s+"
        rf"(?:{_WORD}){{0,1}}?(?P<noun>{_PIECES})\b(?!\s+of\b)")),
    ("pieces", _as(rf"\b(?:cuts?|i\s+cut\s+\w+|cut\s+it|comes?)\s+in(?:to)?\s+{_COUNT}{_END}")),
    ("pieces", _as(rf"\b{_COUNT}\s+of\s+(?:them|these|those)\b")),
    ("pieces", _as(rf"{_YIELD}{_COUNT}(?=\s*(?:$|[^\w\s%]|she\b|of\s+them|but\b|and\b|pieces|small|big|thin|"
        rf"or\b|in\s+all))")),
    ("pieces", _as(r"\b(?:batch(?:\s+of)?|for)\s+(?P<count>[0-9]{1,3})\s*(?:pcs?|pieces|nos?)\b")),
    ("pieces", _as(r"(?:^|(?<![0-9½¼¾\"])[\s,(])(?:x|×)\s?(?P<count>[0-9]{1,2})\s*(?:$|[,;)]|\.(?![0-9]))")),
    ("pieces", _as(r"\b(?P<count>(?:[1-9]|one|two|half\s+a)\s+doz(?:en)?)\b\.?")),
    ("pieces", _as(r"\((?P<count>[0-9]{1,2})\s*(?:nos?\.?|pcs|pieces)?\)\s*$")),
)  # fmt: skip
"""Words of a number that is made, the surest first: of each kind the first that is found counts."""
_IS_ROLLS = _as(rf"\b{PIECE}\b")
_MOST, _MOST_SLICES = 300, 60
_OUNCE_G = 28.349523125
"""The ounce is 28.349523125 g exactly (NIST Handbook 44, appendix C)."""
_SPOKEN = {"sixteen": 16, "twenty": 20, "a dozen": 12}


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """The words, the fields of a process that they give, and what was assumed."""

    text: str
    fields: Mapping[str, Value]
    said: tuple[str, ...] = ()


def pieces_in(text: str) -> Pieces | None:
    """Give the pieces, slices or loaves that a sentence makes, and their weight."""
    fields: dict[str, Value] = {}
    words: list[str] = []
    weighed = next((m for pattern in _WEIGHED if (m := pattern.search(text))), None)
    if weighed is not None and (count := _count(weighed)):
        made = "loaves" if weighed.groupdict().get("loaves") else "pieces"
        fields |= {"piece_g": _grams(weighed), made: count}
        words.append(weighed.group())
    for made, pattern in _COUNTED:
        if made in fields or (found := pattern.search(text)) is None or not (count := _middle(found)):
            continue
        if made == "slices" and count > _MOST_SLICES:
            continue
        fields[made] = count
        words.append(found.group())
        named = found.groupdict()
        if named.get("held") or _IS_ROLLS.fullmatch(named.get("noun") or ""):
            fields |= {"slices": count, "pan_kind": "rolls"}
    if not fields:
        return None
    return Pieces(text=" … ".join(dict.fromkeys(w.strip(" .,;(") for w in words)), fields=fields)


def _grams(found: re.Match[str]) -> float:
    return float(found["g"]) * (_OUNCE_G if found["unit"].lower().startswith("o") else 1.0)


def _middle(found: re.Match[str]) -> int:
    """Give the number that is made; of "25 to 30" the middle, upwards."""
    most = found.groupdict().get("most")
    number = number_at(f"{most} ") if most else None
    low = _count(found)
    return math.ceil((low + number.value) / 2) if number is not None and number.value > low else low


def _count(found: re.Match[str]) -> int:
    text = " ".join(found["count"].lower().strip(" .").split())
    if "doz" in text:
        return {"half a": 6, "2": 24, "two": 24}.get(text.split(" doz")[0], 12)
    number = number_at(f"{text} ")
    value = _SPOKEN.get(text) or (int(number.value) if number is not None else 0)
    return value if 1 <= value <= _MOST else 0


def names_rolls(title: str) -> bool:
    """Tell whether a title is one of rolls, buns or bagels."""
    return bool(_IS_ROLLS.search(title))
