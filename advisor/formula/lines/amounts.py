"""Numbers as people write them: 1/2, ½, 1 ½, 1-1/2, 0.5, "1 to 2", "one and a half", "a dozen", "about 200"."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

from advisor.formula.faults import LineFault, shown

_VULGAR = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_PLAIN = r"(?:[0-9]{1,9}(?:\.[0-9]{1,40})?|\.[0-9]{1,40})(?![0-9])"
_OVER = r"[0-9]{1,5}\s?[/⁄]\s?[0-9]{1,5}(?![0-9])"
_MIXED = rf"[0-9]{{1,9}}(?:(?:\s?|\s+(?:and|&)\s+)[{_VULGAR}]|(?:\s+(?:(?:and|&)\s+)?|-){_OVER})"
_FRACTION = rf"(?:{_OVER}|[{_VULGAR}])"
_NUMBER = rf"(?:{_MIXED}|{_FRACTION}|{_PLAIN})"
_AT = re.compile(rf"(?P<low>{_NUMBER})(?:(?:\s?[-–—]\s?|\s+(?:to|or)\s+)(?P<high>{_NUMBER}))?", re.IGNORECASE)
_LOOKS_LIKE_NUMBER = re.compile(rf"[0-9{_VULGAR}]|\.[0-9]")
_PARTS = re.compile(
    rf"(?:(?P<whole>[0-9]+)(?:\s|-|and|&)*)??(?:(?P<up>[0-9]+)\s?[/⁄]\s?(?P<down>[0-9]+)|(?P<vulgar>[{_VULGAR}]))"
)
_DIGITS = frozenset("0123456789" + _VULGAR)
_WORD_BEHIND = re.compile(r"\s+and\s+(?:a|two|three)\b", re.IGNORECASE)
_ABOUT = re.compile(
    r"(?:~|≈|(?:about|approximately|approx|circa|ca|roughly|around|abt|c(?=\.\s*[0-9]))\b\.?)\s*",
    re.IGNORECASE,
)
_UNITS_SPOKEN = {
    "a": 1.0, "an": 1.0, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0,
    "seven": 7.0, "eight": 8.0, "nine": 9.0, "ten": 10.0, "eleven": 11.0, "twelve": 12.0,
}  # fmt: skip
_PARTS_SPOKEN = {
    "a couple of": 2.0, "couple of": 2.0, "a couple": 2.0, "a pair of": 2.0, "several": 3.0,
    "a few": 3.0,
    "a few of the": 3.0,
    "half a": 0.5, "half an": 0.5, "half": 0.5, "a half": 0.5, "one half": 0.5,
    "quarter": 0.25, "a quarter": 0.25, "one quarter": 0.25, "quarter of a": 0.25, "a quarter of a": 0.25,
    "three quarters": 0.75, "three quarters of a": 0.75, "three quarter": 0.75,
    "a third": 1 / 3, "one third": 1 / 3, "a third of a": 1 / 3, "one third of a": 1 / 3,
    "two thirds": 2 / 3, "two thirds of a": 2 / 3, "half of a": 0.5, "an eighth": 0.125, "an eighth of a": 0.125,
}  # fmt: skip
_A_FEW = frozenset({"several", "a few", "a few of the"})
_DOZEN = 12.0
_BEHIND_AND = {
    "a half": 0.5,
    "a quarter": 0.25,
    "three quarters": 0.75,
    "a third": 1 / 3,
    "two thirds": 2 / 3,
}


def _any_of(words: Iterable[str]) -> str:
    return "|".join(w.replace(" ", r"[ -]+") for w in sorted(words, key=len, reverse=True))


_WORD_AT = re.compile(
    rf"(?:(?P<count>{_any_of(_UNITS_SPOKEN)}|[0-9]{{1,3}})[ ]+and[ ]+(?P<more>{_any_of(_BEHIND_AND)})"
    rf"|(?P<part>{_any_of(_PARTS_SPOKEN)})|(?P<word>{_any_of(_UNITS_SPOKEN)}))(?P<dozen>[ ]+dozen)?(?=\s)",
    re.IGNORECASE,
)
_DOZENS_BEHIND = re.compile(r"\s+dozen\b", re.IGNORECASE)
_DECIMAL_COMMA = re.compile(r"(?<![0-9.])(?P<whole>[0-9]+),(?P<after>[0-9]+)(?![0-9]*[.][0-9])")
_COMMA_AND_THREE = re.compile(r"(?<![0-9.,])[1-9][0-9]{0,2},[0-9]{3}(?![0-9,.])")
_COMMA_AND_THREE_G = re.compile(rf"{_COMMA_AND_THREE.pattern}\s*(?:g|grams?)\b")
_THOUSANDS_ONLY = re.compile(r"(?<![0-9.,])[1-9][0-9]{0,2}(?:,[0-9]{3})+(?![0-9,])")
_POINT_DECIMAL = re.compile(r"(?<![0-9.,])[0-9]+\.[0-9]{1,2}(?![0-9.,])")
_COMMA_DECIMAL = re.compile(r"(?<![0-9.,])[0-9]+,[0-9]{1,2}(?![0-9.,])")
_THOUSANDS = re.compile(r"[0-9]+,[0-9]+[.,][0-9]+|[0-9]+\.[0-9]+,[0-9]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A number found in a text: its value, where it ends, and what was assumed to get it."""

    value: float
    end: int
    said: tuple[str, ...] = ()
    word: bool = False


