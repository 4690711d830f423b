"""An amount with its units: sums, products, ranges, packings, and one amount written in two units."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from advisor.formula.faults import LineFault, shown
from advisor.formula.lines.amounts import number_at
from advisor.formula.lines.units import CONTAINERS, UnitTable
from advisor.knowledge_base.measured import Unit

_SPACE = re.compile(r"[\s]*")
_TIMES = re.compile(r"\s*[x×*]\s*(?=[0-9.])|\s*[x×](?=\s)")
_AND_MORE = re.compile(r"\s*(?:\+|\bplus\b|\band\b|&)\s*", re.IGNORECASE)
_UP_TO = re.compile(r"\s*(?:[-–—]|\bto\b)\s*", re.IGNORECASE)
_SAME_AS = re.compile(r"\s*(?:/|\||=|≈|\bor\b)\s*(?:about\s+|approx\.?\s+)?(?=[~≈0-9.¼½¾⅓⅔⅛])", re.IGNORECASE)
_WORD = re.compile(r"[^\W\d_]+")
_FILLED = re.compile(
    r"(?:heap(?:ing|ed)|rounded|scant|level|generous|brimming|(?:(?:lightly|firmly|tightly|loosely)\s+)?packed|"
    r"full|flat|good|big|small|large|tiny|nice|huge|decent|wee)[\s-]+",
    re.IGNORECASE,
)
_PACKED_BEHIND = re.compile(r"[\s-]*(?P<packing>[^\W\d_]+)\b(?!\s*(?:$|\())(?:\s+of\b)?(?=\s)", re.IGNORECASE)
_DOUBLE_ZERO = "00"
_MOST_CUPS = 12
"""Cups up to which a C behind a number can be one; from there on it is Celsius."""
_METRIC = frozenset({"g", "kg", "mg", "ml", "cl", "dl", "l"})
_PIECE_OF = frozenset(
    {"ball", "balls", "wedge", "loaf", "pot", "pots", "stick", "cube", "log", "brick", "pouch"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One term of an amount; a number without unit counts pieces or grams, and `percent` is of the base."""

    text: str
    value: float
    unit: Unit | None = None
    percent: bool = False
    container: str = ""
    beside: Part | None = None
    """The same amount in another unit, which was not taken: "1 cup / 240 ml"."""

    @property
    def weighs(self) -> bool:
        """Tell whether the unit is one of weight; a packing whose weight is guessed is none."""
        unit = self.unit
        return unit is not None and bool(unit.grams) and not unit.millilitres and unit.guess is None

    @property
    def pours(self) -> bool:
        """Tell whether the unit is one of volume."""
        return self.unit is not None and bool(self.unit.millilitres)


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


def amount_at(text: str, start: int, units: UnitTable) -> Amount | None:
    """Read an amount that begins at `start`, as far as it goes: "1 tbsp + 1 tsp", "2 x 7 g", "90 g to 99 g".

    Raises:
        LineFault: an amount of nothing, or one that cannot be read in one way.
    """
    first = _term_at(text, start, units)
    if first is None:
        return None
    if first.end >= len(text):
        return first
    if first.parts[0].unit is None:
        return first if first.parts[0].percent else _of_pieces(first, text, start, units)
    parts, said, at = list(first.parts), list(first.said), first.end
    if more := _UP_TO.match(text, at):
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
    while same := _SAME_AS.match(text, at):
        other = _term_at(text, same.end(), units)
        if other is not None and (grams := _grams_at_the_end(parts, other, text, units)):
            return Amount(parts=(grams,), end=other.end, said=tuple(said), word=first.word)
        if other is None or other.parts[0].unit is None or len(parts) > 1:
            break
        parts = [_better(parts[0], other.parts[0])]
        at = other.end
        rest = _term_at(text, _skip(text, at), units)  # "500 g / 1 lb 2 oz": the ounces belong to the pound
        if (
            rest is not None
            and rest.parts[0].weighs
            and other.parts[0].weighs
            and parts[0].beside == other.parts[0]
        ):
            at = rest.end
    while (unit := parts[-1].unit) is not None:
        more = _AND_MORE.match(text, at)
        term = _term_at(text, more.end() if more else _skip(text, at), units)
        if term is None or (smaller := term.parts[0].unit) is None:
            break
        if not more and not (smaller.grams and unit.grams and smaller.grams < unit.grams):  # 1 lb 4 oz
            break
        if not more and text[:at].endswith("kg."):  # "tin of 1 kg. 180 g gluten": a sentence ends there
            break
        parts += term.parts
        said += term.said
        at = term.end
    return Amount(parts=tuple(parts), end=at, said=tuple(said), word=first.word)


def _grams_at_the_end(parts: list[Part], other: Amount, text: str, units: UnitTable) -> Part | None:
    """Give the grams that stand bare behind a volume at the end of a line: "3 T / 21"."""
    (part, *more) = other.parts
    bare = part.unit is None and not part.percent and not part.container and not more
    if not (bare and len(parts) == 1 and parts[0].pours and part.value > _MOST_CUPS):
        return None
    if text[other.end :].strip(" .)"):
        return None
    return replace(part, unit=units.units["g"], beside=parts[0])


