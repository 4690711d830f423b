"""The units that people write, found by any of their names; sizes come from the knowledge."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from advisor.knowledge_base.ingredient import HouseholdWeight, Ingredient
from advisor.knowledge_base.measured import Unit

_PACKINGS = (
    "can", "tin", "jar", "tub", "bag", "box", "carton", "block", "bottle", "container", "package", "pkg",
    "pack", "packet", "sachet",
)  # fmt: skip
CONTAINERS = frozenset((*_PACKINGS, *(f"{word}s" for word in _PACKINGS), "boxes"))
"""Words for a packing whose weight only its label tells."""
GRADES = ("published", "practice", "memory", "calibrated", "demo")
"""Evidence grades, best first."""
OUNCES = frozenset({"oz", "ounce"})
_OUNCES_ALIKE = 0.08
"""Share by which an ounce may differ by weight and by volume unasked: a cup filled by hand differs as much."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Household:
    """How many grams one unit of an ingredient weighs, from which household weight."""

    grams: float
    weight: HouseholdWeight
    unit: str
    said: str


def _canonical(text: str) -> str:
    return " ".join(text.replace(".", " ").replace("-", " ").split())


class UnitTable:
    """All units of the knowledge, found by name; names are read as written first, then in small letters."""

    def __init__(self, units: Mapping[str, Unit]) -> None:
        self.units = units
        self._exact: dict[str, Unit] = {}
        self._folded: dict[str, Unit] = {}
        for unit in units.values():
            for name in (*unit.names, unit.id.replace("_", " ").replace("-", " ")):
                self._exact.setdefault(_canonical(name), unit)
                self._folded.setdefault(_canonical(name).lower(), unit)
        # A packing is no unit of its own: "1 can (400 g) beans" has its weight in the bracket.
        packings = [unit for unit in units.values() if unit.guess and CONTAINERS.issuperset(unit.names)]
        self._packings = {name: unit for unit in packings for name in unit.names}
        for name in self._packings:
            self._folded.pop(name, None)
        spelt = sorted({*self._folded}, key=len, reverse=True)
        names = "|".join(r"[\s.\-]*".join(re.escape(w) for w in name.split()) for name in spelt if name)
        self._at = re.compile(rf"(?P<unit>{names or '(?!)'})(?P<plural>e?s)?\.?(?![^\W\d_])", re.IGNORECASE)
        self._sized = tuple(u for u in units.values() if u.millilitres)

    def unit_at(self, text: str, start: int) -> tuple[Unit, int] | None:
        """Give the unit whose name begins at `start`, and where it ends."""
        found = self._at.match(text, start)
        if found is None:
            return None
        name = _canonical(found["unit"])
        unit = self._exact.get(name) or self._folded[name.lower()]
        if found["plural"] and len(name) < 2:
            return None
        return unit, found.end()

    def packing(self, word: str) -> Unit | None:
        """Give the unit of a packing whose usual content is known as a guess: a tin, a tub."""
        return self._packings.get(word.lower())

    def size(self, unit: Unit, region: str) -> float | None:
        """Give grams or millilitres of a unit in a region."""
        return unit.regions.get(region, unit.millilitres or unit.grams)

    def ounces_alike(self, ingredient: Ingredient, region: str) -> bool:
        """Say whether an ounce of a liquid comes to the same by weight and by volume, as with water, milk and oil."""
        fluid, weight = self._exact.get("fl oz"), self._exact.get("oz")
        if fluid is None or weight is None or not weight.grams:
            return False
        found = self.household(fluid, ingredient, region)
        return found is not None and abs(found.grams / weight.grams - 1) <= _OUNCES_ALIKE

    def household(
        self, unit: Unit, ingredient: Ingredient, region: str, count: float = 1.0
    ) -> Household | None:
        """Weigh one unit by volume or by piece; `None` where no household weight of the ingredient is known.

        A volume without a weight of its own is scaled from the best graded household weight, and among those
        from the one nearest in size to the whole amount (cup, tablespoon, teaspoon).
        """
        weights = ingredient.weights
        for key in (f"{unit.id}_{region}", unit.id):
            weight = weights.get(key)
            if weight and (
                key != unit.id or not unit.millilitres or self.size(unit, region) == unit.millilitres
            ):
                said = f"{weight.grams:g} g a {unit.names[0]}"
                return Household(grams=weight.grams, weight=weight, unit=key, said=said)
        if not unit.millilitres:
            return None
        volume = self.size(unit, region) or unit.millilitres
        known = [
            (GRADES.index(weights[u.id].grade), abs(math.log(count * volume / u.millilitres)), u.id, u)
            for u in self._sized
            if u.millilitres and u.id in weights
        ]
        if not known:
            return None
        near = min(known, key=lambda entry: entry[:3])[3]
        weight, reference = weights[near.id], near.millilitres or volume
        grams = weight.grams * volume / reference
        said = (
            f"{grams:.4g} g a {unit.names[0]}, from {weight.grams:g} g a {near.names[0]} of {reference:g} mL"
        )
        return Household(grams=grams, weight=weight, unit=near.id, said=said)
