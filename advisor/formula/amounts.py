"""Numbers as people write them: 1/2, ½, 1 ½, 1-1/2, 0.5, "1 to 2", "half", "a", "about 200"."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from advisor.formula.faults import LineFault, shown

_VULGAR = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_PLAIN = r"(?:[0-9]{1,9}(?:\.[0-9]{1,40})?|\.[0-9]{1,40})(?![0-9])"
_MIXED = rf"[0-9]{{1,9}}(?:\s?[{_VULGAR}]|(?:\s+|-)[0-9]{{1,5}}\s?[/⁄]\s?[0-9]{{1,5}}(?![0-9]))"
_FRACTION = rf"(?:[0-9]{{1,5}}\s?[/⁄]\s?[0-9]{{1,5}}(?![0-9])|[{_VULGAR}])"
_NUMBER = rf"(?:{_MIXED}|{_FRACTION}|{_PLAIN})"
_AT = re.compile(rf"(?P<low>{_NUMBER})(?:(?:\s?[-–—]\s?|\s+to\s+)(?P<high>{_NUMBER}))?", re.IGNORECASE)
_LOOKS_LIKE_NUMBER = re.compile(rf"[0-9{_VULGAR}]|\.[0-9]")
_PARTS = re.compile(
    rf"(?:(?P<whole>[0-9]+)(?:\s|-)*)??(?:(?P<up>[0-9]+)\s?[/⁄]\s?(?P<down>[0-9]+)|(?P<vulgar>[{_VULGAR}]))"
)
_ABOUT = re.compile(r"(?:~|≈|(?:about|approximately|approx|circa|ca|roughly|around)\b\.?)\s*", re.IGNORECASE)
_WORDS = {
    "a": 1.0, "an": 1.0, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0,
    "seven": 7.0, "eight": 8.0, "nine": 9.0, "ten": 10.0, "eleven": 11.0, "twelve": 12.0,
    "a dozen": 12.0, "one dozen": 12.0, "half a dozen": 6.0, "half a": 0.5, "half": 0.5, "quarter of a": 0.25,
    "a quarter": 0.25, "a half": 0.5, "one half": 0.5,
}  # fmt: skip
_WORD_AT = re.compile(
    rf"(?P<word>{'|'.join(w.replace(' ', r' +') for w in sorted(_WORDS, key=len, reverse=True))})(?=\s)",
    re.IGNORECASE,
)
_DECIMAL_COMMA = re.compile(r"(?<![0-9.])(?P<whole>[0-9]+),(?P<after>[0-9]+)(?![0-9]*[.][0-9])")
_THOUSANDS = re.compile(r"[0-9]+,[0-9]+[.,][0-9]+|[0-9]+\.[0-9]+,[0-9]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A number found in a text: its value, where it ends, and what was assumed to get it."""

    value: float
    end: int
    said: tuple[str, ...] = ()
    word: bool = False


def with_decimal_points(text: str) -> str:
    """Turn decimal commas into points, letter for letter, so that columns stay true.

    One or two digits after the comma make it decimal. With three it could part thousands, and is asked.

    Raises:
        LineFault: a comma between digits that can be read in two ways.
    """
    if "," not in text:
        return text
    if found := _THOUSANDS.search(text):
        raise LineFault(
            found.group(),
            f"the number '{shown(found.group())}' has two marks",
            "write it with one decimal point and no mark between thousands, such as 1500.5",
        )

    def point(match: re.Match[str]) -> str:
        whole, after = match["whole"], match["after"]
        if len(after) <= 2 or (whole == "0" and len(after) == 3):
            return f"{whole}.{after}"
        if len(after) > 3:
            raise LineFault(
                match.group(), f"the number '{shown(match.group())}' is not clear", "use a decimal point"
            )
        raise LineFault(
            match.group(),
            f"'{match.group()}' can be {whole}{after} or {whole} and a fraction",
            f"write {whole}{after} or {whole}.{after}",
        )

    return _DECIMAL_COMMA.sub(point, text)


def _value(text: str) -> float:
    found = _PARTS.fullmatch(text)
    if found is None:
        return float(text)
    whole = float(found["whole"] or 0)
    if found["vulgar"]:
        return whole + unicodedata.numeric(found["vulgar"])
    if float(found["down"]) == 0:
        raise LineFault(text, f"'{shown(text)}' divides by nothing", "write a number above 0 below the line")
    return whole + float(found["up"]) / float(found["down"])


def number_at(text: str, start: int = 0) -> Number | None:
    """Read the number that begins at `start`; `None` where none begins there.

    A range gives its middle and says so. Number words are read where a space follows them.

    Raises:
        LineFault: a number that cannot be one (divided by 0, 10-2, more than nine digits).
    """
    said: tuple[str, ...] = ()
    if about := _ABOUT.match(text, start):
        start = about.end()
    found = _AT.match(text, start)
    if found is None:
        if _LOOKS_LIKE_NUMBER.match(text, start):
            piece = text[start : start + 30].split()[0]
            raise LineFault(piece, f"'{shown(piece)}' is no number that can be weighed", "write it in grams")
        word = _WORD_AT.match(text, start)
        if word is None:
            return None
        spoken = " ".join(word["word"].lower().split())
        return Number(value=_WORDS[spoken], end=word.end(), word=True)
    low = _value(found["low"])
    if about:
        said = (f"'{about.group().strip()} {found['low']}' is taken as {low:g}",)
    if found["high"] is None:
        return Number(value=low, end=found.end("low"), said=said)
    high = _value(found["high"])
    if high <= low:
        raise LineFault(
            found.group(),
            f"the range '{shown(found.group())}' does not rise",
            "write the smaller number first",
        )
    middle = (low + high) / 2
    return Number(
        value=middle, end=found.end(), said=(f"'{found.group()}' is taken at its middle, {middle:g}",)
    )
