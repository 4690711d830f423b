"""Fields inside the texts of the knowledge: places to be filled, `{core_at_pull_c:.0f C}`, and quantities, `{175 C}`.

A quantity is a number or a range with a unit, in braces: `{20 g}`, `{93 to 96 C}`, `{10 C difference}`. A place names
a measure, with a format and, where a kitchen has a unit for it, that unit: filled, it becomes a quantity. Whoever
writes a page turns quantities into the units of the baker.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal, get_args

TextUnit = Literal["C", "min", "g", "cm", "mm"]
"""Degrees Celsius, minutes, grams, centimetres and millimetres: what differs between kitchens, and times."""
_UNITS = "|".join(get_args(TextUnit))
_NUMBER = r"-?[0-9]+(?:\.[0-9]+)?"
_FIELD = re.compile(r"\{(?P<inside>[^{}]*)\}")
_QUANTITY = re.compile(
    rf"(?P<low>{_NUMBER})(?: to (?P<high>{_NUMBER}))? (?P<unit>{_UNITS})(?P<difference> difference)?"
)
_PLACE = re.compile(
    rf"(?P<name>[a-z][a-z0-9_]*)(?::(?P<form>[^{{}} ]*)(?: (?P<tail>(?:{_UNITS})(?: difference)?))?)?"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TextQuantity:
    """A quantity as it is written: `low` alone or up to `high`, with the decimals of its first number."""

    low: float
    high: float | None
    unit: TextUnit
    difference: bool
    decimals: int
    written: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TextPlace:
    """A place to be filled: the name of a measure, its format, and the unit that makes a quantity of it, or none."""

    name: str
    form: str
    tail: str
    written: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NoField:
    """Braces around what is neither a quantity nor a place."""

    written: str


Part = str | TextQuantity | TextPlace | NoField


def parts_of_text(text: str) -> Iterator[Part]:
    """Split a text into plain words and what stands in braces."""
    at = 0
    for found in _FIELD.finditer(text):
        if found.start() > at:
            yield text[at : found.start()]
        yield _field(found["inside"])
        at = found.end()
    if at < len(text):
        yield text[at:]


def places_in_text(text: str) -> Iterator[TextPlace]:
    """The places of a text that are to be filled."""
    return (part for part in parts_of_text(text) if isinstance(part, TextPlace))


def filled_in(text: str, values: Mapping[str, object]) -> str:
    """Fill the places of a text; one without a value becomes a dash, and quantities stay fields.

    Raises:
        ValueError: a format that does not fit its value.
    """

    def fill(found: re.Match[str]) -> str:
        place = _field(found["inside"])
        if not isinstance(place, TextPlace):
            return found.group()
        if (value := values.get(place.name)) is None:
            return "-"
        said = format(value, place.form)
        return f"{{{said} {place.tail}}}" if place.tail else said

    return _FIELD.sub(fill, text)


def _field(inside: str) -> TextQuantity | TextPlace | NoField:
    written = f"{{{inside}}}"
    if found := _QUANTITY.fullmatch(inside):
        low, high = found["low"], found["high"]
        return TextQuantity(
            low=float(low),
            high=float(high) if high else None,
            unit=next(unit for unit in get_args(TextUnit) if unit == found["unit"]),
            difference=found["difference"] is not None,
            decimals=len(low.partition(".")[2]),
            written=written,
        )
    if found := _PLACE.fullmatch(inside):
        return TextPlace(
            name=found["name"], form=found["form"] or "", tail=found["tail"] or "", written=written
        )
    return NoField(written=written)
