"""Times, temperatures, lengths and counts as they stand behind the colon of a process line."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from advisor.formula.faults import LineFault, shown
from advisor.formula.lines.amounts import Number, number_at
from advisor.formula.process.steps import OvenStep, Rise

Value: TypeAlias = (
    float | int | str | bool | tuple[float, ...] | tuple[OvenStep, ...] | tuple[Rise, ...] | None
)
Fields: TypeAlias = Mapping[str, Value]
"""Fields of a `Process` by name."""

CM_PER = {"cm": 1.0, "mm": 0.1, "in": 2.54, "inch": 2.54, "inches": 2.54, '"': 2.54, "″": 2.54, "m": 100.0}
"""The inch is 25.4 mm exactly (NIST Handbook 44, appendix C)."""
_M_PER = {
    "m": 1.0, "metre": 1.0, "metres": 1.0, "meter": 1.0, "meters": 1.0, "km": 1000.0,
    "ft": 0.3048, "foot": 0.3048, "feet": 0.3048,
}  # fmt: skip
_MINUTES_PER = {
    "min": 1.0, "mins": 1.0, "minute": 1.0, "minutes": 1.0, "m": 1.0, "h": 60.0, "hr": 60.0, "hrs": 60.0,
    "hour": 60.0, "hours": 60.0, "day": 1440.0, "days": 1440.0, "week": 10080.0, "weeks": 10080.0,
    "month": 43200.0, "months": 43200.0, "s": 1 / 60, "sec": 1 / 60,
    "secs": 1 / 60, "second": 1 / 60, "seconds": 1 / 60,
}  # fmt: skip
_TIME_UNIT = re.compile(
    r"[\s-]*(minutes?|mins?|min|hours?|hrs?|seconds?|secs?|days?|weeks?|months?|h|m|s)\b\.?", re.IGNORECASE
)
_TIME_UNIT_GLUED = re.compile(r"\s*(hours?|hrs?|h)\.?(?=\s*[0-9])", re.IGNORECASE)
_DEGREES = re.compile(
    r"\s*(?:°|º|degrees?|deg\.?)?\s*(?P<scale>celsius|centigrade|fahrenheit|c|f)\b\.?", re.IGNORECASE
)
_LENGTH_UNIT = re.compile(r"\s*(cm|mm|inches|inch|in\b|\"|″)\.?", re.IGNORECASE)
_BY = re.compile(r"\s*(?:x|×|\*|by)\s*", re.IGNORECASE)
_NUMBER_START = re.compile(r"(?<![\w.])(?=[-−]?\.?[0-9¼½¾⅓⅔~])")
LONGEST_MIN = 10_080.0  # a week covers the longest cold proof
HIGHEST_M = 6000.0  # nobody bakes higher
LEAST_THICK_CM = 0.05
TALLEST_CM = 60.0  # no loaf stands higher
LONGEST_KEPT_MIN = 525_600.0  # a year in the freezer
_WEIGHT_UNIT = re.compile(r"\s*(kg|g|grams?|oz|ounces?|lbs?|pounds?)\b\.?", re.IGNORECASE)
_GRAMS_PER = {"kg": 1000.0, "o": 28.349523125, "l": 453.59237, "p": 453.59237, "g": 1.0}
"""By the unit or its first letter; the pound is 453.59237 g exactly (NIST Handbook 44, appendix C)."""
_GAS = re.compile(r"\bgas(?:\s*mark)?\s*(?P<mark>[1-9]|10)\b", re.IGNORECASE)
_GAS_FROM_F, _GAS_STEP_F = 250.0, 25.0
"""Gas mark 1 is 275 F and each further mark 25 F more: how British cookers are marked (common practice, no source)."""


_MOST_WORDS_LEFT = 6
_FULL_WORD = re.compile(r"\b(?!(?:for|at|of|and|about|in|a|the|then)\b)[a-z]+", re.IGNORECASE)
_MOST_C = 260.0
"""A bare number above this is Fahrenheit: no loaf is baked at so many degrees Celsius; up to it, Celsius."""


def bare_heat_c(value: float) -> tuple[float, str]:
    """Give an oven heat without a unit in Celsius, and the scale that its size tells."""
    return ((value - 32) / 1.8, "Fahrenheit") if value > _MOST_C else (value, "Celsius")


@dataclass(slots=True)
class Words:
    """What is left of a value while numbers and words are taken out of it."""

    key: str
    left: str
    expected: str
    said: list[str] = field(default_factory=list)

    def fault(self, what: str | None = None) -> LineFault:
        """Say that the value is not what this key takes."""
        return LineFault(
            self.left.strip() or self.key, what or f"'{self.key}' cannot be read", f"write {self.expected}"
        )

    def take(self, *phrases: str) -> str | None:
        """Take one of some phrases out; give the one found."""
        for phrase in phrases:
            spelt = "[ -]?".join(re.escape(word) for word in phrase.split())
            found = re.search(rf"(?<![\w-]){spelt}(?![\w-])", self.left, re.IGNORECASE)
            if found:
                self._cut(found.start(), found.end())
                return phrase
        return None

    def take_time(self, *, longest: float = LONGEST_MIN) -> float | None:
        """Take a time out, in minutes: "60 min", "1 h 15 min", "1.5 hours", "1h15", "90 s"."""
        for place in _NUMBER_START.finditer(self.left):
            total, at, smallest = 0.0, place.start(), float("inf")
            while number := self._number(at):
                unit = _TIME_UNIT.match(self.left, number.end) or _TIME_UNIT_GLUED.match(
                    self.left, number.end
                )
                if unit is None:
                    if smallest == 60.0 and self.left[at - 1 : at].lower() == "h":  # 1h15
                        total, at, smallest = total + number.value, number.end, 1.0
                    break
                size = _MINUTES_PER[unit.group(1).lower()]
                if size >= smallest:
                    break
                total, smallest = total + number.value * size, size
                self.said += number.said
                at = unit.end() + (len(self.left[unit.end() :]) - len(self.left[unit.end() :].lstrip(" ,")))
                if self.left.startswith("and ", at):
                    at += 4
            if smallest < float("inf"):
                if not 0 <= total <= longest:
                    raise self.fault(f"{total:g} min is not between 0 and {longest:g}")
                self._cut(place.start(), at)
                return total
        return None

    def take_temperature(self, low: float, high: float) -> float | None:
        """Take a temperature out, in degrees Celsius; F is turned into C."""
        for place in _NUMBER_START.finditer(self.left):
            at, sign = place.start(), 1.0
            if self.left[at] in "-−":
                at, sign = at + 1, -1.0
            number = self._number(at)
            if number is None or (unit := _DEGREES.match(self.left, number.end)) is None:
                continue
            value = sign * number.value
            if unit["scale"].lower().startswith("f"):
                value = (value - 32) / 1.8
            if not low <= value <= high:
                raise self.fault(f"{value:.4g} C is not between {low:g} and {high:g} C")
            self.said += number.said
            self._cut(place.start(), unit.end())
            return value
        if (gas := _GAS.search(self.left)) and high > 100:
            value = (_GAS_FROM_F + _GAS_STEP_F * int(gas["mark"]) - 32) / 1.8
            self.said.append(f"'{gas.group()}' is taken as {value:.0f} C")
            self._cut(*gas.span())
            return value
        return None

    def take_bare_heat(self) -> float | None:
        """Take an oven heat without C or F out [C]: by its size it can only be one of them, which is said."""
        for place in _NUMBER_START.finditer(self.left):
            number = self._number(place.start())
            if number is None or not 120 <= number.value <= 600:
                continue
            if number.value != int(number.value) or _TIME_UNIT.match(self.left, number.end):
                continue
            value, scale = bare_heat_c(number.value)
            self.said.append(f"'{number.value:g}' without C or F is taken as {scale}")
            self._cut(place.start(), number.end)
            return value
        return None

    def take_weight(self) -> float | None:
        """Take a weight out, in grams."""
        for place in _NUMBER_START.finditer(self.left):
            number = self._number(place.start())
            if number is None or (unit := _WEIGHT_UNIT.match(self.left, number.end)) is None:
                continue
            named = unit.group(1).lower()
            self.said += number.said
            self._cut(place.start(), unit.end())
            return number.value * (_GRAMS_PER.get(named) or _GRAMS_PER[named[0]])
        return None

    def take_difference(self, most: float) -> float | None:
        """Take a difference of temperatures out, in kelvin with its sign; 1.8 F make 1 C."""
        for place in _NUMBER_START.finditer(self.left):
            at, sign = place.start(), 1.0
            if self.left[at] in "-−":
                at, sign = at + 1, -1.0
            number = self._number(at)
            if number is None or (unit := _DEGREES.match(self.left, number.end)) is None:
                continue
            value = sign * number.value / (1.8 if unit["scale"].lower().startswith("f") else 1.0)
            if abs(value) > most:
                raise self.fault(f"{value:.4g} C is more than {most:g} C off")
            self.said += number.said
            start = place.start()
            self._cut(start - 1 if self.left[:start].endswith("+") else start, unit.end())
            return value
        return None

    def take_lengths(self, *, least: float = 1.0) -> tuple[float, ...]:
        """Take "25 x 10 x 10 cm" or "9 x 5 x 3 in" out, in centimetres; a unit holds for those before it."""
        start = _NUMBER_START.search(self.left)
        if start is None:
            return ()
        at, values, pending, unit_size = start.start(), [], 0, None
        while number := self._number(at):
            values.append(number.value)
            self.said += number.said
            pending, at = pending + 1, number.end
            if unit := _LENGTH_UNIT.match(self.left, at):
                unit_size = CM_PER[unit.group(1).lower()]
                values[-pending:] = [v * unit_size for v in values[-pending:]]
                pending, at = 0, unit.end()
            by = _BY.match(self.left, at)
            if by is None:
                break
            at = by.end()
        if pending:
            raise self.fault("the size has no unit")
        if not all(least <= v <= 200 for v in values):
            raise self.fault(f"a length of {min(values):g} cm is not between {least:g} and 200 cm")
        self._cut(start.start(), at)
        return tuple(values)

    def take_height(self, low: float, high: float) -> float | None:
        """Take a height above the sea out, in metres; the foot is 0.3048 m exactly (NIST Handbook 44)."""
        found = re.search(
            r"(?<![\w.])(?P<sign>[-−]?)(?P<n>[0-9]{1,6}(?:\.[0-9]{1,40})?)\s*(?P<unit>[a-z]+)\b",
            self.left,
            re.IGNORECASE,
        )
        if found is None or (size := _M_PER.get(found["unit"].lower())) is None:
            return None
        value = float(found["n"]) * size * (-1 if found["sign"] else 1)
        if not low <= value <= high:
            raise self.fault(f"{value:.5g} m is not between {low:g} and {high:g} m")
        self._cut(*found.span())
        return value

    def take_count(self, most: int) -> int | None:
        """Take a whole number out."""
        start = _NUMBER_START.search(self.left)
        if start is None or (number := self._number(start.start())) is None:
            return None
        if number.value != int(number.value) or not 1 <= number.value <= most:
            raise self.fault(f"{number.value:g} is no whole number from 1 to {most}")
        self.said += number.said
        self._cut(start.start(), number.end)
        return int(number.value)

    def leave_words(self) -> None:
        """Leave out words without a number behind what was read, and say so: "6 min as batter"."""
        left = " ".join(self.left.strip(" ,;.").split())
        if left and len(left.split()) <= _MOST_WORDS_LEFT and not any(c.isdigit() for c in left):
            if _FULL_WORD.search(left):
                self.said.append(f"{self.key}: '{shown(left)}' is not used")
            self.left = ""

    def done(self) -> None:
        """Complain of what is left over, so that nothing is dropped in silence."""
        left = re.sub(
            r"\b(?:for|at|of|and|about|in|a|the|oven|then)\b|[\s,;.]", " ", self.left, flags=re.IGNORECASE
        )
        if left.strip():
            raise LineFault(
                left.split()[0], f"'{shown(left.strip())}' is not understood here", f"write {self.expected}"
            )

    def _number(self, at: int) -> Number | None:
        found = number_at(self.left, at)
        return None if found is None or found.word else found

    def _cut(self, start: int, end: int) -> None:
        self.left = f"{self.left[:start]} {self.left[end:]}"