def _of_pieces(first: Amount, text: str, start: int, units: UnitTable) -> Amount:
    """Go on from a number without unit: "2 x 7 g", "1 8-oz package", "2 x eggs"."""
    (count,) = first.parts
    if times := _TIMES.match(text, first.end):
        product = _term_at(text, times.end(), units)
        if product is None:
            return replace(first, end=times.end())
        if product.parts[0].unit is None:
            return first
    elif count.container or (product := _sized_packing(text, first.end, units)) is None:
        return first
    value = count.value * product.parts[0].value
    part = replace(product.parts[0], value=value, text=text[start : product.end])
    said = (*first.said, *product.said)
    return Amount(parts=(part,), end=product.end, said=said)


def _sized_packing(text: str, at: int, units: UnitTable) -> Amount | None:
    start = _skip(text, at)
    if not text[start : start + 1].isdigit():
        return None
    size = _term_at(text, start, units)
    if size is None or not (size.parts[0].weighs or size.parts[0].pours):
        return None
    packed = _PACKED_BEHIND.match(text, size.end)
    return size if packed and _is_packing(packed["packing"]) else None


def whole(value: float) -> int | None:
    """Give a number of pieces where it is a whole one."""
    return int(value) if value == int(value) else None


def without_packing(name: str) -> str | None:
    """Give "ricotta" for "tub ricotta" and "ball of mozzarella"; `None` where no packing stands in front."""
    found = _PACKED_BEHIND.match(name)
    return name[found.end() :].strip() if found and _is_packing(found["packing"]) else None


def _is_packing(word: str) -> bool:
    return word.lower() in CONTAINERS or word.lower() in _PIECE_OF


def finer_than(one: Part, other: Part) -> bool:
    """Tell whether an amount in grams stands beside one in ounces or by volume, so that it says more."""
    return one.weighs and not one.percent and (_rank(one) < _rank(other) or not other.weighs)


def _rank(part: Part) -> int:
    metric = part.unit is not None and part.unit.id in _METRIC
    if part.weighs:
        return 0 if metric else 1
    return 2 if metric else 3


def _better(one: Part, other: Part) -> Part:
    """Take of the same amount in two units the one that says most: a weight, then a metric unit, then the first."""
    best, rest = (other, one) if _rank(other) < _rank(one) else (one, other)
    return replace(best, beside=rest)


def _term_at(text: str, start: int, units: UnitTable) -> Amount | None:
    number = number_at(text, start)
    if number is None:
        return None
    at = _skip(text, number.end)
    written = text[start : number.end]
    if written == _DOUBLE_ZERO:  # a kind of flour
        return None
    percent = text.startswith("%", at)
    if number.value <= 0 and not percent:  # "0 % yoghurt 200 g" is a name with a percentage in it
        raise LineFault(
            written, f"an amount of {shown(written)} is no amount", "leave the line out, or write more"
        )
    if percent:
        part = Part(text=text[start : at + 1], value=number.value, percent=True)
        return Amount(parts=(part,), end=at + 1, said=number.said, word=number.word)
    said = number.said
    found = units.unit_at(text, at) or (units.unit_at(text, at + 1) if text.startswith("-", at) else None)
    if found is None and (filled := _FILLED.match(text, at)) and (found := units.unit_at(text, filled.end())):
        said = (*said, _filled(filled.group()))
    if found is not None and found[0].id == "cup" and number.value > _MOST_CUPS and end_of(text, found[1]):
        return None  # "29 C" is a heat
    if found is not None:
        unit, end = found
        part = Part(text=text[start:end].strip(), value=number.value, unit=unit)
        return Amount(parts=(part,), end=end, said=said, word=number.word)
    end, container = number.end, ""
    if (word := _WORD.match(text, at)) and word.group().lower() in CONTAINERS:
        end, container = word.end(), word.group()
    part = Part(text=text[start:end].strip(), value=number.value, container=container)
    return Amount(parts=(part,), end=end, said=said, word=number.word)


def end_of(text: str, end: int) -> bool:
    """Tell whether a unit of one letter ends here, as a C does that stands for Celsius."""
    return text[end - 1 : end].lower() == "c" and not text[end - 2 : end - 1].isalpha()


def _filled(word: str) -> str:
    return f"'{word.strip(' -').lower()}' changes no weight: the measure is taken as it was weighed"


def filled_in_front(text: str, units: UnitTable) -> tuple[int, str] | None:
    """Give where "scant 1 cup" or "good handful" begins behind its first word, and what is said of it."""
    found = _FILLED.match(text)
    if found is None:
        return None
    measured = text[found.end() : found.end() + 1].isdigit() or units.unit_at(text, found.end())
    return (found.end(), _filled(found.group())) if measured else None


def _skip(text: str, at: int) -> int:
    found = _SPACE.match(text, at)
    return found.end() if found else at
