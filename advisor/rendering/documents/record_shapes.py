"""The shape of what `record` answers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field

from advisor.rendering.documents.shape import Document, Share, shape

Mark = Annotated[int, Field(ge=1, le=5)]


@shape
class ForeseenShape:
    """What was expected before the bake."""

    cause: str | None
    """Id of the cause that the change followed was for."""
    cause_probability: Share | None
    """How likely that was."""
    efficacy: Share | None
    """What share of the cause the change takes away."""
    single: bool
    """Whether nothing but that change was done otherwise than in the bake before."""
    core_c: float | None
    """Core at the pull, C."""
    height_cm: float | None
    """Height of the loaf, cm."""
    volume_ml: float | None
    """Volume of the loaf, mL."""
    oven_offset_c: float | None
    """How much hotter than its dial the oven must be to explain the core that was measured, C."""
    powder_strength: float | None
    """How strong the baking powder must be to explain the height that was measured, 1 being fresh."""
    risk: Mapping[str, tuple[Share | None, Share]]
    """Risk of each symptom before the change followed (null where none was) and in this bake."""


@shape
class AmountShape:
    """One ingredient as baked."""

    ingredient: str
    """Its id."""
    name: str
    """Its name."""
    grams: float
    """Its weight, g."""


@shape
class BakeShape:
    """One bake as it is kept."""

    number: int
    """Its number in this record."""
    key: str
    """Its name in exports, the same in every record."""
    date: str
    """When it was baked: 2026-05-31 or 2026-05-31T14:20."""
    formula: str
    """Title of the formula."""
    text: str
    """The formula as it was baked."""
    saw: tuple[str, ...]
    """Symptoms that the loaf showed."""
    absent: Annotated[tuple[str, ...], Field(alias="not")]
    """Symptoms looked for and not there."""
    volume: Mark | None
    """Mark for the volume, 1 poor to 5 as wished."""
    crumb: Mark | None
    """Mark for the crumb."""
    slice: Mark | None
    """Mark for how it slices."""
    taste: Mark | None
    """Mark for the taste."""
    height_cm: float | None
    """Measured height, cm."""
    weight_g: float | None
    """Measured weight, g."""
    volume_ml: float | None
    """Measured volume, mL."""
    core_c: float | None
    """Measured core, C."""
    photo: str | None
    """Path of a photo."""
    notes: str | None
    """Notes."""
    followed: str | None
    """Id of the lever whose proposal was followed."""
    follows: str | None
    """Key of the bake that this one follows."""
    lots: Mapping[str, str]
    """Ingredient id to the supplier's lot."""
    amounts: tuple[AmountShape, ...]
    """What went in."""
    steps: Mapping[str, str]
    """Process line to its value."""
    foreseen: ForeseenShape | None
    """What was expected; null where nothing was."""


@shape
class DifferenceShape:
    """One thing done otherwise."""

    what: str
    """An ingredient or a process line."""
    before: Annotated[float | str | None, Field(alias="from")]
    """Grams or value before; null where it was not there."""
    after: Annotated[float | str | None, Field(alias="to")]
    """Grams or value after; null where it is not there."""


@shape
class ChangedShape:
    """What was done otherwise in one bake than in the one before."""

    number: int
    """Number of the bake."""
    after: int
    """Number of the one before."""
    differences: tuple[DifferenceShape, ...]
    """What was done otherwise."""


@shape
class ForeseenSymptomShape:
    """One symptom as foreseen and as it came."""

    before: Share | None
    """Risk before the change that was followed."""
    risk: Share
    """Risk in this bake."""
    seen: bool
    """Whether it came."""
    right: bool
    """Whether that is what was expected."""


@shape
class ForeseenMeasureShape:
    """One measure as foreseen and as read."""

    foreseen: float
    """As foreseen."""
    measured: float
    """As read."""


@shape
class LookBackShape:
    """What a bake says of what had been foreseen."""

    after: int | None
    """Number of the bake before; null where there is none."""
    outcome: Literal["worked", "in part", "failed"] | None
    """Whether the change that was followed helped; null where none was."""
    symptoms: Mapping[str, ForeseenSymptomShape]
    """Each symptom that was looked for."""
    measures: Mapping[str, ForeseenMeasureShape]
    """Each measure that was read."""
    causes: Mapping[str, tuple[Share, Share]]
    """How likely each cause is without and with what the trials say."""
    not_taught: str | None
    """Why nothing is learnt from this bake; null where something is."""


@shape
class ShiftShape:
    """One thing that the bakes have taught."""

    kind: Literal["cause", "change", "oven", "powder"]
    """About what."""
    id: str
    """Id of the cause or the lever; for the oven or the powder its own word."""
    value: float
    """A factor on the odds, degrees of the oven, or strength of the powder."""
    says: str
    """It in a sentence."""
    why: str
    """What it rests on."""
    bakes: tuple[int, ...]
    """Numbers of the bakes that it rests on."""


@shape
class RecordDocument(Document):
    """What `record` answers."""

    kind: Literal["record"] = "record"
    """The record of bakes."""
    verb: str
    """What was asked: add, list, show, over-time ..."""
    bakes: tuple[BakeShape, ...] = ()
    """The bakes that it is about."""
    changes: tuple[ChangedShape, ...] = ()
    """What was done otherwise from bake to bake."""
    best: int | None = None
    """Number of the best bake; null where none has marks."""
    looked_back: LookBackShape | None = None
    """What the bake says of what had been foreseen; null where that was not asked."""
    shifts: tuple[ShiftShape, ...] = ()
    """What the bakes have taught."""
    said: tuple[str, ...] = ()
    """What was done."""
