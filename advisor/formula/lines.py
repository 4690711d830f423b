"""The grammar of one ingredient line: which part is the amount, which the name, which a note."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from advisor.formula.amounts import number_at
from advisor.formula.faults import LineFault, shown
from advisor.formula.spelling import words_of
from advisor.formula.states import SIZES
from advisor.formula.units import CONTAINERS, UnitTable
from advisor.knowledge_base.measured import Unit

_SPACE = re.compile(r"[\s]*")
_TIMES = re.compile(r"\s*[x×]\s*(?=[0-9.])|\s*[x×](?=\s)")
_AND_MORE = re.compile(r"\s*(?:\+|\bplus\b|\band\b)\s*", re.IGNORECASE)
_UP_TO = re.compile(r"\s*(?:[-–—]|\bto\b)\s*", re.IGNORECASE)
_WORD = re.compile(r"[^\W\d_]+")
_OF = re.compile(r"\s*(?:\bof\b\s*(?:\bthe\b\s*)?)?", re.IGNORECASE)
_BRACKET = re.compile(r"\(([^()]*)\)")
_AMOUNT_START = re.compile(
    r"(?:(?<=[\s:=–—\-×x])|^)(?=[~≈.0-9¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])|\b(?=half\b|an?\s)", re.IGNORECASE
)
_NEGATIVE = re.compile(r"[-−–]\s?(?=[0-9.¼½¾])")
_NEGATIVE_BEHIND = re.compile(r"\s[-−](?=[0-9])")
_EACH = re.compile(r"\s*\b(?P<word>each|a piece|apiece|in total|total|altogether|net)\b\.?\s*", re.IGNORECASE)
_LOOSE = " \t:;=–—-,."
_TIMES_BEHIND = re.compile(r"\s[x×]\s*$")


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One term of an amount; a number without unit counts pieces or grams, and `percent` is of the base."""

    text: str
    value: float
    unit: Unit | None = None
    percent: bool = False
    container: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """A whole amount: its terms, added up, and what was assumed to read it."""

    parts: tuple[Part, ...]
    end: int
    said: tuple[str, ...] = ()
    word: bool = False

    @property
    def bare(self) -> bool:
        """Tell whether it is a number alone."""
        (first, *more) = self.parts
        return not more and first.unit is None and not first.percent and not first.container


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """An ingredient line taken apart."""

    amount: Amount
    name: str
    notes: tuple[str, ...] = ()
    bracket: Amount | None = None
    each: bool = False
    implied_one: bool = False


def amount_at(text: str, start: int, units: UnitTable) -> Amount | None:
    """Read an amount that begins at `start`, as far as it goes: "1 tbsp + 1 tsp", "2 x 7 g", "90 g to 99 g".

    Raises:
        LineFault: an amount of nothing, or one that cannot be read in one way.
    """
    first = _term_at(text, start, units)
    if first is None:
        return None
    parts, said, at, word = list(first.parts), list(first.said), first.end, first.word
    if (times := _TIMES.match(text, at)) and parts[0].unit is None and not parts[0].percent:
        if product := _term_at(text, times.end(), units):
            if product.parts[0].unit is not None:
                value = parts[0].value * product.parts[0].value
                parts = [replace(product.parts[0], value=value, text=text[start : product.end])]
                at = product.end
        else:
            at = times.end()
    if (more := _UP_TO.match(text, at)) and parts[0].unit is not None:
        upper = _term_at(text, more.end(), units)
        if upper is not None and upper.parts[0].unit is parts[0].unit:
            if upper.parts[0].value <= parts[0].value:
                piece = text[start : upper.end]
                raise LineFault(
                    piece, f"the range '{shown(piece)}' does not rise", "write the smaller amount first"
                )
            middle = (parts[0].value + upper.parts[0].value) / 2
            said.append(f"'{text[start : upper.end]}' is taken at its middle, {middle:g}")
            parts = [replace(parts[0], value=middle, text=text[start : upper.end])]
            at = upper.end
    while (unit := parts[-1].unit) is not None:
        more = _AND_MORE.match(text, at)
        term = _term_at(text, more.end() if more else _skip(text, at), units)
        if term is None or (smaller := term.parts[0].unit) is None:
            break
        if not more and not (smaller.grams and unit.grams and smaller.grams < unit.grams):  # 1 lb 4 oz
            break
        parts += term.parts
        said += term.said
        at = term.end
    return Amount(parts=tuple(parts), end=at, said=tuple(said), word=word)


def _term_at(text: str, start: int, units: UnitTable) -> Amount | None:
    number = number_at(text, start)
    if number is None:
        return None
    at = _skip(text, number.end)
    written = text[start : number.end]
    percent = text.startswith("%", at)
    if number.value <= 0 and not percent:  # "0 % yoghurt 200 g" is a name with a percentage in it
        raise LineFault(
            written, f"an amount of {shown(written)} is no amount", "leave the line out, or write more"
        )
    if percent:
        part = Part(text=text[start : at + 1], value=number.value, percent=True)
        return Amount(parts=(part,), end=at + 1, said=number.said, word=number.word)
    found = units.unit_at(text, at) or (units.unit_at(text, at + 1) if text.startswith("-", at) else None)
    if found is not None:
        unit, end = found
        part = Part(text=text[start:end].strip(), value=number.value, unit=unit)
        return Amount(parts=(part,), end=end, said=number.said, word=number.word)
    end, container = number.end, ""
    if (word := _WORD.match(text, at)) and word.group().lower() in CONTAINERS:
        end, container = word.end(), word.group()
    part = Part(text=text[start:end].strip(), value=number.value, container=container)
    return Amount(parts=(part,), end=end, said=number.said, word=number.word)


