"""Finds the numbers of a sentence that can belong to a process: times, heats, lengths, weights, heights of places."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

NumberKind = Literal["time", "heat", "bare", "length", "weight", "height"]
"""`bare` is a number without a unit: what stands around it may tell what it is."""

_SPOKEN = {
    "a": 1.0, "an": 1.0, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0, "seven": 7.0,
    "eight": 8.0, "nine": 9.0, "ten": 10.0, "eleven": 11.0, "twelve": 12.0, "fifteen": 15.0, "eighteen": 18.0,
    "twenty": 20.0, "twenty five": 25.0, "thirty": 30.0, "thirty five": 35.0, "forty": 40.0, "forty five": 45.0,
    "fifty": 50.0, "sixty": 60.0, "ninety": 90.0, "a couple of": 2.0, "a couple": 2.0, "couple of": 2.0,
    "a few": 3.0, "half a": 0.5, "half an": 0.5, "half": 0.5, "a half": 0.5, "a quarter": 0.25, "quarter": 0.25,
    "a quarter of an": 0.25, "quarter of an": 0.25, "three quarters of an": 0.75, "an eighth of an": 0.125,
    "an eighth": 0.125, "eighth": 0.125, "half of an": 0.5, "one and a half": 1.5, "two and a half": 2.5,
    "three and a half": 3.5, "four and a half": 4.5, "five and a half": 5.5, "six and a half": 6.5,
}  # fmt: skip
_VULGAR = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 0.125}
_DIGITS = r"[0-9]{1,4}(?:\.[0-9]{1,3})?(?:\s?[½¼¾⅓⅔⅛]|[\s-][13]/[248]\b|/(?:2|3|4|8|16|32)\b)?|[½¼¾⅓⅔⅛]"
_WORDS = "|".join(w.replace(" ", r"[\s-]+") for w in sorted(_SPOKEN, key=len, reverse=True))
_TO = r"(?:\s?[-–—]\s?|\s+to\s+|\s+or\s+)"
_VALUE = rf"(?:{_DIGITS}|\b(?:{_WORDS})\b)"
_RANGE = rf"(?P<low>{_VALUE})(?:{_TO}(?P<high>{_VALUE}))?(?:\s?-?ish)?"
_TIME_UNITS = (
    r"minutes?|mins?|mns?|mts|(?<=[0-9])m(?=[\s,.;)]|$)|hours?|hrs?|hr|seconds?|secs?|days?|weeks?|wks?|months?|mths?|h(?![a-z])|"
    r"s(?=[\s.,;)]|$)|['’′](?=[\s,.;/)|]|$)"
)
_MINUTES = {"mts": 1.0, "mi": 1.0, "mn": 1.0, "ho": 60.0, "hr": 60.0, "h": 60.0, "se": 1 / 60, "s": 1 / 60,
            "da": 1440.0, "we": 10080.0, "wk": 10080.0, "mt": 43200.0, "mo": 43200.0}  # fmt: skip
_TIME = re.compile(
    rf"(?<![\w./])(?:{_RANGE}[\s-]*(?:(?:more|further|full|good|whole)\s+)?(?P<unit>{_TIME_UNITS})(?![a-z])|"
    r"(?P<lone>(?<!an )(?<!half )\bhour))\.?"
    r"(?P<half>\s+(?:and\s+(?:a\s+)?)?(?P<part>(?<=and\s)(?:half|quarter|three[\s-]quarters)|(?<=and\sa\s)(?:half|quarter)|1/2|1/4|3/4|[½¼¾]))?"
    r"(?:\s*(?:,|and|&)?\s*(?P<more>[0-9]{1,2})"
    r"(?P<munit>\s*(?:minutes?|mins?|secs?|seconds?)\b)?(?![\s]*[\w.°º/%\"]*[0-9°º%]))?"
    r"(?:ish\b)?",
    re.IGNORECASE,
)
_HEAT = re.compile(
    rf"(?<![\w./])(?P<low>-?[0-9]{{1,3}}(?:\.[0-9])?)(?:\s*(?:°|º|deg(?:rees?)?\.?)?\s*(?:c|f)?{_TO}(?P<high>[0-9]{{1,3}}))?"
    r"\s*(?:(?P<deg>°|º|deg(?:rees?)?\b\.?)\s*)?(?P<scale>celsius|centigrade|fahrenheit|[cf](?![a-z0-9]))?",
    re.IGNORECASE,
)
_GAS = re.compile(
    r"\b(?:gas(?:\s*mark)?|mark)\s*(?P<mark>[1-9]|10)\b(?:\s*(?:,?\s*then|to|down\s+to|/)\s*(?P<then>[1-9])\b(?!\s*(?:min|hour|h\b|sec)))?",
    re.IGNORECASE,
)
_LENGTH = re.compile(
    rf"(?<![\w./x×])(?P<low>{_VALUE})(?:{_TO}(?P<high>{_VALUE}))?(?:\s+of\s+an)?[\s-]*(?P<unit>mm|cm|centimet(?:re|er)s?|"
    r"millimet(?:re|er)s?|mils?(?=\s+thick)|inch(?:es)?\b|\"|″|”|in\b\.?(?=\s*(?:thick|tall|high|thin|wide|long|discs?|rounds?|[.,;)]|$)))",
    re.IGNORECASE,
)
_WEIGHT = re.compile(
    rf"(?<![\w./])(?P<low>{_VALUE})(?:{_TO}(?P<high>{_VALUE}))?[\s-]*(?P<unit>kg|g|gr|grams?|oz|ounces?|lbs?|pounds?)\b",
    re.IGNORECASE,
)
_HEIGHT = re.compile(
    r"(?<![\w./])(?P<low>[0-9]{1,2}[,.]?[0-9]{3}|[0-9]{3,4})\s*(?P<unit>m|met(?:re|er)s|ft|feet|foot)\b",
    re.IGNORECASE,
)
_BARE = re.compile(
    rf"(?<![\w./#$£€₹])(?<![Rr]s\s)(?<![Rr]s\.\s)(?<![0-9]:)(?P<low>[0-9]{{1,3}}(?:\.[0-9]{{1,2}})?)(?:{_TO}(?P<high>[0-9]{{1,3}}(?:\.[0-9]{{1,2}})?))?(?:ish)?(?![\w./%:\"]*[\w%\"])"
)
_LEAST_METRES = 100.0
_THE_SECOND = re.compile(r"\s+(?:proof|prove|rise|time|bowl|bake|stage|step|speed|mix)", re.IGNORECASE)
_OF_SPEEDS = re.compile(r"\b(?:slow|low|first|1st)\s*(?:[+,/&]|then|and)?\s*$", re.IGNORECASE)
_CM = {"m": 0.1, "c": 1.0, "i": 2.54, '"': 2.54, "″": 2.54, "”": 2.54}
"""The inch is 25.4 mm exactly (NIST Handbook 44, appendix C)."""
_GRAMS = {"k": 1000.0, "g": 1.0, "o": 28.349523125, "l": 453.59237, "p": 453.59237}
"""The pound is 453.59237 g exactly (NIST Handbook 44, appendix C)."""
_OTHER_SCALE = re.compile(
    r"\s*[/(,]?\s*(?:or\s+)?(?:gas(?:\s*mark)?\s*[0-9]+|[0-9]{2,3}\s*[°º]?\s*[cf]?\s*fan(?:\s+oven)?|"
    r"[0-9]{2,3}\s*[°º]?\s*(?:degrees?\s*)?[cf]?\s*(?:if|with|in|for)\s+(?:\w+\s+){0,4}?fan(?:\s+oven)?|fan\s*[12][0-9]{2}\s*[°º]?\s*[cf]?|[0-9]{2,3}\s*[°º]?\s*[cf])(?![a-z0-9])\s*\)?",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A number as a sentence tells it: in min, C, cm, g or m; a bare one as it stands."""

    kind: NumberKind
    value: float
    start: int
    end: int
    text: str
    said: str = ""
    degrees: bool = False
    """Whether a bare number is one of degrees: "110 degrees"."""


