"""The weight of one line, and how it came about."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from advisor.knowledge_base.entry import Grade
from advisor.knowledge_base.ingredient import Ingredient

BareNumber = Literal["either", "grams", "kilos", "share"]
"""What a number without a unit is in a text: pieces or grams by the ingredient, grams, kg, or a share of the base."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """Grams of one line, and how they came about."""

    grams: float
    conversion: str = ""
    grade: Grade = "practice"
    counted: int | None = None
    said: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()
    regional: tuple[str, ...] = ()
    """What holds for the whole text: the sizes of cups and spoons."""


def with_more(
    weighed: Weighed,
    *,
    grams: float | None = None,
    conversion: str | None = None,
    counted: int | None = None,
    said: tuple[str, ...] = (),
    doubts: tuple[str, ...] = (),
) -> Weighed:
    """Give a weight with some of it changed, and with further notes."""
    return Weighed(
        grams=weighed.grams if grams is None else grams,
        conversion=weighed.conversion if conversion is None else conversion,
        grade=weighed.grade,
        counted=weighed.counted if counted is None else counted,
        said=(*weighed.said, *said),
        doubts=(*weighed.doubts, *doubts),
        regional=weighed.regional,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """What one text says, wherever it stands; without `weighed` it is an ingredient of unknown weight."""

    text: str
    ingredient: Ingredient
    weighed: Weighed | None = None
    traits: tuple[str, ...] = ()
    age_months: float = 0.0
    celsius: float | None = None
    said: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()
    unknown: bool = False
    beside: str = ""
    """What it is for, where that is no dough: "on top"."""