def _skip(text: str, at: int) -> int:
    found = _SPACE.match(text, at)
    return found.end() if found else at


def has_amount(text: str, units: UnitTable) -> bool:
    """Tell whether a line has an amount before or after its name, or is itself at fault as an amount."""
    try:
        return split_line(text, units) is not None
    except LineFault:
        return True


def split_line(text: str, units: UnitTable) -> Written | None:
    """Take an ingredient line apart; `None` where it holds no amount.

    Raises:
        LineFault: an amount that is negative, nothing, or unclear.
    """
    if found := _NEGATIVE.match(text):
        piece = text[found.start() : found.end() + 4].split(" ")[0]
        raise LineFault(piece, f"'{shown(text[:20])}' is below zero", "write how much goes in, above 0")
    brackets = _BRACKET.findall(text)
    bare = _BRACKET.sub(" ", text) if brackets else text
    if "(" in bare or ")" in bare:
        raise LineFault(
            "(" if "(" in bare else ")", "a bracket is open or closed alone", "write both brackets"
        )
    head, *notes = (piece.strip() for piece in bare.split(","))
    measured, each, remarks = _bracket_amount(brackets, units)
    notes = [n for n in (*notes, *remarks) if n]
    for amount, name, rest in _readings(head, notes, units):
        name = name.strip(_LOOSE)
        if name:
            per_piece = each or (measured is not None and _weight_is_per_piece(text))
            return Written(amount=amount, name=name, notes=tuple(rest), bracket=measured, each=per_piece)
    if found := _NEGATIVE_BEHIND.search(head):
        piece = head[found.start() :].strip()
        raise LineFault(piece, f"'{shown(piece)}' can be a dash or a minus", "write the amount without it")
    if (first := units.unit_at(head, 0)) and first[1] >= 3 and (rest_of := head[first[1] :].strip()):
        part = Part(text=head[: first[1]], value=1.0, unit=first[0])
        name = rest_of[_end_of_of(rest_of) :].strip(_LOOSE)
        if name:
            amount = Amount(parts=(part,), end=first[1])
            return Written(
                amount=amount, name=name, notes=tuple(notes), bracket=measured, each=each, implied_one=True
            )
    if measured is not None and head:
        return Written(amount=measured, name=head.strip(_LOOSE), notes=tuple(notes))
    return None


def _end_of_of(text: str) -> int:
    found = _OF.match(text)
    return found.end() if found else 0


def _readings(head: str, notes: list[str], units: UnitTable) -> Iterator[tuple[Amount, str, list[str]]]:
    """Give the ways to read head and notes, in the order in which they are believed."""
    leading = amount_at(head, 0, units)
    if leading is not None and leading.parts[0].percent and (behind := _trailing(head, units)):
        yield (*behind, notes)
    if leading is not None and _word_fits(leading):
        rest = head[leading.end :]
        glued = rest[:1].isalpha() and head[leading.end - 1 : leading.end].isdigit()
        if glued:
            word = rest.split()[0]
            raise LineFault(
                word,
                f"'{shown(word)}' after the number is no unit that is known",
                "write g, kg, oz, lb, ml, cup, tbsp or tsp, and a space before the name",
            )
        yield leading, rest[_end_of_of(rest) :], notes
    elif behind := _trailing(head, units):
        yield (*behind, notes)
    for index, note in enumerate(notes):
        others = notes[:index] + notes[index + 1 :]
        if (alone := amount_at(note, 0, units)) and not note[alone.end :].strip(" ."):
            yield alone, head, others
        elif behind := _trailing(note, units):  # "flaxseed, ground 40 g"
            yield behind[0], head, [*others, behind[1].strip(_LOOSE)]


def has_second_amount(name: str, units: UnitTable) -> bool:
    """Tell whether what should be a name ends in another amount: "12 g water 13 g"."""
    return _trailing(name, units) is not None


def _word_fits(amount: Amount) -> bool:
    # "half and half" begins with a number word that is none: half, a and an want a unit behind them.
    part = amount.parts[0]
    return (
        not amount.word or part.unit is not None or bool(part.container) or part.value >= 2 or part.value == 1
    )


def _trailing(head: str, units: UnitTable) -> tuple[Amount, str] | None:
    for place in _AMOUNT_START.finditer(head, 1):
        at = place.start()
        found = amount_at(head, at, units)
        if found is None:
            continue
        behind = head[found.end :].strip(" .")
        if not behind or words_of(behind) in SIZES:  # "eggs 6 large"
            if _NEGATIVE_BEHIND.search(head, max(at - 2, 0), at + 1):
                return None
            return found, f"{behind} {_TIMES_BEHIND.sub('', head[:at])}"
    return None


def _bracket_amount(brackets: list[str], units: UnitTable) -> tuple[Amount | None, bool, list[str]]:
    measured, each, remarks = None, False, []
    for inside in brackets:
        plain, per_piece = inside.strip(" =:"), False
        if found := _EACH.search(plain):
            per_piece = found["word"].lower() in ("each", "a piece", "apiece")
            plain = (plain[: found.start()] + " " + plain[found.end() :]).strip()
        amount = amount_at(plain, 0, units)
        whole = (
            amount is not None and not plain[amount.end :].strip(" .") and amount.parts[0].unit is not None
        )
        if whole and measured is None:
            measured, each = amount, per_piece
        elif inside.strip():
            remarks.append(inside.strip())
    return measured, each, remarks


def _weight_is_per_piece(text: str) -> bool:
    """Tell "2 (8 oz) packages", where each weighs that, from "2 packages (16 oz)", where all do."""
    number = number_at(text)
    return number is not None and text[number.end :].lstrip().startswith("(")
