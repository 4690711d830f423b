"""On which side of the oven's door a time lies, where the words beside it say so whatever work was told before."""

from __future__ import annotations

import re
from collections.abc import Sequence

from advisor.formula.method import told_words as words
from advisor.formula.method.facts import Fact
from advisor.formula.method.meanings import Word
from advisor.formula.method.told_numbers import Told, numbers_told
from advisor.formula.method.work_words import Meaning
from advisor.formula.process.process_values import LONGEST_MIN

_UP_TO_THE_OVEN = re.compile(
    r"\s*(?:or\s+so\s+)?,?\s*(?:by\s+the\s+time|before|until|till|til)\s+(?:it|they|the\s+\w+|that|i|we)\s+(?:\w+\s+){0,3}?"
    r"(?:(?:got|went|go(?:es)?|get|gets|was|were|put|came|come)\s+(?:(?:it|them)\s+)?(?:in(?:to)?\b(?!\s+the\s+(?:fridge|tin|pan|basket|bowl))|"
    r"baked\b)|(?:in|into|to)\s+the\s+oven\b|baked\b)",
    re.IGNORECASE,
)
"""Words behind a time that lay before the oven: "2 1/2 hours by the time it got in the oven"."""
_HEATS = re.compile(
    r"\b(?:steel|stone|pot|dutch\s+oven|casserole|oven)\s+(?:was\s+|well\s+)?(?:heat(?:ed|s|ing)?|on)\s+(?:up\s+)?(?:for\s+|about\s+)*$",
    re.IGNORECASE,
)
"""Words in front of a time in which the oven, its stone or its pot gets hot, and nothing bakes."""
_MARKED = re.compile(
    r"\b(?:score|slash|rotate|flip|turn(?:ed)?\s+(?:it\s+|them\s+)?(?:over|round|around))\s+(?:it\s+|them\s+)?(?:after|at)\s+"
    r"(?:the\s+)?(?:first\s+)?(?:about\s+)?$",
    re.IGNORECASE,
)
"""Words in front of a moment inside a bake: "55 minutes, score after the first 15"."""
TILL_BAKED = re.compile(
    r"\s*(?:or\s+so\s*)?,?\s*(?:until|till|til)\b[^.;]{0,40}\b(?:skewer|tooth\s?pick|pick|tester|knife|brown(?:ed)?|golden|hollow\w*)\b|"
    r"\s*,\s*(?:\w+\s+)?(?:skewer|tooth\s?pick|tester)\s+(?:\w+\s+){0,2}?clean\b",
    re.IGNORECASE,
)
"""Words behind a time that ends when it is baked: "till risen and a skewer is clean"."""
_BARE_SHELF = re.compile(
    r"\b(?:bare|oven)\s+(?:shelf|rack)\b|\bdirectly\s+on\b|\bupside\s+down\b|\bout\s+of\s+the\s+tin\s+(?:and\s+)?back\b",
    re.IGNORECASE,
)
"""A loaf that goes on baking without its tin: "45 min on the bare shelf"."""
_IN_A_WARM_PLACE = re.compile(
    r"\s*(?:at|@)\s*(?:about\s+)?(?:(?:2[2-9]|3[0-9]|4[0-2])(?![0-9]|\.[0-9])(?:\s?[-–]\s?[0-9]{2})?\s*(?:°|º|deg\w*)?\s*(?:C\b|(?=$|[\s.,;)]))"
    r"(?!\s*(?:F|°F|g|min|cm)\b)|(?:7[5-9]|8[0-9]|9[0-9]|10[0-9])\s*(?:°|º|deg\w*)?\s*F\b)",
    re.IGNORECASE,
)
"""A heat behind a time at which a dough rises: "35-45 min at 30C till light"."""
_AT = re.compile(r"\s*(?:at|@)\s*(?:about\s+)?", re.IGNORECASE)
_STEAMER = re.compile(r"\bsteam(?:er|ed|ing)?\b|\btrivet\b", re.IGNORECASE)
_LEAST_RISE_MIN = 20.0
_IN_A_DYING_OVEN = re.compile(
    r"\b(?:ajar|(?:oven|heat)\s+off|(?:off|warm|dying|cooling)\s+oven|door\s+(?:\w+\s+){0,3}?open|open\s+door|with\s+(?:a|the)\s+(?:wooden\s+)?spoon)\b",
    re.IGNORECASE,
)
"""Words around a time in which a loaf stands in an oven that is off or open: it neither bakes nor cools on a rack."""
_CLAUSES = re.compile(r"[;,](?!\s*(?:door|lid)\b)|\bthen\b", re.IGNORECASE)
_LYING = frozenset(["rest", "cool", "cool in pan", "open", "oven", "store", None])
_AT_A_MOMENT = re.compile(r"\b(?:at|after|before|from|first|minute)\s+(?:about\s+|the\s+)*$", re.IGNORECASE)
_PARTED = re.compile(r"[;]|,\s*(?!then|for|at)|\bbak(?:e|ed|es|ing)\b|\bthen\b", re.IGNORECASE)
_INTO = re.compile(r"\b(?:in|into|on)\s+(?:an?|the|your|my)\s+$", re.IGNORECASE)
"""Words in front of an oven that is hot when the loaf goes in: "into a preheated oven at 180 C for 45 min"."""
_NOT_OPENED_BEFORE = re.compile(r"\b(?:don'?t|do\s+not|never|no)\s+(?:open|peek)\w*\b[^.;]*$", re.IGNORECASE)
_LATER = re.compile(r"\b(?:next\s+day|day\s+after|toast\w*|reheat\w*|refresh\w*|freshen\w*)\b", re.IGNORECASE)
_NOT_OPENED = re.compile(r"\b(?:no|not|never|don'?t|without|won'?t)\b[^.;]*$", re.IGNORECASE)
_OUT_AT = re.compile(
    r"(?:^|[,;]\s*|\b(?:rack|wire|then|and),?\s+)out(?:\s+of\s+(?:the\s+|its\s+)?(?:pan|tin))?\s+(?:at|after|within)\s+(?:about\s+)?$",
    re.IGNORECASE,
)
"""Words in front of the minutes after which a baked loaf leaves its tin: "out at 10 min"."""
_COMES_OFF = re.compile(
    r"\b(?:tin|pan|mou?ld|ring)\s+(?:comes|came|goes)\s+off\s+after\s+(?:about\s+)?$", re.IGNORECASE
)
_TAKEN_OUT = re.compile(
    r"\s*,?\s*(?:take|turn|tip|lift|ease|slide|remove)\w*\s+(?:it\s+|them\s+|the\s+\w+\s+)?(?:out\b|from\s+(?:the\s+)?(?:tin|pan|form))",
    re.IGNORECASE,
)
"""Words behind such minutes: "after 5 min take out from the tin"."""
_KEPT = re.compile(r"\b(?:tin|box|bag|jar|fridge|freez\w+|wrapped|shelf|life)\b", re.IGNORECASE)
_WRAPPED = re.compile(r"\b(?:chill|fridge|keep|(?<!before )freez\w*)\b|\bup\s+to\b", re.IGNORECASE)
_WAKES = re.compile(
    r"\byeast\b[^.;]*\b(?:(?:un)?til|till|it)\b[^.;]{0,20}\b(?:froth\w*|foam\w*|bubbl\w*|works?|dissolve[ds]?|active|wakes?)\b",
    re.IGNORECASE,
)
_LONGEST_WAKING_MIN = 30.0
"""Words of yeast that froths in its water, and the longest [min] that it is given."""
_LEFT = re.compile(r"(?:leave|left|stay|sit|set|rest|stand)", re.IGNORECASE)
_GOES_IN = re.compile(r"\b(?:bak(?:e|ed|ing)|oven)\b", re.IGNORECASE)
_STOPPED = re.compile(r"\b(?:stop|done|ready)\w*\b[^.;]*$", re.IGNORECASE)
_BAKED_WEIGHT = re.compile(
    r"\b(?:finished|baked|final|cooled)\s+(?:loaf\s+)?weigh\w*\b[^.;]*$", re.IGNORECASE
)
_AFTER = re.compile(r"\bafter\s+(?:about\s+)?$", re.IGNORECASE)
_ELSEWHERE = frozenset(["griddle", "steam", "boil", "microwave"])


