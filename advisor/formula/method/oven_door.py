"""On which side of the oven's door a time lies, where the words beside it say so whatever work was told before."""

from __future__ import annotations

import re
from collections.abc import Sequence

from advisor.formula.method.facts import Fact
from advisor.formula.method.meanings import Word
from advisor.formula.method.told_numbers import Told
from advisor.formula.method.work_words import Meaning

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
    r"\s*(?:or\s+so\s*)?,?\s*(?:until|till|til)\b[^.;]{0,40}\b(?:skewer|tooth\s?pick|pick|tester|knife|brown(?:ed)?|golden|hollow\w*)\b",
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
_STEAMER = re.compile(r"\bsteamer\b", re.IGNORECASE)
_LEAST_RISE_MIN = 20.0
_ELSEWHERE = frozenset(["griddle", "steam", "boil", "microwave"])


def side_of_the_door(
    meaning: Meaning | None, told: Told, text: str, works: tuple[Word, ...], last: Meaning | None, since: int, to: int,
    *, baked: bool, found: Sequence[Fact],
) -> Meaning | None:  # fmt: skip
    """Give the meaning of a number, corrected where it lies before, inside or still behind the door.

    `last` is what the number before was, `since` where that ended and `to` where the next begins; `baked` tells that a
    bake was told, and `found` holds what the sentence gave so far.
    """
    bakes = [fact.value for fact in found if fact.topic == "oven" and fact.what == "minutes"]
    inside = any(isinstance(bake, float) and bake > told.value for bake in bakes)
    if inside and _MARKED.search(text[since : told.start]):
        return "story"
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
