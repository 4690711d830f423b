"""Kinds of bake as data: the words that choose one, its shape and heat, and what is not asked of it."""

from __future__ import annotations

from typing import Literal

from pydantic import model_validator

from advisor.knowledge_base.entry import Entry, Figure, Graded, Id, Text, Words
from advisor.knowledge_base.ingredient import Role
from advisor.knowledge_base.measured import Band

Heat = Literal["loaf", "thin", "dried", "steamed"]
Shape = Literal["tin", "round", "free_standing", "rolls", "flat"]


class KindGap(Entry):
    """A part of the answer that cannot be given for this kind, why, and the line that would help."""

    id: Id
    what: Text
    why: Text
    write: Words | None = None
    where: tuple[Id, ...] = ()
    """Fields of the process of which one has to be stated for the gap to be there."""


class Variant(Entry):
    """Bands of a kind that hold where one of some fields of the process is stated, as for rings that are boiled."""

    where: tuple[Id, ...]
    bands: tuple[Band, ...]


class MadeOf(Entry):
    """What such a dough is made of, and how far that speaks for the kind; below nought it speaks against it."""

    of: tuple[Id, ...]
    """Roles or traits of ingredients."""
    above: float
    """Share (0..1) of the dry weight that they must have together."""
    without: tuple[Id, ...] = ()
    """Roles or traits of which the dough has none."""
    beside: tuple[Id, ...] = ()
    """Roles or traits of which it has one at least, where some are named."""
    weight: float
    """Logarithm of odds."""


class Kind(Graded):
    """One kind of bake. Words are matched whole, with or without a plural ending."""

    id: Id
    name: Words
    says: Text
    title: tuple[Words, ...] = ()
    """Nouns that name it in a title, or in what a formula makes."""
    method: tuple[Words, ...] = ()
    """Words of its making."""
    shapes: tuple[Shape, ...] = ()
    process: tuple[Id, ...] = ()
    """Fields of the process that speak for it where they are stated."""
    needs_role: tuple[Role, ...] = ()
    """Only a formula with one of these ingredients is of this kind."""
    without_role: tuple[Role, ...] = ()
    """A formula with one of these ingredients is not of this kind."""
    shape: Shape | None = None
    """How it is baked where the formula names no pan."""
    heat: Heat = "loaf"
    loaf_dough: bool = True
    """Whether its dough is that of a loaf: where it is not, bands made on loaves hold it only loosely."""
    thickness_cm: Figure | None = None
    """How thick it is rolled or spread where the formula does not say."""
    griddle_c: Figure | None = None
    """Heat of the plate, where neither an oven nor a plate is stated."""
    griddle_side_min: Figure | None = None
    ends: Text
    """When the bake is over."""
    aim: Text | None = None
    """What a good one is like, where that differs from a loaf."""
    left_out: tuple[Id, ...] = ()
    """Measures that mean nothing here: no rule reads them and no gap is made of them."""
    groups_left_out: tuple[Id, ...] = ()
    """Groups of measures of which that holds."""
    symptoms_left_out: tuple[Id, ...] = ()
    causes_left_out: tuple[Id, ...] = ()
    levers_left_out: tuple[Id, ...] = ()
    bands: tuple[Band, ...] = ()
    """Bands that take the place of those of the structure."""
    variants: tuple[Variant, ...] = ()
    not_judged: tuple[KindGap, ...] = ()
    lends_to: Id | None = None
    """Trait of an ingredient: a dough that has it, and nothing of `without_role`, is not asked what this kind is not
    asked either, whatever its own kind is."""
    made_of: tuple[MadeOf, ...] = ()

    @model_validator(mode="after")
    def _plate_whole(self) -> Kind:
        if (self.griddle_c is None) != (self.griddle_side_min is None):
            raise ValueError("griddle_c and griddle_side_min go together")
        return self