_TO = re.compile(r"\W*(?:to|until|till|core)\s+(?:about\s+)?", re.IGNORECASE)
_LEAST_DONE_C, _MOST_DONE_C = 85.0, 102.0


def _is_done(told: Told, text: str) -> bool:
    """Tell whether a heat is that of a loaf that is done, and no step of an oven: no time follows it."""
    return _LEAST_DONE_C <= told.value <= _MOST_DONE_C and not _A_TIME.match(text, told.end)


_A_TIME = re.compile(r"\s*(?:for|[,/])?\s*(?:another\s+)?[0-9]{1,3}\s*(?:min|h)", re.IGNORECASE)


def side_of_the_door(
    meaning: Meaning | None, told: Told, text: str, works: tuple[Word, ...], last: Meaning | None, since: int, to: int,
    *, baked: bool, found: Sequence[Fact],
) -> Meaning | None:  # fmt: skip
    """Give the meaning of a number, corrected where it lies before, inside or still behind the door.

    `last` is what the number before was, `since` where that ended and `to` where the next begins; `baked` tells that a
    bake was told, and `found` holds what the sentence gave so far.
    """
    bakes = [fact.value for fact in found if fact.topic == "oven" and fact.what == "minutes"]
    if found and (found[-1].topic, found[-1].what) == ("oven", "celsius") and meaning == "cool in pan":
        return "oven"  # "175 C 25 min in the tin"
    if (
        told.kind == "time"
        and (baked or bakes)
        and _IN_A_DYING_OVEN.search(
            _CLAUSES.split(text[since : told.start])[-1] + told.text + _CLAUSES.split(text[told.end : to])[0]
        )
    ):
        meaning = "story" if meaning in _LYING and not words.LAST.search(text[: told.start]) else meaning
    preheats = [w for w in works if w.start < told.start and w.meaning in ("preheat", "oven")][-1:]
    nearest = [w.meaning for w in works if w.start < told.start][-1:]
    if told.kind == "time" and nearest == ["preheat"] and meaning in ("proof", "rest", "mix"):
        return "story"  # "while it rises, heat a pot at 240 C for 40 min"
    if preheats and preheats[0].meaning == "preheat" and _INTO.search(text[: preheats[0].start]):
        heated = found and (found[-1].topic, found[-1].what) == ("oven", "celsius")
        meaning = "oven" if meaning == "preheat" or (told.kind == "time" and heated) else meaning
    elif preheats and preheats[0].meaning == "preheat" and meaning in ("oven", "preheat"):
        parted = _PARTED.search(text[max(since, preheats[0].end) : told.start])
        meaning = meaning if parted else "story" if told.kind == "time" else "preheat"
    if told.kind == "time" and _NOT_OPENED_BEFORE.search(text[: told.start]):
        return "story"
    if meaning in ("microwave", "griddle") and (baked or bakes) and _LATER.search(text):
        return "story"  # a slice that is toasted the day after
    if meaning == "open" and (
        not _AT_A_MOMENT.search(text[: told.start]) or _NOT_OPENED.search(text[: told.start])
    ):
        return "story"
    out = _OUT_AT.search(text[: told.start]) or (
        _AFTER.search(text[: told.start]) and _TAKEN_OUT.match(text, told.end)
    )
    if told.kind == "time" and out:
        heated = any((fact.topic, fact.what) == ("oven", "celsius") for fact in found)
        meaning = "cool in pan" if baked or bakes else "oven" if heated else meaning
    inside = any(isinstance(bake, float) and bake > told.value for bake in bakes)
    if inside and _MARKED.search(text[since : told.start]):
        return "story"
    baked_to = found and (found[-1].topic, found[-1].what) == ("oven", "minutes")
    if told.kind == "heat" and baked_to and _TO.fullmatch(text[since : told.start]) and _is_done(told, text):
        return "core"  # "375 F, 50 min, to 205 F"
    if meaning == "cool in pan" and _BARE_SHELF.search(text, told.end):
        return "oven"
    if meaning in ("cool", "rest") and last == "oven" and _BARE_SHELF.search(text[since:to]):
        return "oven"
    if told.kind == "bare" and last == "proof" and _AT.fullmatch(text[since : told.start]):
        return "proof"
    if told.kind != "time":
        return meaning
    if not baked and meaning in (None, "mix") and told.value >= _LEAST_RISE_MIN:
        meaning = "proof" if _IN_A_WARM_PLACE.match(text, told.end) else meaning
    if meaning == "boil" and _STEAMER.search(text[: told.start]):
        return "steam"  # the water boils, and the dough lies over it
    heats = _HEATS.search(text[: told.start]) is not None
    if not baked and not heats and _UP_TO_THE_OVEN.match(text, told.end):
        return "story" if any(w.meaning == "preheat" for w in works) else "proof"
    if heats:
        return "story"
    elsewhere = any(w.meaning in _ELSEWHERE for w in works)
    if meaning in (None, "proof", "rest") and not elsewhere and TILL_BAKED.match(text, told.end):
        return "oven"
    return meaning


