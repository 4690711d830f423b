"""Decides by the whole text what a sentence alone leaves open: a rest or a rise, a core wanted or one that was read."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from advisor.formula.formula import Line
from advisor.formula.method import told_words as words
from advisor.formula.method.facts import Fact
from advisor.formula.method.meanings import ONLY_GOES_ON, Word
from advisor.formula.method.told_numbers import Told
from advisor.formula.method.work_words import Meaning

_READ = {"target_core_c": "core_measured_c", "dough_wanted_c": "dough_measured_c"}
_BAKES = frozenset(["oven", "griddle_side_min", "steam_min"])
_NO_TIME = frozenset(["celsius", "fan", "lid", "steam"])
_OF_A_LOAF = frozenset(["sliced_after_min", "cooled_in_pan_min", "height_after_cm"])
_NO_MORE = re.compile(
    r"\s*(?:$|[.,;:!)]|(?:or\s+so|until|till|to|at|covered|in|on|under|no|with|while)\b)", re.IGNORECASE
)
"""What may stand behind a time that stands alone; "1 min low" and "90 second bread" do not."""
_STARTER = re.compile(r"\bstarter\b")


def core_is_wanted(before: str, number: str, sentence: str) -> bool | None:
    """Tell whether a core is one to bake to, and not one that was read: the word nearest before the number tells.

    `None` where no word does: then the whole text tells whether it gives orders or is the log of a bake.
    """
    if words.OUGHT_TO_READ.search(before) or words.OR_OVER.search(sentence):
        return True
    marks = [(at.start(), True) for at in words.TARGET.finditer(before)]
    marks += [(at.start(), False) for at in words.MEASURED.finditer(before)]
    if marks:
        return max(marks)[1]
    if re.search(r"\.[1-46-9]", number):
        return False  # 97.1 is what a probe shows; nobody bakes to a tenth
    return False if words.READ_OFF.search(sentence) else None


def dough_is_wanted(before: str, sentence: str) -> bool | None:
    """Tell whether a heat of the dough is the one to aim at; `None` where no word tells it from one that was read."""
    if words.WANTED_DOUGH.search(before):
        return True
    return False if words.READ_DOUGH.search(sentence) else None


def is_only_left(run: str) -> bool:
    """Tell whether a rest, told from its word on, is one in which a dough with yeast rises: "left an hour"."""
    return bool(words.ONLY_LEFT.match(run)) and not words.NO_RISE.search(run)


def says_it_rises(run: str) -> bool:
    """Tell whether words say that a dough rises, and not only that it is left, covered or chilled."""
    return bool(words.RISING.search(run))


def is_brief(told: Told, sentence: str, works: Sequence[Word]) -> bool:
    """Tell whether a time is too short for anything but mixing, as "water last, 45 s only!"."""
    ends = re.match(r"\s*(?:$|[.,;:!)]|only\b|max\b)", sentence[told.end :], re.IGNORECASE)
    lasts = any(w.meaning in words.LASTING for w in works)
    brief = told.kind == "time" and told.value <= words.BRIEF_MIN and ends is not None and not lasts
    return brief and not re.search(r"\b(?:melt|soften|warm)", sentence, re.IGNORECASE)


def lies_alone(
    meaning: Meaning | None, told: Told, sentence: str, works: Sequence[Word], last: Meaning | None, *, baked: bool
) -> bool:  # fmt: skip
    """Tell whether a sentence before the bake is nothing but a time ("1 hour."): the dough lies, or the loaf bakes.

    A short one right behind the kneading is more of it.
    """
    if told.kind != "time" or baked or meaning not in (None, "mix", "rest"):
        return False
    if meaning == last == "mix":  # "knead 10 min, 1 hr in a bowl"
        return told.value > words.LONGEST_SECOND_MIX_MIN
    if last is not None or not _NO_MORE.match(sentence, told.end):
        return False
    if any(w.meaning != "open" for w in works) or not ONLY_GOES_ON.match(sentence[: told.start]):
        return False
    return meaning != "mix" or told.value >= words.LEAST_LEFT_TO_RISE_MIN


def decided(facts: Sequence[tuple[int, Fact]], lines: Sequence[Line], text: str) -> list[tuple[int, Fact]]:
    """Decide by the whole text what its sentences leave open; `lines` tell whether it holds yeast."""
    log = bool(words.OUTCOME.search(text)) or _is_log(facts)
    risen = any("yeast" in line.ingredient.roles or _STARTER.search(line.ingredient.name) for line in lines)
    oven = {f.what for _, f in facts if f.topic == "oven"}
    unbaked = not risen and bool(lines) and "celsius" in oven and "minutes" not in oven
    told = _without_what_comes_too_early(facts)
    warm = {f.sentence for _, f in told if f.what == "celsius" and f.topic in ("rest", "proof")}
    kept = [
        (
            n,
            _decided(f, log=log, risen=risen or f.sentence in warm, dough=bool(lines), unbaked=unbaked)
            if f.open
            else f,
        )
        for n, f in told
    ]
    rising = {f.sentence for _, f in kept if f.topic == "proof" and f.what == "minutes"}
    kept = [(n, replace(f, topic="proof") if _warms(f) and f.sentence in rising else f) for n, f in kept]
    dough_g = sum(line.grams for line in lines)
    kept = [(n, _weighed(f, dough_g)) for n, f in kept]
    return [(n, f) for n, f in kept if f.topic and (f.topic != "rest" or f.what == "minutes")]


def _weighed(fact: Fact, dough_g: float) -> Fact:
    """Tell by the dough whether "a 900 g loaf" is so heavy before its bake or behind it; else it is a size of tins."""
    if fact.topic != "weight_after_g" or not fact.open or not isinstance(fact.value, float) or not dough_g:
        return fact
    share = fact.value / dough_g
    if abs(share - 1) <= words.DOUGH_WITHIN:
        return replace(fact, topic="piece_g", what="piece_g")
    return fact if words.LEAST_BAKED <= share < 1 else replace(fact, topic="")


def _warms(fact: Fact) -> bool:
    """Tell whether a fact is the heat at which something lies: that of its rise, where it rises."""
    return fact.topic == "rest" and fact.what == "celsius"


def _without_what_comes_too_early(facts: Sequence[tuple[int, Fact]]) -> list[tuple[int, Fact]]:
    """Leave out what can only be told of a loaf, where it stands in front of its bake: "cool the cheese 2 min"."""
    bakes = [i for i, (_, f) in enumerate(facts) if f.topic in _BAKES and f.what not in _NO_TIME]
    first = bakes[0] if bakes else 0
    return [entry for i, entry in enumerate(facts) if i >= first or entry[1].topic not in _OF_A_LOAF]


def _decided(fact: Fact, *, log: bool, risen: bool, dough: bool, unbaked: bool) -> Fact:
    if read := _READ.get(fact.topic):
        return replace(fact, topic=read, what=read) if log else fact
    long = isinstance(fact.value, float) and fact.value >= words.LEAST_LEFT_TO_RISE_MIN
    if _warms(fact):
        return fact
    if fact.topic == "rest" and risen and long:
        return replace(fact, topic="proof")
    if fact.topic == "rest" and unbaked and long and fact.source[: fact.start].strip(" ,") == "":
        return replace(fact, topic="oven")  # "Oven 165. Pour it in. 45 min."
    return replace(fact, topic="rest") if fact.topic == "proof" and dough and not risen else fact


def _is_log(facts: Sequence[tuple[int, Fact]]) -> bool:
    """Tell whether the method of a text is the log of one bake and no order, by its verbs."""
    told = " ".join(dict.fromkeys(f.source for _, f in facts))
    return len(words.DONE.findall(told)) > len(words.TO_DO.findall(told))
