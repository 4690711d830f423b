"""Pieces by their number and weight: "shape 6 rolls", "8 balls about 45 g each", "divide into 6 at 310 g"."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from advisor.formula.lines.amounts import number_at
from advisor.formula.piece_words import PIECE
from advisor.formula.process.process_values import Value

_PIECES = (
    rf"(?:{PIECE}|tortillas?|rounds?|naans?|pittas?|pitas?|rotis?|puffs?|sticks?|crackers?|pieces?|pcs?|balls?|strips?|"
    r"portions?|bolitas?|squares?|lumps?)"
)
_ANY = r"(?!(?:inch|inches|cm|mm|in|g|min)\b)[a-z]+\s+"
_COUNT = r"(?P<count>[0-9]{1,2}|two|three|four|five|six|seven|eight|nine|ten|twelve|sixteen|a dozen)"
_CUT = (
    r"\b(?:shape|divide|form|roll|split|cut|make|makes|portion|scale|pinch\s+off|yields?|into|six it was|it was|in|get|"
    r"grease|fill)d?\b"
)
_SHAPED = re.compile(
    rf"{_CUT}(?:\s+[a-z]+){{0,3}}?\s+{_COUNT}\s+(?:{_ANY}){{0,2}}?(?P<noun>{_PIECES})\b", re.IGNORECASE
)
_ALONE = re.compile(
    rf"(?:^|[.;,(/–—-]\s*|\bof\s+)(?:about\s+)?{_COUNT}\s+(?:{_ANY}){{0,1}}?(?P<noun>{_PIECES})\b(?!\s+of\b)",
    re.IGNORECASE,
)
_DIVIDED = re.compile(
    rf"\b(?:divide[ds]?|scale[ds]?|cut|split|portion(?:ed)?|pinch\s+off|cut\s+up)\s+(?:\w+\s+)?(?:in(?:to|\s+to)?\s+)?{_COUNT}"
    r"(?P<noun>)(?=\s*(?:$|[.,;x×@]|at\b|of\b|with\b|pcs\b|pieces\b|equal))",
    re.IGNORECASE,
)
_WEIGHT = re.compile(
    rf"\b{_COUNT}\s*(?:x|×|@|at|of|{_PIECES}\s*(?:\(|@|at|of|about|,|each)?)\s*(?:about\s+)?(?P<g>[0-9]{{2,4}}(?:\.[0-9])?)\s*"
    r"(?:g|gr|grams?)\b",
    re.IGNORECASE,
)
_WEIGHED = re.compile(
    rf"\b{_COUNT}\s+(?:x\s+)?(?P<g>[0-9]{{2,4}})\s*(?:g|gr|grams?)\s+{_PIECES}\b", re.IGNORECASE
)
_SLICES = re.compile(
    rf"\b(?:about\s+)?{_COUNT}\s+(?:\w+\s+)?(?P<noun>slices)\b|\bslice[ds]?\s+(?:it\s+)?into\s+(?P<into>[0-9]{{1,2}})",
    re.IGNORECASE,
)
_LOAVES = re.compile(
    r"(?<![\w.-])(?P<count>[1-9]|two|three|four|six)\s+(?:[a-z]+\s+)?(?:loaves|ovals|braids|boules|batards)\b",
    re.IGNORECASE,
)
_IS_ROLLS = re.compile(rf"\b{PIECE}\b", re.IGNORECASE)
_MOST = 60


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
    if weighed := _WEIGHED.search(text) or _WEIGHT.search(text):
        fields["piece_g"] = float(weighed["g"])
        words.append(weighed.group())
    found = _SHAPED.search(text) or weighed or _DIVIDED.search(text) or _ALONE.search(text)
    if found is not None and (count := _count(found["count"])):
        noun = found.groupdict().get("noun") or ""
        fields["pieces"] = count
        words.append(found.group())
        if _IS_ROLLS.fullmatch(noun):
            fields |= {"slices": count, "pan_kind": "rolls"}
    if sliced := _SLICES.search(text):
        count = int(sliced["into"]) if sliced["into"] else _count(sliced["count"])
        if count:
            fields["slices"] = count
            words.append(sliced.group())
    if (loaves := _LOAVES.search(text)) and (count := _count(loaves["count"])):
        fields["loaves"] = count
        words.append(loaves.group())
    return (
        Pieces(text=" … ".join(dict.fromkeys(w.strip(" .,;(") for w in words)), fields=fields)
        if fields
        else None
    )


def _count(text: str) -> int:
    number = number_at(f"{text} ")
    value = {"sixteen": 16, "a dozen": 12}.get(text.lower()) or (
        int(number.value) if number is not None else 0
    )
    return value if 1 <= value <= _MOST else 0


def names_rolls(title: str) -> bool:
    """Tell whether a title is one of rolls, buns or bagels."""
    return bool(_IS_ROLLS.search(title))