def before_or_behind(
    meaning: Meaning | None, told: Told, text: str, works: Sequence[Word], last: Meaning | None, since: int, to: int,
    *, baked: bool,
) -> Meaning | None:  # fmt: skip
    """Give the meaning of a number, corrected by whether the loaf is baked: what lies about then is no dough."""
    if meaning == "cool in pan" and not baked:
        named = [w for w in works if w.start < told.start][-1:]
        left = named and _LEFT.match(text, named[0].start)
        rises = told.value >= words.LEAST_LEFT_TO_RISE_MIN or _GOES_IN.search(text, told.end)
        if last == "proof" or (left and rises):
            return "proof"  # it rises in its tin
    run = text[max([since, *(w.start for w in works if since <= w.start < told.start)]) : to]
    if meaning == "piece" and told.kind == "weight" and _BAKED_WEIGHT.search(text[: told.start]):
        return "weight"  # "finished weight is about 285 g each"
    if meaning == "mix" and _AFTER.search(text[: told.start]) and not _STOPPED.search(text[: told.start]):
        return "story"  # "9 min on low, oil after 2 min", "after five minutes of kneading"
    if meaning in ("rest", "cool") and words.BACK_IN.search(text, told.end):
        return "rest"
    if meaning == "proof" and not baked and told.value <= _LONGEST_WAKING_MIN and _WAKES.search(text):
        return "rest"  # yeast that froths in its water is no dough yet
    if (
        meaning in ("rest", "cool")
        and baked
        and told.value >= words.LONGEST_REST_MIN
        and _WRAPPED.search(run)
    ):
        return "store"  # "wrap and chill for up to 5 days"
    if meaning in ("rest", "cool") and (baked or meaning == "cool"):
        comes_off = meaning == "cool" and _COMES_OFF.search(text[: told.start])
        in_pan = comes_off or re.search(
            r"\b(?:in|on)\s+(?:the\s+|its\s+|their\s+)?(?:pans?|tins?|dish|mou?lds?|form)\b", run, re.I
        )
        rack = re.search(r"\b(?:rack|before)\b", run, re.I)
        return "cool in pan" if in_pan and not rack else "cool"
    if meaning == "rest" and told.kind == "time" and not baked and words.RISES.search(text):
        return "proof"  # "leave an hour and a quarter till double"
    long = told.kind == "time" and told.value >= words.LEAST_LONG_RISE_MIN
    if meaning == "rest" and long and not baked and words.BUBBLES.search(text):
        return "proof"  # "leave that for two days, it bubbles"
    if meaning == "proof" and told.kind == "time" and told.value >= words.LEAST_STORED_MIN:
        rises = re.search(
            r"\b(?:proof|prove|rise|dough|retard|bulk|ferment|cooler|chiller|walk-?in|balls?)\b", text, re.I
        )
        if baked or not rises:
            return "store"
    if meaning == "proof" and told.kind == "time" and words.OR_ELSE.search(text[since : told.start]):
        return "story"  # one of two ways
    if told.kind == "time" and told.value >= words.LONGEST_REST_MIN and meaning not in ("proof", "cool"):
        kept = told.value <= LONGEST_MIN or _KEPT.search(text)
        return "store" if (baked and kept) or meaning == "store" else meaning
    return meaning