def with_decimal_points(text: str, thousands: bool | None = None) -> str:
    """Turn decimal commas into points, letter for letter where it can be, so that columns stay true.

    One or two digits after the comma make it decimal. With three it could part thousands, and is asked, unless
    `thousands` says which it is.

    Raises:
        LineFault: a comma between digits that can be read in two ways.
    """
    if "," not in text:
        return text
    if thousands:
        text = _THOUSANDS_ONLY.sub(lambda match: match.group().replace(",", ""), text)
    if found := _THOUSANDS.search(text):
        raise LineFault(
            found.group(),
            f"the number '{shown(found.group())}' has two marks",
            "write it with one decimal point and no mark between thousands, such as 1500.5",
        )

    def point(match: re.Match[str]) -> str:
        whole, after = match["whole"], match["after"]
        if len(after) <= 2 or whole == "0" or (len(after) == 3 and thousands is False):
            return f"{whole}.{after}"
        if len(after) > 3:
            raise LineFault(
                match.group(), f"the number '{shown(match.group())}' is not clear", "use a decimal point"
            )
        raise LineFault(
            match.group(),
            f"'{match.group()}' can be {whole}{after} or {whole} and a fraction",
            f"write {whole}{after} or {whole}.{after}",
            (f"{whole}{after}", f"{whole}.{after}"),
        )

    return _DECIMAL_COMMA.sub(point, text)


def comma_parts_thousands(text: str, region: str) -> bool | None:
    """Tell what a comma before three digits means in a text; `None` where nothing decides.

    Another number of the same text decides first: beside 1.5 the comma parts thousands, beside 1,5 it is
    decimal. Else Britain and Australia part thousands with it. The region `us` is also the one taken when
    nobody said which, and the metric cup is used in countries of both habits, so there it is asked.
    """
    if not _COMMA_AND_THREE.search(text):
        return None
    points, commas = _POINT_DECIMAL.search(text), _COMMA_DECIMAL.search(text)
    if bool(points) != bool(commas):
        return bool(points)
    grams = _COMMA_AND_THREE_G.search(text) is not None  # no kitchen weighs to a thousandth of a gram
    return True if grams or (region in ("uk", "au") and not commas) else None


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
    about = None
    if text[start : start + 1] not in _DIGITS and (about := _ABOUT.match(text, start)):
        start = about.end()
    found = _AT.match(text, start)
    if (found is None or _WORD_BEHIND.match(text, found.end())) and (spoken := _spoken_at(text, start)):
        return spoken
    if found is None:
        if _LOOKS_LIKE_NUMBER.match(text, start):
            piece = text[start : start + 30].split()[0]
            raise LineFault(piece, f"'{shown(piece)}' is no number that can be weighed", "write it in grams")
        return None
    low = _value(found["low"])
    if about:
        said = (f"'{about.group().strip()} {found['low']}' is taken as {low:g}",)
    if found["high"] is None:
        if dozens := _DOZENS_BEHIND.match(text, found.end()):
            return Number(value=low * _DOZEN, end=dozens.end(), said=said)
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


def _spoken_at(text: str, start: int) -> Number | None:
    found = _WORD_AT.match(text, start)
    if found is None:
        return None
    level = {
        name: " ".join(word.lower().replace("-", " ").split()) for name, word in found.groupdict("").items()
    }
    if level["count"]:
        count = _UNITS_SPOKEN.get(level["count"]) or float(level["count"])
        value = count + _BEHIND_AND[level["more"]]
    else:
        value = _PARTS_SPOKEN[level["part"]] if level["part"] else _UNITS_SPOKEN[level["word"]]
    if level["dozen"]:
        value *= _DOZEN
    few = level["part"] in _A_FEW
    said = (f"'{found.group().strip()}' is taken as {value:g}",) if few else ()
    return Number(value=value, end=found.end(), said=said, word=True)
