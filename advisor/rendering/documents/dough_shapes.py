"""The shapes of a formula and of the numbers worked out from it."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from advisor.knowledge_base.entry import Grade
from advisor.models.dough.nutrition import Nutrition
from advisor.rendering.documents.shape import Pair, Share, shape

Basis = Literal["computed", "assumed", "not_judged"]


@shape
class LineShape:
    """One ingredient line."""

    text: str
    """The line as it was written."""
    ingredient: str
    """Id of what it was taken to be."""
    name: str
    """Name of that ingredient."""
    grams: Annotated[float, Field(gt=0)]
    """Its weight, g."""
    kitchen: str | None
    """The weight in pieces, spoons or cups; null where that is not known or not of use."""
    conversion: str
    """How the grams came about where something else was written; empty where grams were."""
    grade: Grade
    """How well that conversion is known."""


@shape
class FormulaShape:
    """The formula as it was read."""

    name: str
    """Its title."""
    dough_g: float
    """All ingredients together, g."""
    slices: int
    """Slices, or pieces, of one loaf."""
    loaves: int
    """How many loaves the dough makes."""
    lines: tuple[LineShape, ...]
    """The ingredients in their order."""


@shape
class ProcessValueShape:
    """One thing that is done with the dough."""

    value: bool | float | str | None
    """The number in the unit of its name (min, C, cm, m), a word, or yes and no."""
    assumed: bool
    """Whether the formula does not say it."""


@shape
class MeasureShape:
    """One number worked out from the formula."""

    name: str
    """What it is called."""
    value: float | None
    """The number; null where none can be worked out."""
    low: float | None
    """Lower end of what it may be; null without `--all`."""
    high: float | None
    """Upper end of what it may be; null without `--all`."""
    unit: str
    """Its unit; - for a ratio."""
    band: Pair | None
    """From where to where it lies in a good loaf of this structure; an open end is null."""
    state: Literal["in", "low", "high", "unbanded"]
    """Where the value lies against that band."""
    basis: Basis
    """Worked out from what is stated; resting on something assumed; or not judged, since there is no value."""
    excess: Share
    """How far past the edge of the band, 1 being as far as matters."""
    reason: str
    """Why there is no value; empty where there is one."""


@shape
class NutritionShape:
    """What the baked loaf holds, worked out from the ingredients: no label for sale."""

    per_100g: Nutrition | None
    """In 100 g of the baked loaf; null where the bake cannot be followed."""
    per_slice: Nutrition | None
    """In one slice or piece; null where the bake cannot be followed."""
