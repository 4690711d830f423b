"""What the words around a number say it is: the minutes of a rise, the heat of a room, the core of the loaf."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from advisor.formula.method.told_numbers import NumberKind, Told
from advisor.formula.method.words_behind import BEHIND
from advisor.formula.method.work_words import WORKS, Meaning
from advisor.formula.process.process_values import LONGEST_KEPT_MIN, LONGEST_MIN

_FITS: dict[NumberKind, frozenset[Meaning]] = {
    "time": frozenset(["mix", "rest", "proof", "oven", "griddle", "boil", "steam", "microwave", "cool", "cool in pan",
                       "store", "tent", "open", "story"]),
    "heat": frozenset(["proof", "rest", "oven", "preheat", "core", "room", "dough", "dough wanted", "water", "griddle",
                       "story"]),
    "bare": frozenset(["proof", "oven", "preheat", "core", "room", "dough", "dough wanted", "water", "rest", "tent",
                       "cool", "cool in pan", "mix", "boil", "steam", "griddle", "open", "story"]),
    "length": frozenset(["thickness", "height"]),
    "weight": frozenset(["piece", "weight"]),
    "height": frozenset(),
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """A word of a work in a sentence, and where it ends."""

    meaning: Meaning
    start: int
    end: int


@lru_cache(maxsize=2048)
def words_of_work(sentence: str) -> tuple[Word, ...]:
    """Give the words of work of a sentence, by where they end."""
    found = [
        Word(meaning=meaning, start=at.start(), end=at.end())
        for meaning, pattern in WORKS
        for at in pattern.finditer(sentence)
    ]
    whole = [w for w in found if not any(o is not w and _within(w, o) for o in found)]
    return tuple(sorted(whole, key=lambda word: (word.start, word.end)))


def _within(one: Word, other: Word) -> bool:
    """Tell whether a word stands inside a longer one: "dough" in "desired dough temp"."""
    return other.start <= one.start and one.end <= other.end and other.end - other.start > one.end - one.start


def meaning_of(
    told: Told,
    sentence: str,
    words: tuple[Word, ...],
    behind_to: int,
    before: tuple[Meaning | None, int],
) -> Meaning | None:
    """Tell what a number is: by the words right behind it, by the last work before it that fits, by the next.

    `behind_to` is where the next number begins; `before` is what the number before was, and where that ended in this
    sentence (0: it stood in an earlier one).
    """
    behind = sentence[told.end : behind_to]
    for meaning, kinds, pattern in BEHIND:
        if told.kind in kinds and pattern.match(behind):
            if meaning == "dough" and any(w.meaning == "core" and w.start < told.start for w in words):
                continue  # "core 94 on the probe"
            if meaning == "mix" and _heats_it(words, told):
                continue  # "steam 12 min on medium"
            return meaning
    if told.kind == "height":
        return "altitude"
    if told.kind == "bare" and (_is_oven_pair(told, sentence) or _is_beside_an_oven(told, sentence)):
        return "oven"  # "then 350 for 40 minutes"
    if told.kind == "time" and _AT_OVEN_HEAT.match(sentence, told.end):
        return "oven"  # "25 min at gas 6", "10 min with steam at 230"
    last, ended = before
    fits = _FITS[told.kind]
    earlier = [w for w in words if w.start < told.start and w.meaning in fits and _can_be(told, w.meaning)]
    if _heats_it(tuple(w for w in earlier if not _SPEED.fullmatch(sentence[w.start : w.end])), told):
        earlier = [
            w for w in earlier if not _SPEED.fullmatch(sentence[w.start : w.end])
        ]  # "microwave on high"
    if any(w.meaning == "mix" for w in earlier):  # "mix 1st 3 min, 2nd 5 min" are speeds
        earlier = [w for w in earlier if not _ORDINAL.fullmatch(sentence[w.start : w.end])]
    if last == "oven" and ended and "oven" in fits and _can_be(told, "oven"):
        between = [w for w in words if ended <= w.start < told.start and w.meaning != "steam"]
        if not between:
            return "oven"  # a time right behind its heat
    if told.kind == "time" and any(w.meaning == "store" for w in earlier):
        return "store"
    lies = earlier and earlier[-1].meaning in ("rest", "oven", "cool in pan")
    if lies and any(w.meaning == "story" and "off" in sentence[w.start : w.end].lower() for w in earlier):
        return "story"  # "switch off and leave it in the oven 20 min"
    if earlier and earlier[-1].meaning == "rest" and any(w.meaning == "story" for w in earlier):
        return "story"
    if told.degrees and _LEAST_PAIR <= told.value <= _MOST_BARE:
        hot = [w.meaning for w in earlier if w.meaning in ("oven", "preheat", "core", "griddle")]
        return (
            hot[-1] if hot else "oven"
        )  # nothing else is so hot: "Australian kitchen, fan-forced: 170 degrees"
    if _HEATED_BEFORE.search(sentence) and "preheat" in fits:
        return "preheat"  # "pot in the oven at 240 for 45 min beforehand"
    if earlier:
        last_word = sentence[earlier[-1].start : earlier[-1].end].lower()
        if last_word == "overnight" and _SOAKS.search(sentence):
            return "rest"  # what lies in water overnight does not rise
        return earlier[-1].meaning
    if told.kind == "heat" and told.value >= _LEAST_OVEN_C:
        return "oven"
    stands_first = told.kind == "bare" and _LEAST_BARE <= told.value <= 600 and not ended
    if stands_first and behind_to < len(sentence) and _BARE_OVEN.match(sentence[told.end : behind_to]):
        return "oven"  # "400 degrees 14 min", "375 for 18 minutes"
    near = min(behind_to, told.end + 30) if any(w.start < told.start for w in words) else len(sentence)
    later = [w for w in words if told.end <= w.start < near and w.meaning in fits and w.meaning != "open"]
    later = [
        w for w in later if _can_be(told, w.meaning) and not (told.kind == "heat" and w.meaning == "rest")
    ]
    if later:
        goes_on = (
            told.kind == "time"
            and last == "oven"
            and not ended
            and ONLY_GOES_ON.match(sentence[: told.start])
        )
        return "oven" if goes_on and later[0].meaning in ("steam", "tent") else later[0].meaning
    carried = ended or ONLY_GOES_ON.match(sentence[: told.start])
    return last if carried and last in fits and told.kind != "bare" and _can_be(told, last) else None


_SPEED = re.compile(r"on\s+(?:low|medium|high|slow|fast)(?:\s+speed)?|medium", re.IGNORECASE)
_ORDINAL = re.compile(r"1st|2nd", re.IGNORECASE)
_SOAKS = re.compile(
    r"\bsoak(?:s|ed|ing)?\b|\b(?:in|under)\s+(?:\w+\s+)?water\b|\bbowl\s+of\s+water\b", re.IGNORECASE
)
_HEATED_BEFORE = re.compile(r"\bbefore\s?hand\b|\bin\s+advance\b|\bto\s+(?:pre-?)?heat\s+up\b", re.IGNORECASE)
ONLY_GOES_ON = re.compile(
    r"(?:\W|\b(?:then|and|another|a|an|further|more|about|around|for|again|after(?:wards|\s+that)?|next|followed\s+by|finally|now|"
    r"approx|ca|only|just|at\s+least|maybe|or|so|it|give|gave|takes?|took|needs?|needed|had|they|the|(?:un)?covered|"
    r"with(?:out)?|lid|other|first|last)\b)*$",
    re.IGNORECASE,
)
"""Words before a number that only go on with what the sentence before did; a verb of its own is another work."""


def _heats_it(words: tuple[Word, ...], told: Told) -> bool:
    """Tell whether the work before a number is one with heat, so that low and high are no speeds of a mixer."""
    before = [w for w in words if w.start < told.start]
    return bool(before) and before[-1].meaning in ("microwave", "oven", "steam", "boil", "griddle")


def is_only_a_lid(sentence: str, words: tuple[Word, ...], last: Meaning | None) -> bool:
    """Tell whether a lid is that of a steamer, so that its time is no bake."""
    ovens = [w for w in words if w.meaning == "oven" and "lid" not in sentence[w.start : w.end].lower()]
    steamed = any(w.meaning == "steam" for w in words)
    return "lid" in sentence.lower() and not ovens and last != "oven" and steamed


def _is_oven_pair(told: Told, sentence: str) -> bool:
    """Tell whether a bare number is a heat with its time behind it, which only an oven has: "350 for 40"."""
    sized = _LEAST_PAIR <= told.value <= _MOST_BARE and (told.value % 5 == 0)
    return sized and _FOR_A_TIME.match(sentence, told.end) is not None


def _is_beside_an_oven(told: Told, sentence: str) -> bool:
    """Tell whether a bare number is a heat by the kind of oven beside it: "165 ordinary", "fan 160"."""
    if not _LEAST_PAIR <= told.value <= _MOST_BARE:
        return False
    return bool(_KIND_BEHIND.match(sentence, told.end) or _KIND_IN_FRONT.search(sentence[: told.start]))


_KIND = r"(?:fan(?!s|\s+of)|ordinary|static|convection|conventional)"
_KIND_BEHIND = re.compile(rf"\s*[,(]?\s*{_KIND}\b", re.IGNORECASE)
_KIND_IN_FRONT = re.compile(
    rf"\b(?:{_KIND}(?:\s+oven)?|oven)\s*(?:(?:set\s+)?(?:to|at|on)|was|is|[:=(])?\s*(?:about\s+)?$",
    re.IGNORECASE,
)
_FOR_A_TIME = re.compile(
    r"\s*(?:degrees?|deg|°|º)?\s*[cf]?\s*(?:\(?(?:(?:non[\s-]|not\s+|no\s+)?fan(?:[\s-]+(?:forced|oven))?|convection|conventional|ordinary|static|"
    r"top\s+and\s+bottom(?:\s+heat)?|deck)\)?)?\s*[,;:/]?\s*"
    r"(?:(?:for|about)\s+(?:the\s+first\s+|about\s+|another\s+|around\s+)*(?:[0-9]{1,3}|an?\s+(?:good\s+)?hour|half\s+an?\s+hour)|"
    r"(?:ca\.?\s+|~\s*)?(?:[0-9]{1,3}(?:\s?[-–]\s?[0-9]{1,3})?\s*(?:min|h(?:ou)?rs?\b|['’′])|an\s+hour|half\s+an\s+hour))",
    re.IGNORECASE,
)
_LEAST_PAIR, _MOST_BARE = 120.0, 500.0
_AT_OVEN_HEAT = re.compile(
    r"\s*(?:(?:more|longer|further)\s+)?(?:with\s+(?:\w+\s+)?(?:steam|lid|foil)\s+)?(?:at|@|on)\s+(?:about\s+)?"
    r"(?:gas\b|(?:1[4-9][0-9]|[2-5][0-9]{2})\b(?!\s*(?:g|gr|grams?|ml)\b))",
    re.IGNORECASE,
)
_LEAST_OVEN_C = 100.0
_LEAST_BARE = 140.0
_BARE_OVEN = re.compile(
    r"\s*(?:/|@|,?\s*(?:fan|static|convection|conventional)\b)?\s*(?:for\b\s*)?(?:about\s+|around\s+|approx\.?\s+)?,?\s*$",
    re.IGNORECASE,
)
_MOST_THICK_CM = 5.0
"""No dough is rolled or patted out thicker: a longer measure says how wide it is."""
_MOST_MIN: dict[Meaning, float] = {
    "store": LONGEST_KEPT_MIN,
    "mix": 60.0,
    "griddle": 30.0,
    "boil": 30.0,
    "steam": 180.0,
}
"""Longer than this nobody does it: "mix, 14 h in a warm place" is a rise."""
_MOST_DOUGH_C = 60.0
_LEAST_REST_C, _MOST_REST_C = 15.0, 45.0
"""Heats at which something is left to lie; what is hotter cools."""
_MOST_WATER_C = 100.0
_LEAST_STORED_MIN = 600.0


def _can_be(told: Told, meaning: Meaning) -> bool:
    """Tell whether a number can be of a work: no dough rises at 180 C, no loaf is stored for ten minutes."""
    if told.kind == "time" and meaning == "store":
        return told.value >= _LEAST_STORED_MIN
    if told.kind == "time":
        return told.value <= _MOST_MIN.get(meaning, LONGEST_MIN)
    if told.kind == "length" and meaning == "thickness":
        return told.value <= _MOST_THICK_CM
    if told.kind != "heat":
        return True
    if meaning in ("oven", "preheat", "griddle"):
        return told.value >= _LEAST_OVEN_C
    if meaning == "rest":
        return _LEAST_REST_C <= told.value <= _MOST_REST_C
    if meaning in ("proof", "room", "dough", "dough wanted"):
        return told.value <= _MOST_DOUGH_C
    if meaning == "water":
        return told.value <= _MOST_WATER_C
    return meaning != "core" or _MOST_DOUGH_C - 10 <= told.value <= 110