def beside_a_bake(
    told: Told, text: str, found: Sequence[Fact], since: int, to: int
) -> list[tuple[str, bool]]:
    """Give what the words beside a time in the oven tell of it: its lid, steam, foil.

    `since` is where the number before ended, `to` where the next begins.
    """
    heat = words.AT_A_HEAT.match(text, told.end)
    if heat and heat.end() >= to:  # "8 min at 230 C with steam"
        to = next((t.start for t in numbers_told(text) if t.start > heat.end()), len(text))
    front = text[since : told.start]
    timed = [fact.end for fact in found if fact.what.endswith("minutes")]
    near, before = text[told.end : min(to, told.end + 14)], text[timed[-1] if timed else 0 : told.start]
    if re.search(r"[.,;]", near[:2]):  # behind the comma it belongs to the next number, if there is one
        near, before = before, near if to == len(text) else ""
    tells: list[tuple[str, bool]] = []
    for part in (near, before):
        off = words.LID_OFF.search(part)
        if off or words.LID_ON.search(part):
            tells.append(("lid", not off))
            break
    if words.STEAM.search(f"{front} {text[told.end : to]}"):
        tells.append(("steam", True))
    return [*tells, ("foil", True)] if words.FOIL.search(front) else tells


def part_of_a_bake(told: Told, text: str, found: Sequence[Fact]) -> str:
    """Tell which part of a bake a time is: its first, its last, or what came before a lower heat."""
    front = text[: told.start]
    if words.LAST.search(front):
        return "last "
    bakes = [f.value for f in found if (f.topic, f.what) in (("oven", "minutes"), ("oven", "total"))]
    inside = any(isinstance(bake, float) and bake > told.value for bake in bakes)
    if words.FIRST.search(front) or (inside and _steams(told, text)):
        return "first "
    heats = [f for f in found if (f.topic, f.what) == ("oven", "celsius")]
    turned = heats and found[-1] is heats[-1] and words.TURNED.search(text[: heats[-1].start])
    return "after " if turned and words.AFTER.search(front) else ""


def _steams(told: Told, text: str) -> bool:
    return bool(words.STEAMS.search(text[: told.start]) or words.OF_STEAM.match(text, told.end))