def value_of(text: str) -> float:
    """Give the number that digits, a fraction or a word stand for."""
    plain = " ".join(text.lower().replace("-", " ").split())
    if plain in _SPOKEN:
        return _SPOKEN[plain]
    total = 0.0
    for mark, part in _VULGAR.items():
        if mark in plain:
            total, plain = total + part, plain.replace(mark, "").strip()
    for piece in plain.split():
        up, _, down = piece.partition("/")
        total += float(up) / float(down) if down else float(up)
    return total


def _middle(found: re.Match[str]) -> tuple[float, str]:
    low = value_of(found["low"])
    if not found.groupdict().get("high"):
        return low, ""
    high = value_of(found["high"])
    if high <= low:
        return low, ""
    middle = (low + high) / 2
    return middle, f"'{found['low']} to {found['high']}' is taken at its middle, {middle:g}"


def _times(text: str) -> Iterator[Told]:
    at = 0
    while found := _TIME.search(text, at):
        at = found.end()
        if (found["unit"] or "").lower() == "m" and value_of(found["high"] or found["low"]) >= _LEAST_METRES:
            continue  # a place is so high
        if (found["unit"] or "").lower() == "second" and (
            _OF_SPEEDS.search(text[: found.start()]) or _THE_SECOND.match(text, found.end())
        ):
            continue  # "3 slow + 2 second" are minutes, and "a second proof" is none
        if found["lone"]:
            size, value, said = 60.0, 1.0, ""
        else:
            unit = found["unit"].lower()
            size = next((s for begin, s in _MINUTES.items() if unit.startswith(begin)), 1.0)
            value, said = _middle(found)
        start, end = found.start(), found.end()
        if found["high"] and value_of(found["high"]) < value_of(found["low"]):
            start, value = found.start("high"), value_of(found["high"])  # "bake 185 - 38 min"
        total = value * size
        if part := found["part"]:
            total += size * {"h": 0.5, "q": 0.25}.get(part[0].lower(), 0.75)
        if found["more"]:
            alone = re.match(
                r"\s*(?:$|[,.;)@]|(?:at|in|until|till|fan|and|then|or|before|on|with|to|for|covered|total)\b)",
                text[found.end() :],
                re.IGNORECASE,
            )
            joined = text[found.start("unit") : found.start("more")].lower()
            told = found["munit"] or alone or "and" in joined or joined.endswith("h")
            if size == 60.0 and told:
                total += float(found["more"])
            else:
                at = end = found.end("half") if found["half"] else found.end("unit")
        yield Told(
            kind="time",
            value=total,
            start=start,
            end=end,
            text=text[start:end].strip(" ."),
            said=said,
        )


