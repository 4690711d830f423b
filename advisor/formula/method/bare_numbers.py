"""Numbers without a unit: "bake at 350", "rest 10", "the first 20", "around 78"; by their size and the words beside."""

from __future__ import annotations

import re
from dataclasses import replace

from advisor.formula.method.told_numbers import Told
from advisor.formula.method.work_words import Meaning
from advisor.formula.process.process_values import bare_heat_c

_MINUTES_IN_FRONT = re.compile(
    r"(?:\bfirst|another|further|\blast|\bfor|\blid\s+on|\blid\s+off|\bmore|\bother|\bcovered|uncovered)\s+(?:about\s+|"
    r"the\s+(?:first\s+|last\s+)?)?$",
    re.IGNORECASE,
)
_HEAT_IN_FRONT = re.compile(
    r"(?:\bat|\baround|\babout|\bwas|\bis|~|@|\bto|\bgot|\bof|\bcold,?|\bwarm\s*\(|\bnear|\bhit|\bsaid|\bwant|\bread|\bget|"
    r"\bto\s+be|\bsays|\buntil|\btill|\bddt|\btemp|\bcore|\binternal|\baim\s+for)\s*(?:about\s+|around\s+)?$",
    re.IGNORECASE,
)
_FOR = re.compile(r"(?:^|\s)(?:for|another|about)$", re.IGNORECASE)
_CLOSED = re.compile(r"\s*(?:$|[.,;:)/]|(?:or so|ish|degrees|then|and)\b)", re.IGNORECASE)
_BAKES = re.compile(r"\bbaked?\s*$", re.IGNORECASE)
_MORE = re.compile(r"\s*(?:more|lid|uncovered|covered)\b", re.IGNORECASE)
_IS_WEIGHED = re.compile(r"\s*[a-z]*\s*(?:g|ml)\b")
_OVEN_F = (120.0, 600.0)
_DOUGH_F, _CORE_F = (45.0, 120.0), (140.0, 215.0)
"""Sizes at which a number can only be Fahrenheit: no dough is so hot in Celsius, and no core above boiling."""
_LONGEST_MIN = 240.0


def with_unit(told: Told, meaning: Meaning, text: str, work_end: int) -> Told | None:
    """Give a bare number as minutes or as a heat in C, with what was assumed; `None` where nothing tells.

    `work_end` is where the work ends that it belongs to.
    """
    before, behind = text[: told.start], text[told.end :]
    if meaning in ("oven", "preheat"):
        return _of_the_oven(told, meaning, before, behind)
    if meaning in ("rest", "mix", "cool"):
        between = before[work_end:].strip()
        alone = (not between or _FOR.search(between)) and _CLOSED.match(behind)
        return _minutes(told) if alone and told.value <= _LONGEST_MIN else None
    if meaning == "tent":
        return _minutes(told) if re.search(r"\b(?:after|at)\s+$", before) else None
    if not told.degrees and not _HEAT_IN_FRONT.search(before) and not told.text.endswith("ish"):
        return None
    low, high = _CORE_F if meaning == "core" else _DOUGH_F
    if low <= told.value <= high:
        return _heat(told, (told.value - 32) / 1.8, "Fahrenheit")
    celsius = 60.0 <= told.value <= 110.0 if meaning == "core" else 0.0 <= told.value < low
    return _heat(told, told.value, "Celsius") if celsius else None


def _of_the_oven(told: Told, meaning: Meaning, before: str, behind: str) -> Told | None:
    low, high = _OVEN_F
    if low <= told.value <= high and not _IS_WEIGHED.match(behind):
        celsius, scale = bare_heat_c(told.value)
        return _heat(told, celsius, scale)
    if meaning == "preheat" or not 1 <= told.value <= _LONGEST_MIN:
        return None
    bakes = _BAKES.search(before) and _CLOSED.match(behind)
    return _minutes(told) if bakes or _MORE.match(behind) or _MINUTES_IN_FRONT.search(before) else None


def _heat(told: Told, celsius: float, scale: str) -> Told:
    return replace(told, kind="heat", value=celsius, said=_both(told, f"'{told.text}' is taken as {scale}"))


def _minutes(told: Told) -> Told:
    return replace(told, kind="time", said=_both(told, f"'{told.text}' is taken as minutes"))


def _both(told: Told, said: str) -> str:
    return f"{told.said}; {said}" if told.said else said
