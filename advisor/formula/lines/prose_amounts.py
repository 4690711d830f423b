"""Finds the amounts of ingredients inside prose, dictated text and notes: an amount, and the known name beside it."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from advisor.formula.faults import LineFault
from advisor.formula.lines.amounts import number_at
from advisor.formula.lines.matching import Match, NameIndex
from advisor.formula.lines.prose_words import goes_on
from advisor.formula.lines.quantities import Amount, Part
from advisor.formula.lines.running import At, amounts_at
from advisor.formula.lines.states import only_states, state_spans
from advisor.formula.lines.units import UnitTable
from advisor.formula.spelling import word_set, words_of

_WORD = re.compile(r"[^\W\d_][\w'’&]*(?:-[\w'’]+)*\.?")
_FILLER = word_set(
    """
    of the that this some my our your really nice good very quite proper about around roughly um uh er like
    nearly just maybe and a is was are it its so use used take have little bit more
    """
)
_ENDS_NAME = word_set(
    """
    or plus then with in into for to at on until till when while that which i we you they he she it but so
    if as because by over under from is was are were be then now also next after before not no
    """
)
_CORRECTED = re.compile(
    r"\b(?:no\s+)?(?:hang\s+on|wait|sorry|i\s+mean|i\s+meant|make\s+that|actually|correction|scratch\s+that|rather)\b",
    re.IGNORECASE,
)
_NAME_THEN = re.compile(
    r"^[\s:;,=–—-]*(?:(?:um|uh|er|about|say|only|just|around|roughly|like|is|was|it\s+was|\w+ly)[\s,:]*)*$",
    re.I,
)
_BRACKET = re.compile(r"\s*\([^()]*\)")
_ONE_OF = re.compile(
    r"(?<![\w.½¼¾⅓⅔⅛/])(?<![0-9]\s)(?P<unit>pinch|handful|splash|knob|glug|dash|drizzle|squeeze|dollop|blob|spoon|spoonful|tsp|teaspoon|"
    r"tbsp|tablespoon|sachet|packet|scoop|cup|dessertspoon)\b\.?(?=\s+[^\W\d])",
    re.IGNORECASE,
)
"""A measure without a number in front of it is one."""
_SAID_BETWEEN = frozenset(
    ["about", "only", "just", "um", "uh", "er", "say", "is", "was", "around", "roughly", "like"]
)
_POINTED = re.compile(r"[.,;:!?](?:\s|$)")
"""Points of a text that was written; dictated text has none."""
_LONGEST_NAME = 6
_LONGEST_KIND = 3
_SHORT_END = 24
_MOST_SKIPPED = 3
_MOST_PIECES, _MOST_CUPS = 60, 30
_NO_INGREDIENT = re.compile(
    r"^[\s\w]{0,16}?\b(?:tins?|pans?|loaf|loaves|dough|balls?|rolls?|buns?|pieces?|each|tray|minutes?|hours?|batter|"
    r"weight|slices?|sheets?|bags?|degrees?|oven|mark|thick|deep|wide|long|high|tall|across|speed|lots?|bowls?|basins?|jars?|mugs?|of\s+it|goes?|times?|total|more|less)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """An amount and the name beside it: where they stand, and a line that says the same ("150 g vital gluten")."""

    start: int
    end: int
    line: str
    match: Match | None
    at: tuple[int, int] = (0, 0)
    """Where the amount itself stands."""
    corrects: bool = False
    """Whether the words before it take the amount before back: "two teaspoons, no, one tablespoon"."""

    @property
    def known(self) -> bool:
        """Tell whether the name is one that is known."""
        return self.match is not None


def pairs_in(text: str, units: UnitTable, names: NameIndex) -> tuple[Pair, ...]:
    """Give the amounts of ingredients in a text, in their order; one by weight of nothing known has no match.

    A name stands behind its amount ("two cups of the fine almond flour"), or, where the text begins with a name and
    ends in an amount, before it ("water 280ml").
    """
    amounts = [a for a in amounts_at(text, units) if not _is_process(a)]
    amounts = sorted([*amounts, *_ones_in(text, amounts, units)], key=lambda at: at.start)
    if not amounts:
        return ()
    names_first = bool(text[: amounts[0].start].strip()) and len(text[amounts[-1].end :].strip()) < _SHORT_END
    behind = _behind(text, amounts, names, spoken=not names_first and not _POINTED.search(text))
    before = _before(text, amounts, names)
    found = before if names_first and _score(before) > _score(behind) else behind
    return tuple(found)


def _ones_in(text: str, amounts: list[At], units: UnitTable) -> list[At]:
    found = []
    for one in _ONE_OF.finditer(text):
        unit = units.unit_at(text, one.start())
        if unit is None or any(a.start <= one.start() < a.end for a in amounts):
            continue
        part = Part(text=one["unit"], value=1.0, unit=unit[0])
        found.append(At(start=one.start(), end=one.end(), amount=Amount(parts=(part,), end=one.end())))
    return found


def _written(text: str, at: At) -> str:
    written = text[at.start : at.end]
    return written if not written[:1].isalpha() or number_at(f"{written} ") else f"1 {written}"


def _is_process(at: At) -> bool:
    part = at.amount.parts[0]
    if part.unit is None:
        return not part.container and part.value > _MOST_PIECES
    return part.unit.id == "cup" and part.value > _MOST_CUPS  # 180 C


def _score(pairs: list[Pair]) -> int:
    return sum(pair.known for pair in pairs)


def _matched(words: list[str], names: NameIndex, *, mend: bool, alternative: bool = False) -> Match | None:
    name = " ".join(words)
    if all(word.lower() in _FILLER for word in words):
        return None
    try:
        if match := names.match(name):
            return match
        if " of " in name and (turned := names.match(" ".join(reversed(name.split(" of ", 1))))):
            return turned
        mended = names.match_mended(name, measured=True) if mend else None
    except LineFault:
        return None
    if mended is None and mend and 2 <= len(words) <= _LONGEST_KIND:
        return names.match_by_kind(name) if not alternative else None
    return mended[0] if mended else None


def _fits(at: At, match: Match) -> bool:
    part = at.amount.parts[0]
    return part.unit is not None or bool(part.container) or _counted(match)


def _counted(match: Match) -> bool:
    return bool(match.ingredient.countable) or "piece" in match.ingredient.weights


def _behind(text: str, amounts: list[At], names: NameIndex, *, spoken: bool) -> list[Pair]:
    found: list[Pair] = []
    for place, at in enumerate(amounts):
        to = amounts[place + 1].start if place + 1 < len(amounts) else len(text)
        held = _BRACKET.match(text, at.end)  # "1 pkg (8 g) dried yeast"
        begin = held.end() if held else at.end
        stop = re.search(r"(?<!\b\w)\.(?=\s|$)|[;:!?/](?=\s|$)|[()\[\]]", text[begin:to])
        tokens = list(_WORD.finditer(text, begin, begin + stop.start() if stop else to))[:10]
        tokens = [t for t in tokens if "," not in text[begin : t.start()]] or tokens[:0]
        pair = _nearest_name(text, at, tokens, names, spoken=spoken or text[at.start].isalpha())
        start = found[-1].end if found else 0
        corrects = bool(found) and bool(_CORRECTED.search(text[start : at.start]))
        if pair is not None:
            found.append(replace(pair, corrects=corrects))
        elif not tokens and found and found[-1].known and _says_weight(text, found[-1], at):
            name = found[-1].line.split(" ", 1)[-1]
            of = re.search(r"\bof\b\s*(.*)", name)
            plain = of[1] if of else name
            found[-1] = replace(found[-1], end=at.end, line=f"{_written(text, at)} {plain}")
        elif corrects and found[-1].known and at.amount.parts[0].unit is not None:
            name = " ".join(words_of(found[-1].line.split(" ", 2)[-1]))
            line = f"{_written(text, at)} {name}"
            found.append(
                Pair(
                    start=at.start,
                    end=at.end,
                    line=line,
                    match=found[-1].match,
                    at=(at.start, at.end),
                    corrects=True,
                )
            )
        elif not tokens and (ahead := _name_before(text, start, at, names)):
            found.append(ahead)
        elif tokens and _is_unknown(text[at.end : to], at, tokens[0].group()):
            end = tokens[min(2, len(tokens) - 1)].end()
            spot = (at.start, at.end)
            found.append(Pair(start=at.start, end=end, line=text[at.start : end], match=None, at=spot))
    return found


def _is_unknown(behind: str, at: At, word: str) -> bool:
    """Tell whether an amount by weight or volume is of something that can only be an ingredient nobody knows."""
    unit = at.amount.parts[0].unit
    if unit is None or unit.guess or not (unit.grams or unit.millilitres):
        return False
    return not _NO_INGREDIENT.match(behind) and _is_noun(word)


def _says_weight(text: str, before: Pair, at: At) -> bool:
    """Tell whether an amount weighs what stands before it: "a tub of cottage cheese, three hundred grams"."""
    between = text[before.end : at.start]
    return (
        at.amount.parts[0].weighs
        and re.fullmatch(r"\s*[,(=]\s*(?:about\s+|that'?s\s+)?", between) is not None
    )


def _is_noun(word: str) -> bool:
    plain = word.lower().strip(".")
    return plain not in _FILLER | _ENDS_NAME or plain == "of"


def _nearest_name(
    text: str, at: At, tokens: list[re.Match[str]], names: NameIndex, *, spoken: bool
) -> Pair | None:
    for skip in range(min(_MOST_SKIPPED, len(tokens)) + 1):
        gone = [t.group().lower() for t in tokens[:skip]]
        if tokens and tokens[0].group().lower() == "each":
            break  # "100 g each"
        if gone and not all(g in _FILLER or only_states(words_of(g)) for g in gone):
            break
        rest = tokens[skip : skip + _LONGEST_NAME]
        for count in range(len(rest), 0, -1):
            words = [t.group() for t in rest[:count]]
            if words[-1].lower() in _ENDS_NAME or words[0].lower() in _ENDS_NAME:
                continue
            mend = skip == 0 and at.amount.parts[0].unit is not None and count <= 3
            behind = text[rest[count - 1].end() :]
            match = _matched(words, names, mend=mend, alternative=behind.startswith(" or "))
            if match is None or not _fits(at, match):
                continue
            dictated = spoken and rest[count - 1] is tokens[-1]  # the next amount follows at once
            if not dictated and not goes_on(behind):
                continue  # "cream chz" is no cream
            end = rest[count - 1].end() - (1 if words[-1].endswith(".") else 0)
            states = " ".join(g for g in gone if state_spans(words_of(g)))
            bracket = _BRACKET.match(text, end)
            inside = bracket.group() if bracket else ""
            held = _BRACKET.match(text, at.end)
            inside = f"{held.group() if held else ''}{inside}"
            line = f"{_written(text, at)} {states} {' '.join(words).rstrip('.')}{inside}"
            end = bracket.end() if bracket else end
            return Pair(
                start=at.start, end=end, line=" ".join(line.split()), match=match, at=(at.start, at.end)
            )
    return None


def _before(text: str, amounts: list[At], names: NameIndex) -> list[Pair]:
    found: list[Pair] = []
    begin = 0
    for at in amounts:
        if pair := _name_before(text, begin, at, names):
            found.append(pair)
        begin = at.end
    return found


def _name_before(text: str, begin: int, at: At, names: NameIndex) -> Pair | None:
    """Give the name that stands right before an amount: "water 280ml", "baking powder, um, a tablespoon"."""
    if _NO_INGREDIENT.match(text[at.end :]):
        return None  # "half wholemeal, 2 lb tin"
    front = text[begin : at.start]
    tokens = list(_WORD.finditer(front))
    if not tokens or not _NAME_THEN.match(front[tokens[-1].end() :]):
        return None
    while tokens and tokens[-1].group().lower() in _SAID_BETWEEN:
        tokens.pop()
    for count in range(min(_LONGEST_NAME, len(tokens)), 0, -1):
        words = [t.group() for t in tokens[-count:]]
        match = _matched(words, names, mend=at.amount.parts[0].unit is not None)
        if match is not None and _fits(at, match):
            line = f"{_written(text, at)} {' '.join(words)}"
            return Pair(
                start=begin + tokens[-count].start(),
                end=at.end,
                line=line,
                match=match,
                at=(at.start, at.end),
            )
    return None