def _heats(text: str) -> Iterator[Told]:
    for found in _HEAT.finditer(text):
        if not found["scale"] and not found["deg"]:
            continue
        value, said = _middle(found)
        where = {"start": found.start(), "end": found.end(), "text": found.group().strip()}
        if not found["scale"]:
            yield Told(kind="bare", value=value, said=said, degrees=True, **where)  # type: ignore[arg-type]
            continue
        if found["scale"].lower().startswith("f"):
            value = (value - 32) / 1.8
        yield Told(kind="heat", value=value, said=said, **where)  # type: ignore[arg-type]
    for found in _GAS.finditer(text):
        for mark in ("mark", "then") if found["then"] else ("mark",):
            value = (250 + 25 * int(found[mark]) - 32) / 1.8
            start = found.start() if mark == "mark" else found.start(mark)
            end = found.end("mark") if mark == "mark" else found.end()
            words = text[start:end]
            said = f"'{words}' is taken as {value:.0f} C"
            yield Told(kind="heat", value=value, start=start, end=end, text=words, said=said)


def _sized(text: str, pattern: re.Pattern[str], kind: NumberKind, sizes: dict[str, float]) -> Iterator[Told]:
    for found in pattern.finditer(text):
        value, said = _middle(found)
        size = sizes.get(found["unit"][0].lower(), 1.0)
        yield Told(
            kind=kind,
            value=value * size,
            start=found.start(),
            end=found.end(),
            text=found.group().strip(),
            said=said,
        )


def _heights(text: str) -> Iterator[Told]:
    for found in _HEIGHT.finditer(text):
        metres = float(found["low"].replace(",", "").replace(".", ""))
        metres *= 0.3048 if found["unit"].lower().startswith("f") else 1.0
        yield Told(kind="height", value=metres, start=found.start(), end=found.end(), text=found.group())


def _bares(text: str) -> Iterator[Told]:
    for found in _BARE.finditer(text):
        value, said = _middle(found)
        falls = found["high"] and value_of(found["high"]) < value_of(found["low"])  # "bake 185 - 38 min"
        end = found.end("low") if falls else found.end()
        words = text[found.start() : end].strip()
        yield Told(kind="bare", value=value, start=found.start(), end=end, text=words, said=said)


@lru_cache(maxsize=2048)
def numbers_told(text: str) -> tuple[Told, ...]:
    """Give the numbers of a sentence in their order, none twice; a second scale of one heat belongs to the first."""
    if (
        not any(c.isdigit() or c in _VULGAR for c in text)
        and not _TIME.search(text)
        and not _LENGTH.search(text)
    ):
        return ()
    found: list[Told] = []
    taken: list[tuple[int, int]] = []
    readers = (
        _times(text), _heats(text), _sized(text, _LENGTH, "length", _CM), _sized(text, _WEIGHT, "weight", _GRAMS),
        _heights(text), _bares(text),
    )  # fmt: skip
    for reader in readers:
        for told in reader:
            if any(told.start < end and start < told.end for start, end in taken):
                continue
            while told.kind in ("heat", "bare") and told.value > 100:
                if (other := _OTHER_SCALE.match(text, told.end)) is None:
                    break
                told = replace(told, end=other.end())
            taken.append((told.start, told.end))
            found.append(told)
    return tuple(sorted(found, key=lambda told: told.start))
