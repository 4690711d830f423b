"""The measures a baker thinks in: degrees, grams or cups, whose cups, how large an egg; kept for all commands."""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.whole_file import write_whole
from advisor.rendering.quantities import Units

DEGREES = ("C", "F")
AMOUNTS = ("grams", "cups")
REGIONS = {"us": "US", "metric": "metric", "uk": "UK", "au": "Australian"}
_WHOSE = {
    **{name: name for name in REGIONS},
    "usa": "us",
    "american": "us",
    "british": "uk",
    "australian": "au",
}
EGGS = ("small", "medium", "large", "extra large")
_SIZED = re.compile(r"\b(small|medium|large|jumbo|extra|xl)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class BakersMeasures:
    """Degrees (C, F), amounts (grams, cups), the region of cups and spoons, and the size of an egg without one."""

    degrees: str = "C"
    amounts: str = "grams"
    region: str = "us"
    egg: str = "large"

    def in_words(self) -> str:
        """Say them in a line."""
        return f"{self.degrees}, {self.amounts}, {REGIONS[self.region]} cups and spoons, {self.egg} eggs"

    @property
    def units(self) -> Units:
        """The units that pages are written in."""
        if self.degrees == "F":
            return "us"
        return "uk" if self.region == "uk" else "metric"

    def with_units(self, units: Units) -> BakersMeasures:
        """Measures that write in these units."""
        degrees, amounts = ("F", "cups") if units == "us" else ("C", "grams")
        return replace(self, degrees=degrees, amounts=amounts, region=region_of(units) or self.region)

    def with_eggs(self, formula: Formula) -> tuple[Formula, tuple[str, ...]]:
        """Weigh eggs that were written without a size as this kitchen's; give the formula, and what was done."""
        lines, said = [], []
        for line in formula.lines:
            weighed = self._egg_line(line)
            if weighed is not line:
                said.append(f"{line.text.strip()}: {self.egg} eggs, {weighed.grams:.0f} g")
            lines.append(weighed)
        return (replace(formula, lines=tuple(lines)) if said else formula), tuple(said)

    def _egg_line(self, line: Line) -> Line:
        if not line.counted or line.ingredient.family != "eggs" or _SIZED.search(line.text):
            return line
        size = self.egg.replace(" ", "_")
        weights = line.ingredient.weights
        each = weights.get(f"{size}_{self.region}") or weights.get(size)
        if each is None or "(" in line.text or abs(each.grams * line.counted - line.grams) < 0.5:
            return line
        grams = each.grams * line.counted
        how = f"{line.counted} x {each.grams:g} g ({self.egg})"
        return replace(line, grams=grams, conversion=how, grade=each.grade)

    def household(self, grams: float, ingredient: str, cups: Mapping[str, float]) -> str:
        """Give grams as cups or spoons, "about 3 tbsp"; empty where the baker weighs or no cup's weight is known.

        `cups` is ingredient name to grams in a cup.
        """
        if self.amounts == "grams" or (each := cups.get(ingredient)) is None:
            return ""
        quarters = round(4 * grams / each)
        if quarters >= 1 and abs(quarters / 4 * each - grams) <= 0.12 * grams:
            return f"about {_fraction(quarters)} cup{'s' if quarters > 4 else ''}"
        spoons = round(2 * 16 * grams / each) / 2
        return (
            f"about {spoons:g} tbsp"
            if spoons >= 1
            else f"about {max(round(2 * 48 * grams / each) / 2, 0.5):g} tsp"
        )


def _fraction(quarters: int) -> str:
    whole, part = divmod(quarters, 4)
    rest = ("", "1/4", "1/2", "3/4")[part]
    return " ".join(text for text in (str(whole) if whole else "", rest) if text)


def region_of(units: Units) -> str | None:
    """Whose cups a formula means where only units are named; metric units name no country's cups."""
    return None if units == "metric" else units


def read_measures(typed: str, now: BakersMeasures) -> tuple[BakersMeasures, tuple[str, ...]]:
    """Read a line such as `F uk medium`; give the measures, and the words that were not understood."""
    words = typed.lower().replace(",", " ").replace("extra large", "extra-large").split()
    doubts: list[str] = []
    for word in words:
        word = word.strip(".°").removesuffix("-cups")
        if word.upper() in DEGREES:
            now = replace(now, degrees=word.upper())
        elif word in ("celsius", "centigrade", "fahrenheit"):
            now = replace(now, degrees="F" if word[0] == "f" else "C")
        elif word in ("g", "gram", *AMOUNTS, "cup"):
            now = replace(now, amounts="cups" if word[0] == "c" else "grams")
        elif word in _WHOSE:
            now = replace(now, region=_WHOSE[word])
        elif word.replace("-", " ") in EGGS:
            now = replace(now, egg=word.replace("-", " "))
        elif word not in ("egg", "eggs", "and"):
            doubts.append(word[:20])
    return now, tuple(doubts)


def kept_measures(path: Path) -> BakersMeasures | None:
    """Give the measures that were kept; `None` where none were, or the file does not hold them."""
    try:
        data = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError):
        return None
    if not isinstance(data, dict):
        return None
    usual = BakersMeasures()

    def one(name: str, known: Collection[str], otherwise: str) -> str:
        value = data.get(name)
        return value if isinstance(value, str) and value in known else otherwise

    return BakersMeasures(
        degrees=one("degrees", DEGREES, usual.degrees),
        amounts=one("amounts", AMOUNTS, usual.amounts),
        region=one("region", REGIONS, usual.region),
        egg=one("egg", EGGS, usual.egg),
    )


def keep_measures(measures: BakersMeasures, path: Path) -> str:
    """Write them; give what went wrong, in words, or nothing."""
    data = {
        "degrees": measures.degrees, "amounts": measures.amounts, "region": measures.region, "egg": measures.egg
    }  # fmt: skip
    try:
        write_whole(path, json.dumps(data, indent=1) + "\n", make_folder=True)
    except InputFault as fault:
        return f"They cannot be kept ({str(fault).rpartition(': ')[2]})."
    return ""
