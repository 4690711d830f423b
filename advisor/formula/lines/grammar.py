"""The grammar of one ingredient line: which part is the amount, which the name, which a note."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from advisor.formula.faults import LineFault, shown
from advisor.formula.lines.amounts import number_at
from advisor.formula.lines.quantities import Amount, Part, amount_at, filled_in_front
from advisor.formula.lines.states import SIZES, only_states
from advisor.formula.lines.units import UnitTable
from advisor.formula.spelling import words_of

_OF = re.compile(r"\s*(?:\bof\b\s*(?:\bthe\b\s*)?)?", re.IGNORECASE)
_BRACKET = re.compile(r"\(([^()]*)\)")
_AMOUNT_START = re.compile(
    r"(?:(?<=[\s:=–—\-×x])|^)(?=[~≈.0-9¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])|\b(?=half\b|an?\s)", re.IGNORECASE
)
_NEGATIVE = re.compile(r"[-−–]\s?(?=[0-9.¼½¾])")
_NEGATIVE_BEHIND = re.compile(r"\s[-−](?=[0-9])")
_EACH = re.compile(r"\s*\b(?P<word>each|a piece|apiece|in total|total|altogether|net)\b\.?\s*", re.IGNORECASE)
_NOTE_THEN_AMOUNT = re.compile(r"[,;]\s+(?=(?:about\s+|approx\.?\s+|~)?[0-9½¼¾⅓⅔⅛])", re.IGNORECASE)
_HOW_WEIGHED = re.compile(
    r"(?:on|by|without|when|after|before|if|or\s+so|approx|weighed|drained|packed|once|ish|shelled|peeled|net|total|raw|liquid|beaten|weight|wt|of\s+it|about|as|with(?:out)?\s+shells?|my|in\s+my)\b"
    r"[^0-9]*$",
    re.IGNORECASE,
)
"""Words behind a weight in brackets that only tell how it was weighed: "225 g on my scales"."""
_IN_TOTAL = re.compile(r"\b(?:in total|total|altogether)\b", re.IGNORECASE)
_AND_SAME = re.compile(r"\s*[,;]\s+(?=[~≈0-9])")
_UNIT_THEN_NUMBER = re.compile(
    r"(?<![\w.])(?P<unit>[^\W\d]{1,12}\.?)(?P<space>\s*)(?P<number>[0-9][0-9./]*|[½¼¾⅓⅔⅛])(?![\w%])",
    re.IGNORECASE,
)
_LOOSE = " \t:;=–—-,."
_TIMES_BEHIND = re.compile(r"\s[x×]\s*$")


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """An ingredient line taken apart."""

    amount: Amount
    name: str
    notes: tuple[str, ...] = ()
    bracket: Amount | None = None
    each: bool = False
    in_total: bool = False
    in_brackets: tuple[str, ...] = ()
    """Those of the notes that stood in brackets: "milk protein (casein)"."""
    implied_one: bool = False


def has_amount(text: str, units: UnitTable) -> bool:
    """Tell whether a line has an amount before or after its name, or is itself at fault as an amount."""
    try:
        return split_line(text, units) is not None
    except LineFault:
        return any(c.isdigit() for c in text)


_HEAT = re.compile(r"@?\s*[0-9]+\s*°?\s*[CF]\b", re.IGNORECASE)


def names_nothing(text: str, units: UnitTable) -> bool:
    """Tell whether a text is an amount without a name: "1 tbsp", "1 tbsp extra"."""
    found = amount_at(text, 0, units)
    return found is not None and only_states(words_of(_HEAT.sub(" ", text[found.end :])))


_HEDGE = re.compile(
    r"\s*,?\s+(?:(?:less|minus|plus|and|with)\s+)?a\s+(?:bit|little|touch)(?:\s+(?:less|more|over|under|extra))?\s*(?=\()",
    re.IGNORECASE,
)
"""What is said of a spoon or cup whose weight stands behind it: "2 cups less a bit (250 g)"."""


_EQUALS = re.compile(
    r"(?P<front>[^=%]*[0-9½¼¾⅓⅔][^=%]*?)\s*=\s*(?:about\s+|ca\.?\s+|~\s*)?(?P<weighs>[0-9]+(?:\.[0-9]+)?)\s*(?:g|gr|gm|grams?)?\.?\s*",
    re.IGNORECASE,
)
"""What an amount weighs, behind it: "egg 1 lg = 52", "3 tbsp oil = 40 g"."""


def split_line(text: str, units: UnitTable) -> Written | None:
    """Take an ingredient line apart; `None` where it holds no amount.

    Raises:
        LineFault: an amount that is negative, nothing, or unclear.
    """
    if found := _NEGATIVE.match(text):
        piece = text[found.start() : found.end() + 4].split(" ")[0]
        raise LineFault(piece, f"'{shown(text[:20])}' is below zero", "write how much goes in, above 0")
    text = _HEDGE.sub(" ", text)
    if "=" in text and (found := _EQUALS.fullmatch(text)):
        text = f"{found['front']} ({found['weighs']} g)"
    brackets = _BRACKET.findall(text)
    bare = _BRACKET.sub(" ", text) if brackets else text
    if "(" in bare or ")" in bare:
        raise LineFault(
            "(" if "(" in bare else ")", "a bracket is open or closed alone", "write both brackets"
        )
    head, *notes = (piece.strip() for piece in bare.split(","))
    said: tuple[str, ...] = ()
    if filled := filled_in_front(head, units):
        head, said = head[filled[0] :], (filled[1],)
    measured, each, remarks = _bracket_amount(brackets, units)
    notes = [n for n in (*notes, *remarks) if n]
    for amount, name, rest in _readings(head, notes, units):
        if measured is None and amount.parts[0].unit is None:
            measured, rest = _weight_in_notes(rest, units)  # "1 courgette, 200 g"
        name = name.strip(_LOOSE)
        if name:
            per_piece = each or (measured is not None and _weight_is_per_piece(text))
            kept = tuple(n for n in rest if n != f"{amount.parts[0].value:g}")  # "Two (2) eggs"
            amount = replace(amount, said=(*said, *amount.said)) if said else amount
            return Written(
                amount=amount, name=name, notes=kept, bracket=measured, each=per_piece,
                in_total=measured is not None and bool(_IN_TOTAL.search(text)), in_brackets=tuple(remarks),
            )  # fmt: skip
    if found := _NEGATIVE_BEHIND.search(head):
        piece = head[found.start() :].strip()
        raise LineFault(piece, f"'{shown(piece)}' can be a dash or a minus", "write the amount without it")
    if (first := units.unit_at(head, 0)) and first[1] >= 3 and (rest_of := head[first[1] :].strip()):
        part = Part(text=head[: first[1]], value=1.0, unit=first[0])
        name = rest_of[_end_of_of(rest_of) :].strip(_LOOSE)
        if name:
            amount = Amount(parts=(part,), end=first[1], said=said)
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
        if alone := amount_at(note, 0, units):
            behind_it = note[alone.end :].strip(" .")
            if not behind_it:
                yield alone, head, others
            elif words_of(behind_it) in SIZES:  # "eggs, 6 large"
                yield alone, f"{behind_it} {head}", others
        if behind := _trailing(note, units):  # "flaxseed, ground 40 g"
            yield behind[0], head, [*others, behind[1].strip(_LOOSE)]


def has_second_amount(name: str, units: UnitTable) -> bool:
    """Tell whether what should be a name ends in another amount: "12 g water 13 g"."""
    return _trailing(name, units) is not None


def _word_fits(amount: Amount) -> bool:
    # "half and half" begins with a number word that is none: half, a and an want a unit behind them.
    part = amount.parts[0]
    alone = part.text.lower() in ("half", "quarter", "three quarters")
    return not amount.word or part.unit is not None or bool(part.container) or not alone


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


def _apart(inside: str) -> list[str]:
    """Part "room temperature, about 250 g", where an amount stands behind words; not "480 ml, 16 oz"."""
    pieces = _NOTE_THEN_AMOUNT.split(inside)
    return [piece.strip() for piece in pieces] if not inside.strip()[:1].isdigit() else [inside]


def _bracket_amount(brackets: list[str], units: UnitTable) -> tuple[Amount | None, bool, list[str]]:
    measured, each, remarks = None, False, []
    pieces = [piece for inside in brackets for piece in _apart(inside)]
    for inside in pieces:
        plain, per_piece = inside.strip(" =:"), False
        if found := _EACH.search(plain):
            per_piece = found["word"].lower() in ("each", "a piece", "apiece")
            plain = (plain[: found.start()] + " " + plain[found.end() :]).strip()
        amount = amount_at(_AND_SAME.sub(" / ", plain), 0, units)
        plain = _AND_SAME.sub(" / ", plain) if amount is not None else plain
        behind = plain[amount.end :].strip(" .") if amount is not None else ""
        whole = (
            amount is not None
            and (not behind or (_tells_how(behind) and amount.parts[0].weighs))
            and amount.parts[0].unit is not None
        )
        if whole and measured is None:
            measured, each = amount, per_piece
        elif inside.strip():
            remarks.append(inside.strip())
    return measured, each, remarks


def _tells_how(behind: str) -> bool:
    """Tell whether words behind a weight in brackets are no other amount: "on my scales", ", sold as vital gluten"."""
    return bool(_HOW_WEIGHED.match(behind)) or (behind[0] in ",;" and not any(c.isdigit() for c in behind))


def _weight_in_notes(notes: list[str], units: UnitTable) -> tuple[Amount | None, list[str]]:
    for index, note in enumerate(notes):
        note = note.lstrip("= ")  # "water 92 %, = 460 g"
        amount = amount_at(note, 0, units) if note[:1].isdigit() else None
        if amount is not None and amount.parts[0].weighs and not note[amount.end :].strip(" ."):
            return amount, notes[:index] + notes[index + 1 :]
    return None, notes


def _weight_is_per_piece(text: str) -> bool:
    """Tell "2 (8 oz) packages", where each weighs that, from "2 packages (16 oz)", where all do."""
    number = number_at(text)
    return number is not None and text[number.end :].lstrip().startswith("(")


def unit_in_front(text: str, units: UnitTable) -> str | None:
    """Give "200 g gluten" for "g 200 gluten"; `None` where no unit stands before a number."""
    for found in _UNIT_THEN_NUMBER.finditer(text):
        unit = units.unit_at(text, found.start())
        if unit is None or unit[1] != found.start("number") - len(found["space"]):
            continue
        if units.unit_at(text, found.end() + len(text[found.end() :]) - len(text[found.end() :].lstrip())):
            continue
        return f"{text[: found.start()]}{found['number']} {found['unit']}{text[found.end() :]}"
    return None
