"""Decides by the whole text what a sentence alone leaves open: a rest or a rise, a core wanted or one that was read."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from advisor.formula.formula import Line
from advisor.formula.method import told_words as words
from advisor.formula.method.facts import Fact

_READ = {"target_core_c": "core_measured_c", "dough_wanted_c": "dough_measured_c"}
_STARTER = re.compile(r"\bstarter\b")


def core_is_wanted(before: str, number: str, sentence: str) -> bool | None:
    """Tell whether a core is one to bake to, and not one that was read: the word nearest before the number tells.

    `None` where no word does: then the whole text tells whether it gives orders or is the log of a bake.
    """
    if words.OUGHT_TO_READ.search(before):
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


def is_only_left(sentence: str, at: int) -> bool:
    """Tell whether the rest whose word stands at a place is one in which a dough with yeast rises: "left an hour"."""
    return bool(words.ONLY_LEFT.match(sentence, at)) and not words.NO_RISE.search(sentence)


def is_chilled(run: str, minutes: float) -> bool:
    """Tell whether a time is one in the fridge that only makes a dough firm where it holds no yeast."""
    short = minutes <= words.LONGEST_CHILL_MIN
    return short and bool(words.FRIDGE.search(run)) and not words.OUT_OF_FRIDGE.search(run)


def decided(facts: Sequence[tuple[int, Fact]], lines: Sequence[Line]) -> list[tuple[int, Fact]]:
    """Decide by the whole text what its sentences leave open; `lines` tell whether it holds yeast."""
    log = _is_log(facts)
    risen = any("yeast" in line.ingredient.roles or _STARTER.search(line.ingredient.name) for line in lines)
    return [(n, _decided(f, log=log, risen=risen, dough=bool(lines)) if f.open else f) for n, f in facts]


def _decided(fact: Fact, *, log: bool, risen: bool, dough: bool) -> Fact:
    if read := _READ.get(fact.topic):
        return replace(fact, topic=read, what=read) if log else fact
    long = isinstance(fact.value, float) and fact.value >= words.LEAST_LEFT_TO_RISE_MIN
    if fact.topic == "rest" and risen and long:
        return replace(fact, topic="proof")
    return replace(fact, topic="rest") if fact.topic == "proof" and dough and not risen else fact


def _is_log(facts: Sequence[tuple[int, Fact]]) -> bool:
    """Tell whether the method of a text is the log of one bake and no order, by its verbs."""
    told = " ".join(dict.fromkeys(f.source for _, f in facts))
    return len(words.DONE.findall(told)) > len(words.TO_DO.findall(told))
