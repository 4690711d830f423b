"""Lines that say what comes of a formula: "makes 2 loaves", "yield: 16 slices", "total 850 g"."""

from __future__ import annotations

import re
from dataclasses import dataclass

from advisor.formula.faults import LineFault
from advisor.formula.lines.amounts import number_at
from advisor.formula.lines.quantities import amount_at
from advisor.formula.lines.units import UnitTable
from advisor.formula.piece_words import PIECE, SEVERAL

_MAKES = re.compile(
    r"(?:this\s+)?(?:recipe\s+)?(?:makes|yields?|gives|for)\b\s*:?\s*(?P<what>.*)", re.IGNORECASE
)
_NOUN = re.compile(
    r"\s*(?:(?:[^\W\d]|[-'])+\s+|[0-9]+-[^\W\d]+\s+){0,3}?"
    rf"(?P<noun>slices?|loaf|loaves|{PIECE}|rounds?|tins?)\b",
    re.IGNORECASE,
)
_BETWEEN = re.compile(r"\s*[(,/]?\s*(?:or|of|about|in|at|cut\s+in(?:to)?|each|a|=)?\s*", re.IGNORECASE)
_COUNTED = re.compile(
    r"(?:[0-9]{1,3}|an?|one|two|three|four|six|eight|ten|twelve)\s+"
    rf"(?:(?:[^\W\d]|-)+\s+)?(?:slices|loaf|loaves|{SEVERAL})\b",
    re.IGNORECASE,
)
_SERVES = re.compile(r"(?:serves|servings|portions)\b\s*:?\s*(?P<count>[0-9]{1,3})\b.*", re.IGNORECASE)
_SERVES_SLICES = re.compile(r"\b(?P<count>[1-9][0-9]?)\s+(?:\w+\s+)?slices\b", re.IGNORECASE)
_TOTAL = re.compile(
    r"(?:grand\s+)?(?:total|sum|whole|dough)(?:\s+(?:weight|mass|dough|dough weight|batch|amount|of all))?"
    r"\s*[:=]?\s*(?P<amount>[0-9].*)",
    re.IGNORECASE,
)
_TOTAL_BEHIND = re.compile(r"(?P<amount>[0-9].*?)\s+(?:in\s+)?(?:total|sum|dough weight)\s*", re.IGNORECASE)
_PIECES_ONLY = re.compile(r"\s*(?P<count>[0-9]{1,3})\s*[.!]?\s*")
_IN_TITLE = re.compile(
    r"(?P<title>.*?[^\W\d].*?)\s*[,(\[–—:-]+\s*(?P<made>(?:makes|yields?|gives)\b[^()\[\]]*?)[)\]]?[.!]?",
    re.IGNORECASE,
)
_COUNT_IN_TITLE = re.compile(
    r"[\s,:]*(?:\((?:x\s*)?(?P<count>[0-9]{1,2})\)|,\s*(?P<of>[0-9]{1,2})(?:\s+of\b.*|\s*\.)?)\s*$",
    re.IGNORECASE,
)
_LOAVES_IN_TITLE = re.compile(
    r"\((?P<count>[2-6])\s+(?:braids?|loaves|boules?|batards?|tins?)\)", re.IGNORECASE
)
_HEAVY_IN_TITLE = re.compile(
    r"[^\W\d].*?(?:\b(?P<count>[1-9][0-9]?)\s*(?:x\s*)?)?\b[0-9.]+\s*(?:g|gr|gm|grams?|kg|oz|lbs?)[\s-]+"
    rf"(?:(?P<loaf>loaf|loaves|boules?|b[aâ]tards?)|{SEVERAL})\b",
    re.IGNORECASE,
)
_FIELD = {"slice": "slices", "loaf": "loaves", "loave": "loaves", "tin": "loaves"}
_MOST = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class Total:
    """What one line says: counts by field (slices, loaves), whether they are rolls, or the dough in grams."""

    counts: tuple[tuple[str, int], ...] = ()
    rolls: bool = False
    dough_g: float | None = None


def is_base(key: str, value: str) -> bool:
    """Tell whether a line gives the weight that percentages are of; before commas "base" heads a list."""
    return key == "base" and "," not in value


def total_in(text: str, units: UnitTable) -> Total | None:
    """Read a line that is a total; `None` where it is none.

    Raises:
        LineFault: servings, which may be one slice or two.
    """
    if found := _MAKES.fullmatch(text):
        if not text.lower().startswith("for") and (alone := _PIECES_ONLY.fullmatch(found["what"])):
            pieces = int(alone["count"])
            return Total(counts=(("pieces", pieces),)) if 1 <= pieces <= _MOST else None
        return _made(found["what"])
    if _COUNTED.match(text):
        return _made(text)
    if (sliced := _SERVES_SLICES.search(text)) and _SERVES.fullmatch(text):
        return Total(counts=(("slices", int(sliced["count"])),))  # each serving is a slice
    if found := _SERVES.fullmatch(text):
        count = found["count"]
        raise LineFault(
            text, "a serving can be one slice or more", f"write slices: {count}, if one slice is a serving"
        )
    if found := _TOTAL.fullmatch(text) or _TOTAL_BEHIND.fullmatch(text):
        amount = amount_at(found["amount"], 0, units)
        if amount is not None and not found["amount"][amount.end :].strip(" ."):
            (first, *more) = amount.parts
            if not more and first.unit is not None and first.weighs:
                return Total(dough_g=first.value * (first.unit.grams or 0.0))
            if not more and first.unit is None and not first.percent:
                return Total(dough_g=first.value)
    return None


def made_in_title(text: str, units: UnitTable) -> Total | None:
    """Read what a title says beside its name: "Seeded rolls, makes 6", "Muffins, 12", "White, one 800 g loaf"."""
    if found := _IN_TITLE.fullmatch(text):
        return total_in(found["made"], units)
    if (found := _COUNT_IN_TITLE.search(text)) and re.search(
        rf"\b{PIECE}\b", text[: found.start()], re.IGNORECASE
    ):
        return Total(counts=(("pieces", int(found["count"] or found["of"])),), rolls=True)
    if found := _LOAVES_IN_TITLE.search(text):
        return Total(counts=(("loaves", int(found["count"])),))
    if found := _HEAVY_IN_TITLE.match(text):
        loaves = found["loaf"] is not None
        count = int(found["count"] or 0)
        return Total(counts=(("loaves" if loaves else "pieces", count),) if count else (), rolls=not loaves)
    return None


def _made(text: str) -> Total | None:
    counts: dict[str, int] = {}
    rolls, at = False, 0
    while (number := number_at(text, at)) is not None:
        noun = _NOUN.match(text, number.end)
        if noun is None or number.value != int(number.value) or not 1 <= number.value <= _MOST:
            return None
        word = noun["noun"].lower().rstrip("s")
        field = _FIELD.get(word, "slices")
        rolls = rolls or word not in _FIELD
        if field in counts:
            return None
        counts[field] = int(number.value)
        at = noun.end()
        if (more := _BETWEEN.match(text, at)) is not None:
            at = more.end()
    if not counts or text[at:].strip(" .)") not in ("", "each", "per loaf"):
        return None
    return Total(counts=tuple(counts.items()), rolls=rolls)
