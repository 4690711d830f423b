"""Takes a text that names several ingredients apart: by its separators, or by nothing but its amounts."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from advisor.formula.faults import LineFault
from advisor.formula.lines.amounts import number_at
from advisor.formula.lines.quantities import Amount, amount_at
from advisor.formula.lines.units import UnitTable

_BRACKET = re.compile(r"\([^()]*\)")
_STARTS = re.compile(
    r"(?<![\w.,/%°-])(?=[~≈]?[0-9.¼½¾⅓⅔⅛])"
    r"|\b(?=(?:an?|one|two|three|four|five|six|seven|eight|nine|half|several|quarter)\s)",
    re.IGNORECASE,
)
_NO_AMOUNT = re.compile(
    r"[~≈]?[0-9]{1,4}(?:\s?[-–]\s?[0-9]{1,4})?\s*(?:°|º|degrees?\b|deg\b|min\w*\b|mins\b|hours?\b|hrs?\b|h\b|sec\w*\b|"
    r"%|(?:c|f)\b(?!\s*\.?\s*[a-z])|cm\b|mm\b|inch|in\b|x\s*[0-9]+\s*(?:x|cm|mm|in|[,.;)]|$|(?:pan|tin|tray|dish)\b))",
    re.IGNORECASE,
)
_SEPARATOR = re.compile(
    r"\s*(?:[,;|•·]|\s[/+&–—]\s|(?<=[^\W\d])\s*/\s*(?=[0-9])|\s+(?:and|plus|then|with)\s+(?:then\s+)?)\s*",
    re.I,
)
_FILLERS = (
    r"and|plus|then|also|with|so|now|oh|um|er|uh|add|take|put|in|use|using|get|got|have|weigh|some|about|around|roughly|"
    r"ok|okay|right|well|just|basically|it'?s|it\s+is|its|that'?s|there\s*(?:is|are|'s)|the|my|mine|recipe|first|for\s+it|"
    r"(?:you|we|i)(?:'ll|\s+will)?(?:\s+(?:need|want|take|add|use|used|put|have|had|weigh))?|made\s+(?:with|of|from)"
)
_ENDS = re.compile(
    rf"^(?:[\s,;:/|+&•·–—-]|\b(?:{_FILLERS})\b(?!\s+(?:of|for)\b))+|"
    r"(?:[\s,;:/|+&•·–—-]|\b(?:and|plus|then|also|with|so|now|oh|um|er|uh|about|around|roughly|you|add|i|we|"
    r"(?:in|on|for|into)\s+(?:the\s+)?(?:dough|top|mix|batter))\b)+$",
    re.IGNORECASE,
)
_TOLD_TO_DO = re.compile(r"\W*(?:add|take|put|use|get|weigh|mix|stir|whisk|then)\b", re.IGNORECASE)
_JOINED = re.compile(r"\s*(?:\+|&|\bplus\b|\band\b)\s*$|^\s*(?:\+|&|\bplus\b|\band\b)", re.IGNORECASE)
_LOOSE = re.compile(
    r"\b(?:to\s+taste|as\s+(?:needed|required|desired)|plenty|bunch|handful|optional|for\s+(?:the\s+)?(?:tin|pan|tray|top|"
    r"topping|dusting|rolling|brushing|greasing|glaze)|extra)\b",
    re.IGNORECASE,
)
_HAND = re.compile(
    r"\s*(?:an?\s+)?(?:good\s+|big\s+|small\s+|generous\s+)?(?:splash|pinch|dash|knob|glug|drizzle|sprinkle|squeeze|bunch|"
    r"handful|blob|dollop|tsp|tbsp|teaspoon|tablespoon|sachet|packet|spoon(?:ful)?|fist)(?:es|s)?\b",
    re.IGNORECASE,
)
_DEGREES = re.compile(r"(?<=\bat )(?P<n>[0-9]{2})\s*(?:°|º|degrees?|deg)(?!\s*[cf]\b)", re.IGNORECASE)
_FRONT = re.compile(r"^[\s,;:/|+&•·–—-]+|[\s,;:/|+&•·–—-]+$")
_UNITS_ONLY = re.compile(r"[0-9][0-9.,/]*\s*(?:g|gr|gm|grams?|kg|ml|oz|cups?|tsp|tbsp)\b", re.IGNORECASE)
_SAME_UNIT = re.compile(
    r"(?P<lead>\b(?:and|plus|then|,)\s+(?:about\s+|around\s+|another\s+)?|(?<=[a-z])\s(?=[0-9]{2}))(?P<n>[0-9]{1,4})\s+of\s+(?!them|these|those|it\b)",
    re.IGNORECASE,
)
_IN_GRAMS = re.compile(r"[0-9]\s*(?:g|gr|gm|grams?)\b", re.IGNORECASE)
_NAME = re.compile(r"[^\W\d_]{3,}")
MOST_PIECES = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class At:
    """An amount and where it stands in a text."""

    start: int
    end: int
    amount: Amount


@lru_cache(maxsize=256)  # one line is asked of by half a dozen readers in turn
def amounts_at(text: str, units: UnitTable) -> tuple[At, ...]:
    """Give the amounts of a text outside its brackets, in their order; times, heats and lengths are none."""
    open_text = _BRACKET.sub(lambda m: " " * len(m.group()), text)
    found: list[At] = []
    end = 0
    for place in _STARTS.finditer(open_text):
        start = place.start()
        if start < end or _NO_AMOUNT.match(open_text, start):
            continue
        try:
            number, amount = number_at(open_text, start), amount_at(open_text, start, units)
        except LineFault:
            continue
        if number is None or amount is None or amount.parts[0].percent:
            continue
        bare = amount.parts[0].unit is None and not amount.parts[0].container
        if (
            number.word
            and bare
            and not re.match(r"\s+(?:large|medium|small|extra|eggs?|whole)\b", open_text[amount.end :], re.I)
        ):
            continue
        found.append(At(start=start, end=amount.end, amount=amount))
        end = amount.end
    return tuple(found)


def ways_apart(text: str, units: UnitTable) -> tuple[tuple[str, ...], ...]:
    """Give the ways to take a text apart into pieces of one ingredient each, the likeliest first."""
    text = in_one_unit(text)
    amounts = amounts_at(text, units)
    if not 2 <= len(amounts) <= MOST_PIECES:
        return ()
    ways = []
    if separated := _by_separators(text, units):
        ways.append(separated)
    front = text[: amounts[0].start]
    if not _NAME.search(_trimmed(front)):
        starts = [a.start for a in amounts]
        ends = [*starts[1:], len(text)]
        ways.append(tuple(_trimmed(text[s:e]) for s, e in zip(starts, ends, strict=True)))
    if _NAME.search(front):
        begins = [0, *(a.end for a in amounts[:-1])]
        last = len(amounts) - 1
        ways.append(
            tuple(
                _trimmed(text[b : a.end if i < last else len(text)])
                for i, (b, a) in enumerate(zip(begins, amounts, strict=True))
            )
        )
    return tuple(dict.fromkeys(way for way in ways if len(way) > 1 and all(_NAME.search(p) for p in way)))


def tells_to_do(text: str) -> bool:
    """Tell whether a text says what to do with amounts, as a step does that names them once more."""
    return _TOLD_TO_DO.match(text) is not None


def is_loose(piece: str) -> bool:
    """Tell whether a piece of a list names something without weight: "salt to taste", "plenty for the tray"."""
    return bool(_LOOSE.search(piece) or _HAND.match(piece)) and not any(c.isdigit() for c in piece)


def around(text: str, units: UnitTable) -> tuple[str, ...]:
    """Give the readings of a line with its amount in the middle: "yeast 4 g instant", "milk 160 g warmish"."""
    amounts = amounts_at(text, units)
    if len(amounts) != 1 or len(text.split()) > 7:
        return ()
    (at,) = amounts
    front, behind = _trimmed(text[: at.start]), _trimmed(text[at.end :])
    if not _NAME.search(front) or not behind or any(c.isdigit() for c in front + behind):
        return ()
    amount = text[at.start : at.end]
    return (f"{amount} {behind} {front}", f"{amount} {front}, {behind}")


def in_one_unit(text: str) -> str:
    """Give "50 of oat fibre" the grams of the amount before it, and "at 30 degrees" its C."""
    text = _DEGREES.sub(r"\g<n> C", text)
    return _SAME_UNIT.sub(r"\g<lead>\g<n> g ", text) if _IN_GRAMS.search(text) else text


def _trimmed(piece: str) -> str:
    found = _ENDS.sub("", piece.strip()).strip()
    return found if _NAME.search(_UNITS_ONLY.sub("", found)) else _FRONT.sub("", piece.strip()).strip()


def _by_separators(text: str, units: UnitTable) -> tuple[str, ...]:
    """Part a text at its separators; a piece without an amount belongs to the one before it."""
    held = _BRACKET.sub(lambda m: "\x00" * len(m.group()), text)
    pieces: list[tuple[int, int]] = []
    start = 0
    for at in [*_SEPARATOR.finditer(held), None]:
        end = at.start() if at else len(text)
        if text[start:end].strip():
            within = amounts_at(text[start:end], units)
            named = bool(_NAME.search(_without(text[start:end], within)))
            loose = not within and (_LOOSE.search(text[start:end]) or _HAND.match(text[start:end]))
            if pieces and not (within and named) and not loose:
                pieces[-1] = (pieces[-1][0], end)
            else:
                pieces.append((start, end))
        start = at.end() if at else end
    found: list[str] = []
    for begin, end in pieces:
        piece = _trimmed(text[begin:end])
        inner = (
            ways_apart(piece, units) if len(amounts_at(piece, units)) > 1 and piece != _trimmed(text) else ()
        )
        found += inner[0] if inner else (piece,)
    return tuple(found)


def _without(piece: str, amounts: tuple[At, ...]) -> str:
    for at in reversed(amounts):
        piece = piece[: at.start] + " " + piece[at.end :]
    return piece


def one_amount_of(text: str, units: UnitTable) -> tuple[str, str] | None:
    """Give a line that weighs one ingredient twice with its best amount alone, and what was left aside.

    "almond flour 2 cups 224 g" is weighed: grams say more than cups, and a percentage says it only with its base.
    """
    amounts = list(amounts_at(text, units))
    share = re.search(r"(?<![\w.,])[0-9]+(?:[.,][0-9]+)?\s?%(?=\s*$|\s*[,;)]|\s*=?\s*[0-9])", text)
    if share and len(amounts) == 1 and amounts[0].amount.parts[0].weighs:
        return f"{text[: share.start()]}{text[share.end() :].lstrip(' =')}".strip(" ,;/"), share.group()
    if len(amounts) != 2:
        return None
    one, two = amounts
    weighed = [a for a in amounts if a.amount.parts[0].weighs]
    if len(weighed) != 1:
        return None
    other = two if weighed[0] is one else one
    between = _trimmed(text[one.end : two.start])
    if _JOINED.search(text[one.end : two.start]):
        return None  # "200 g water plus 1 tbsp" is the sum
    names = [n for n in (_trimmed(text[: one.start]), between, _trimmed(text[two.end :])) if _NAME.search(n)]
    if len(names) != 1 and not (len(names) == 2 and names[0].lower() == names[1].lower()):
        return None
    best = text[weighed[0].start : weighed[0].end]
    return f"{best} {names[0]}", text[other.start : other.end].strip()
