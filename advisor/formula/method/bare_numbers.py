"""Numbers without a unit: "bake at 350", "rest 10", "the first 20", "around 78"; by their size and the words beside."""

from __future__ import annotations

import re
from dataclasses import replace

from advisor.formula.method import told_words as words
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
    r"\bto\s+be|\bsays|\buntil|\btill|\bddt|\btarget|\bwanted|\baim(?:ed)?(?:\s+was)?|\bagainst\s+target|\btemp|\bcore|\binside|\bmiddle|\bcentre|\bcenter|\binternal|\bprobe|\bfinal|room\s+temp\s*\(|room\s+temperature\s*\(|\bset\s+to|it'?s|\baim\s+for)\s*[:=]?\s*(?:about\s+|around\s+)?$",
    re.IGNORECASE,
)
_FOR = re.compile(r"(?:^|\s)(?:for|another|about|covered|uncovered)$", re.IGNORECASE)
_SPEED = re.compile(
    r"\s*(?:on\s+)?(?:slow|lo|low|fast|hi|high|med(?:ium)?|(?:first|second|1st|2nd)(?:\s+speed)?)\b(?!\s+(?:rise|proof))",
    re.IGNORECASE,
)
"""The speed behind the minutes of a mixer: "4 low + 3 second"."""
_CLOSED = re.compile(
    r"\s*(?:$|[.,;:)/@]|(?:or so|ish|then|and|by hand|before|until|till|covered|more|max|tops|in)\b)",
    re.IGNORECASE,
)
_BAKES = re.compile(r"\bbaked?\s*$", re.IGNORECASE)
_CUT_INTO = re.compile(
    r"\b(?:cut|sliced?|cuts|slices)\s+(?:it\s+|them\s+)?(?:in\s*to\s+|in\s+)?(?:about\s+)?$", re.IGNORECASE
)
_COUNTED = re.compile(r"\b(?:makes?|gets?|got|gives?|gave|yields?|into)\b", re.IGNORECASE)
_MORE = re.compile(r"\s*(?:more|lid|uncovered|covered)\b", re.IGNORECASE)
_AT_HEAT = re.compile(r"\s*(?:@|at|on)\s*(?:gas|[1-5][0-9]{2}\b)", re.IGNORECASE)
_A_MACHINE = re.compile(r"\b(?:mixer|station|line)\s*$", re.IGNORECASE)
"""Words in front of the number of a machine: "mixer 2 / deck B"."""
_IS_WEIGHED = re.compile(r"\s*[a-z]*\s*(?:g|ml)\b")
_OVEN_F = (120.0, 600.0)
_MOST_OVEN_C = 320.0
_DONE = (85.0, 101.0), (185.0, 214.0)
"""Sizes that beside the word for a core can be nothing but its heat, C and F: "int. 96", "99 core"."""
_DOUGH_F, _CORE_F = (45.0, 120.0), (140.0, 215.0)
"""Sizes at which a number can only be Fahrenheit: no dough is so hot in Celsius, and no core above boiling."""
_LONGEST_MIN, _LONGEST_MIX_MIN = 240.0, 30.0
_IN_MINUTES = frozenset(
    ["rest", "mix", "cool", "cool in pan", "proof", "boil", "steam", "griddle", "microwave"]
)
_LEAST_C, _MOST_CORE_C = -5.0, 110.0
_MOST_C: dict[str, float] = {"core": 110.0, "water": 100.0}


def says_no_size(told: Told, text: str) -> bool:
    """Tell whether a bare number is none of the process: one that counts, names or numbers something."""
    small = told.value < words.LEAST_TOLD
    return small or bool(words.NAMES.search(text[: told.start]) or words.COUNTS.match(text, told.end))


def with_unit(
    told: Told, meaning: Meaning, text: str, work_end: int, fahrenheit: bool | None = None
) -> Told | None:
    """Give a bare number as minutes or as a heat in C, with what was assumed; `None` where nothing tells.

    `work_end` is where the work ends that it belongs to; `fahrenheit` tells the scale in which the text is written,
    where it tells one.
    """
    before, behind = text[: told.start], text[told.end :]
    if meaning in ("oven", "preheat"):
        if told.degrees and fahrenheit is False and told.value <= _MOST_OVEN_C:
            return _heat(told, told.value, "Celsius")
        return _of_the_oven(told, meaning, before, behind)
    if meaning == "cool" and (_CUT_INTO.search(before) or _COUNTED.search(before[work_end:])):
        return None  # "cut 16" counts pieces
    if meaning == "mix" and told.value <= _LONGEST_MIX_MIN and _SPEED.match(behind):
        return _minutes(told)
    if _A_MACHINE.search(before):
        return None
    if meaning in _IN_MINUTES and not told.degrees:
        between = before[work_end:].strip()
        alone = (not between or _FOR.search(between)) and _CLOSED.match(behind)
        if alone and told.value <= _LONGEST_MIN:
            return _minutes(told)
        if meaning not in ("proof",):
            return None
    if meaning in ("tent", "open") and told.value < _OVEN_F[0]:
        return _minutes(told) if re.search(r"\b(?:after|at|from|last|for)\s+$", before) else None
    is_core = meaning == "core" and any(low <= told.value <= high for low, high in _DONE)
    if (
        not is_core
        and not told.degrees
        and not _HEAT_IN_FRONT.search(before)
        and not told.text.endswith("ish")
    ):
        return None
    if fahrenheit is not None and not (meaning == "core" and told.value > _MOST_CORE_C):
        value = (told.value - 32) / 1.8 if fahrenheit else told.value
        if _LEAST_C <= value <= _MOST_C.get(meaning, 60.0):
            return _heat(told, value, "Fahrenheit" if fahrenheit else "Celsius")
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
    if _AT_HEAT.match(behind):
        return _minutes(told)
    bakes = _BAKES.search(before) and _CLOSED.match(behind)
    return _minutes(told) if bakes or _MORE.match(behind) or _MINUTES_IN_FRONT.search(before) else None


def _heat(told: Told, celsius: float, scale: str) -> Told:
    return replace(told, kind="heat", value=celsius, said=_both(told, f"'{told.text}' is taken as {scale}"))


def _minutes(told: Told) -> Told:
    return replace(told, kind="time", said=_both(told, f"'{told.text}' is taken as minutes"))


def _both(told: Told, said: str) -> str:
    return f"{told.said}; {said}" if told.said else said
