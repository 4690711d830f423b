"""A change as it is said or printed, put into the short form that `written_change` reads.

"add 18 g psyllium husk powder" is "psyllium husk powder +18 g"; "Bake: 60 min instead of 45 min (15 min longer)." is
"bake 60 min". What names no amount ("less water") is no short form: it is told apart here, so that it can be asked.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

_NUMBER = (
    r"(?:[0-9]+(?:[.,/][0-9]+)?(?:\s+[0-9]/[0-9])?|[¼½¾⅓⅔]|(?:another|an?|one|two|three|four|five|six)\b)"
)
_UNIT = (
    r"(?:\s*(?:g|grams?|kg|ml|l|oz|lb|cups?|tbsps?|tablespoons?|tsps?|teaspoons?|pinch(?:es)?|sticks?|packets?|"
    r"sachets?|scoops?|handfuls?|knobs?|splash(?:es)?)\b|\s*%|\s+per\s?cent)?"
)
_AMOUNT = rf"(?P<amount>{_NUMBER}{_UNIT})"
_THE = r"(?:the\s+|your\s+|my\s+|some\s+(?:of\s+the\s+)?)?"
_NAME = r"(?P<name>(?!(?:bit|little|touch|less|more|fewer|other)\b)[^\d,;]+?)"
_STEP = r"(?P<number>[0-9]+(?:[.,][0-9]+)?|an|one|half\s+an)\s*(?P<unit>minutes?|mins?|min|hours?|hrs?|h)"
_DEGREES = r"(?P<number>[0-9]+)\s*(?:°\s*|deg(?:rees)?\s*)?(?P<unit>[CF])?"
_STAGE = (
    r"(?P<stage>bak(?:e|ing)|proof(?:ing)?|prov(?:e|ing)|ris(?:e|ing)|rest(?:ing)?|mix(?:ing)?|knead(?:ing)?|"
    r"cook(?:ing)?|oven)"
)
_SMALL = {
    "a": "1",
    "an": "1",
    "one": "1",
    "another": "1",
    "two": "2",
    "three": "3",
    "four": "4",
    "five": "5",
    "six": "6",
}
_TIMES = {
    "double": "+100 %", "twice": "+100 %", "treble": "+200 %", "triple": "+200 %", "halve": "-50 %", "half": "-50 %",
    "a third more": "+33.3 %", "a third less": "-33.3 %", "a quarter more": "+25 %", "a quarter less": "-25 %",
    "half as much again": "+50 %", "doubled": "+100 %", "halved": "-50 %",
    "half as much": "-50 %", "twice as much": "+100 %",
}  # fmt: skip
_PRINTED_TAIL = re.compile(
    r"\s*(?::\s*[^:]*\binstead of\b.*|\((?:about|[0-9.,]+\s*[gk]+)[^)]*\))\s*", re.IGNORECASE
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Direction:
    """More or less of something, without saying how much."""

    name: str
    way: Literal["more", "less"]


_Rule = tuple[re.Pattern[str], Callable[[re.Match[str]], str]]


def short_form(text: str) -> str:
    """Give the short form of a change that is said or printed; a text that is none comes back as it is."""
    plain = " ".join(text.split()).rstrip(".!").removesuffix(", not stated before")
    plain = re.sub(
        r"^(?:[0-9]+\.\s+|(?:please|just|try|maybe|then|i'?d|let'?s)\s+)+", "", plain, flags=re.IGNORECASE
    )
    for candidate in dict.fromkeys((plain, _without_tail(plain))):
        for pattern, form in _RULES:
            if (found := pattern.fullmatch(candidate)) is not None:
                return form(found)
    return _without_tail(plain) if _SIGNED.match(plain) else plain


def direction_in(text: str) -> Direction | None:
    """Tell what shall be more or less, where no amount is said."""
    found = _DIRECTION.fullmatch(" ".join(text.split()).rstrip(".!"))
    if found is None:
        return None
    word = next(found[key] for key in ("way", "verb", "after") if found[key]).lower()
    name = found["name"] or found["name2"] or found["name3"]
    return Direction(name=name, way="more" if word in _MORE else "less")


def words_of_changes() -> frozenset[str]:
    """Give the words that say what is done, so that a misspelt one can be offered."""
    return frozenset(
        [
            *(
                "add",
                "double",
                "twice",
                "triple",
                "halve",
                "half",
                "less",
                "more",
                "fewer",
                "instead",
                "replace",
            ),
            *(
                "swap",
                "substitute",
                "omit",
                "leave",
                "without",
                "skip",
                "remove",
                "reduce",
                "increase",
                "raise",
            ),
            *(
                "lower",
                "bake",
                "oven",
                "proof",
                "rest",
                "longer",
                "shorter",
                "hotter",
                "cooler",
                "minutes",
                "with",
            ),
        ]
    )


_MORE = frozenset({"more", "extra", "increase", "raise", "up", "longer", "higher", "hotter", "stronger"})
_DIRECTION = re.compile(
    rf"(?:a\s+(?:bit|little|touch)\s+|use\s+|add\s+|try\s+|much\s+)*(?P<way>more|less|fewer|extra)\s+{_THE}(?P<name>[^\d]+)"
    rf"|(?P<verb>increase|raise|up|reduce|lower|cut(?:\s+(?:down|back))?(?:\s+on)?|decrease|drop)\s+{_THE}(?P<name2>[^\d]+)"
    r"|(?P<name3>[^\d]+?)\s+(?P<after>up|down|higher|lower|longer|shorter|hotter|cooler)",
    re.IGNORECASE,
)
_SIGNED = re.compile(r"[^\d:]+[+\-−–]\s*[0-9]")


def _without_tail(text: str) -> str:
    return _PRINTED_TAIL.sub(" ", text).strip(" .")


def _amount(found: re.Match[str]) -> str:
    amount = found["amount"]
    first, _, rest = amount.partition(" ")
    return f"{_SMALL.get(first.lower(), first)} {rest}".strip()


def _more(found: re.Match[str]) -> str:
    return f"{found['name']} +{_amount(found)}"


def _less(found: re.Match[str]) -> str:
    return f"{found['name']} -{_amount(found)}"


def _stage(found: re.Match[str]) -> str:
    word = (found["stage"] or "bake").lower()
    return next(
        (key for start, key in (("pro", "proof"), ("ris", "proof"), ("res", "rest"), ("mix", "mix"), ("knead", "mix"))
         if word.startswith(start)), "bake",
    )  # fmt: skip


def _minutes(found: re.Match[str]) -> str:
    number = {"an": "1", "one": "1", "half an": "0.5"}.get(
        " ".join(found["number"].lower().split()), found["number"]
    )
    return f"{number} {'h' if found['unit'].lower().startswith('h') else 'min'}"


def _longer(found: re.Match[str]) -> str:
    less = (found["way"] or "more").lower() in ("less", "shorter")
    return f"{_stage(found)} {'-' if less else '+'}{_minutes(found)}"


def _hotter(found: re.Match[str]) -> str:
    down = found["way"].lower() in ("cooler", "lower", "down", "colder", "less")
    return f"oven {'-' if down else '+'}{found['number']} {(found['unit'] or 'C').upper()}"


def _times(found: re.Match[str]) -> str:
    return f"{found['name']} {_TIMES[found['times'].lower()]}"


def _exchanged(found: re.Match[str]) -> str:
    old, new = found["old"], found["new"]
    return f"{old} -> {new}" if any(c.isdigit() for c in new) else f"{new} instead of {old}"


def _rule(pattern: str, form: Callable[[re.Match[str]], str]) -> _Rule:
    return re.compile(pattern, re.IGNORECASE), form


_FIRST = r"(?:use\s+|add\s+|try\s+)?"
_DO = r"(?:cut|reduce|lower|decrease|drop|take)\s+(?:down\s+)?"
_RAISE = r"(?:increase|raise|up|boost)\s+"
_SET = r"(?:cut|reduce|lower|increase|raise|up|change|set|make)\s+"
_OMIT = r"(?:leave out|take out|remove|skip|drop|ditch|lose|omit|leave off|cut out|without|no)\s+(?:all\s+(?:of\s+)?)?"
_RULES: tuple[_Rule, ...] = (
    # as printed: "Bake: 60 min instead of 45 min (15 min longer)", "Oven: 190 C instead of 235 C (45 C cooler)"
    _rule(
        r"(?P<key>[a-z ]+):\s*(?P<value>[^:]+?)\s+instead of\s+[^:]+",
        lambda m: f"{m['key'].lower()} {m['value']}",
    ),
    # the oven and the clock
    _rule(
        rf"(?:{_STAGE}\s+(?:it\s+|for\s+)*)?{_STEP}\s+(?P<way>longer|more|less|shorter)(?:\s+in\s+the\s+oven)?",
        _longer,
    ),
    _rule(rf"(?:{_STAGE})\s+(?:it\s+)?(?P<way>longer|shorter)\s+by\s+{_STEP}", _longer),
    _rule(
        rf"(?:{_STAGE}\s+(?:it\s+)?for\s+)?(?:another|an?\s+extra)\s+{_STEP}(?P<way>)(?:\s+(?:in\s+the\s+oven|baking))?",
        _longer,
    ),
    _rule(rf"{_STEP}\s+(?P<way>more|less|longer|shorter)\s+(?:of\s+)?{_STAGE}", _longer),
    _rule(
        rf"(?:bake|oven|turn the oven)\s+(?:it\s+)?(?:at\s+)?{_DEGREES}\s+"
        r"(?P<way>hotter|cooler|higher|lower|up|down|colder|more|less)",
        _hotter,
    ),
    _rule(rf"{_DEGREES}\s+(?P<way>hotter|cooler|colder)", _hotter),
    _rule(rf"turn\s+(?:the\s+)?(?:oven|heat)\s+(?P<way>up|down)\s+(?:by\s+)?{_DEGREES}", _hotter),
    _rule(r"turn\s+(?:the\s+)?oven\s+(?:up|down)?\s*to\s+(?P<value>[0-9].*)", lambda m: f"oven {m['value']}"),
    _rule(r"(?:bake|oven)\s+at\s+(?P<value>[0-9]+\s*(?:°|deg\w*)?\s*[CF])", lambda m: f"oven {m['value']}"),
    _rule(r"(?P<value>[0-9]+\s*(?:°\s*)?[CF])", lambda m: f"oven {m['value']}"),
    # amounts
    _rule(rf"{_FIRST}{_AMOUNT}\s+(?:more|extra|additional)\s+(?:of\s+)?{_THE}{_NAME}", _more),
    _rule(rf"{_FIRST}{_AMOUNT}\s+(?:less|fewer)\s+(?:of\s+)?{_THE}{_NAME}", _less),
    _rule(
        rf"(?:add|use|put in|give it)\s+(?:an?\s+extra\s+|another\s+)?{_AMOUNT}\s*(?:more\s+|extra\s+)?(?:of\s+)?"
        rf"{_THE}{_NAME}(?:\s+more)?",
        _more,
    ),
    _rule(rf"{_DO}{_THE}{_NAME}\s+by\s+{_AMOUNT}", _less),
    _rule(rf"{_RAISE}{_THE}{_NAME}\s+by\s+{_AMOUNT}", _more),
    _rule(rf"(?:take|leave)\s+(?:away|out|off)\s+{_AMOUNT}\s+(?:of\s+)?{_THE}{_NAME}", _less),
    _rule(rf"{_SET}{_THE}{_NAME}\s+(?:down\s+|up\s+)?to\s+{_AMOUNT}", lambda m: f"{m['name']} {_amount(m)}"),
    _rule(
        rf"(?P<times>double|treble|triple|halve|twice|half)\s+(?:of\s+)?{_THE}(?:amount\s+of\s+)?{_NAME}",
        _times,
    ),
    _rule(
        r"(?P<times>a third more|a third less|a quarter more|a quarter less|half as much|twice as much)\s+"
        rf"{_THE}{_NAME}",
        _times,
    ),
    _rule(rf"{_THE}{_NAME}\s+(?P<times>doubled|halved)", _times),
    # one thing for another
    _rule(
        rf"(?:replace|swap|exchange)\s+(?:out\s+)?{_THE}(?P<old>.+?)\s+(?:with|for|by)\s+{_THE}(?P<new>.+)",
        _exchanged,
    ),
    _rule(
        rf"(?:substitute|use|take|try)\s+{_THE}(?P<new>[^\d]+?)\s+(?:for|instead of|in place of|rather than)\s+"
        rf"{_THE}(?P<old>.+)",
        lambda m: f"{m['new']} instead of {m['old']}",
    ),
    _rule(rf"{_OMIT}{_THE}{_NAME}", lambda m: f"omit {m['name']}"),
)
