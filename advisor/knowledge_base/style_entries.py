"""How breads of a kind are made: what carries and raises them, and how much of each part good ones hold."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from advisor.knowledge_base.entry import Entry, Graded, Id, Text, Words
from advisor.knowledge_base.ingredient import Role

Amount = Annotated[float, Field(ge=0, le=10_000)]


class Spread(Entry):
    """From least over usual to most, as good formulas of the style have it; written as a list of these three."""

    least: Amount
    usual: Amount
    most: Amount

    @model_validator(mode="before")
    @classmethod
    def _of_a_list(cls, written: object) -> object:
        if not isinstance(written, list | tuple):
            return written
        if len(written) != 3:
            raise ValueError("give three numbers: least, usual, most")
        return dict(zip(("least", "usual", "most"), written, strict=True))

    @model_validator(mode="after")
    def _in_order(self) -> Spread:
        if not self.least <= self.usual <= self.most:
            raise ValueError("least, usual and most stand in this order")
        return self

    def times(self, factor: float) -> Spread:
        """The same spread of something so many times as large, in the factor's unit times its own."""
        return Spread(least=self.least * factor, usual=self.usual * factor, most=self.most * factor)

    @property
    def half(self) -> float:
        """Half of its width, at the least a tenth of what is usual, in its own unit."""
        return max((self.most - self.least) / 2, 0.1 * self.usual, 1e-6)


class DoughPart(Entry):
    """What an ingredient is in a dough, where several can stand in for each other: a meal, a fat, a soft cheese."""

    id: Id
    name: Words
    ingredients: tuple[Id, ...] = ()
    roles: tuple[Role, ...] = ()
    """An ingredient that is not named belongs to the first part of which it has a role, a family or a trait."""
    families: tuple[Id, ...] = ()
    traits: tuple[Id, ...] = ()
    anywhere: Spread | None = None
    """g per 100 g of dough that any bread can take of it."""
    means: dict[Id, Id] = {}
    """What a baker who writes only the short name means: of the ingredient so called, the one to take. Who writes
    `whole` means what he writes."""


class StylePart(Entry):
    """How much of some parts together a style holds."""

    share: Spread
    """g per 100 g of dough; least and usual hold where the part is there at all."""
    takes: Annotated[tuple[Id, ...], Field(min_length=1)]
    """Parts of a dough, of which it may hold any."""
    needed: bool = False
    """Without one of these it is no bread of this style."""
    pantry: tuple[Id, ...] = ()
    """Ingredients that are taken from the cupboard where none is named; the first that may be used."""
    for_: Text | None = Field(default=None, alias="for")
    """What it is there for, where it is taken from the cupboard."""


class StyleBake(Entry):
    """How a style is baked as one kind: shape, size and the numbers of its process."""

    kinds: Annotated[tuple[Id, ...], Field(min_length=1)]
    called: Words
    """What a title calls it: loaf, rolls."""
    pan: Words
    """The pan, as a process line says it; with its size where it is a tin."""
    slices: Annotated[int, Field(ge=1, le=60)]
    fill: Spread | None = None
    """g of dough for a mL of the tin; in hundredths (42 is 0.42)."""
    piece_g: Spread | None = None
    """g of dough a piece."""
    g_per_cm2: Spread | None = None
    """g of dough for a square centimetre of the base, whatever the pan's depth."""
    oven_c: Spread | None = None
    bake_min: Spread | None = None
    proof_min: Spread | None = None
    proof_c: Amount | None = None
    mix_min: Amount = 3
    rest_min: Amount | None = None
    water_c: Amount | None = None
    thickness_cm: Amount | None = None
    griddle_c: Amount | None = None
    griddle_side_min: Amount | None = None
    steam_min: Amount | None = None
    boil_min: Amount | None = None
    first_rise_min: Amount | None = None
    """A rise of the whole dough before it is shaped."""
    only_asked: bool = False
    """Whether it is made only where the baker calls it so: nobody who wants rolls means bagels."""
    whites_whipped: bool = False

    @model_validator(mode="after")
    def _has_a_size_and_heat(self) -> StyleBake:
        if (self.fill is None) == (self.piece_g is None):
            raise ValueError("a bake has either fill (a tin) or piece_g (single pieces)")
        if self.oven_c is None and self.griddle_c is None and self.steam_min is None:
            raise ValueError("a bake needs an oven, a griddle or steam")
        return self


class Style(Graded):
    """One way of making a bread: what carries it and what lifts it, the parts, and how it is baked."""

    id: Id
    name: Words
    """What it is, after 'a loaf of' or on its own: gluten and egg, raised by yeast."""
    carried_by: Id
    """Word for what carries it; two styles with the same one and the same leavening are alike."""
    leavening: Id
    parts: Annotated[dict[Id, StylePart], Field(min_length=2)]
    bakes: Annotated[tuple[StyleBake, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _can_be_whole(self) -> Style:
        least, most = (sum(getattr(p.share, end) for p in self.parts.values()) for end in ("least", "most"))
        sure = sum(p.share.least for p in self.parts.values() if p.needed or p.pantry)
        if sure > 100 or most < 100:
            raise ValueError(
                f"the parts come to {least:g} to {most:g} g, and 100 g of dough must lie between"
            )
        kinds = [(kind, bake.fill is None, bake.only_asked) for bake in self.bakes for kind in bake.kinds]
        if len(kinds) != len(set(kinds)):
            raise ValueError(
                "each kind is baked in one way in a tin, in pieces and as what is asked by its name"
            )
        return self


class BakersFormula(Graded):
    """A sound formula as a baker wrote it who had not seen the program, and how it was baked where that was read."""

    id: Id
    kind: Id
    called: Words
    """What the baker called it."""
    amounts: Annotated[dict[Id, Amount], Field(min_length=2)]
    """Ingredients in the baker's own order, g per 100 g of dough."""
    fill: Amount | None = None
    """g of dough for a mL of the tin; in hundredths (42 is 0.42)."""
    piece_g: Amount | None = None
    whole_g: Amount | None = None
    """g of dough of it all, where nobody counts its pieces."""
    g_per_cm2: Amount | None = None
    oven_c: Amount | None = None
    bake_min: Amount | None = None
    first_rise_min: Amount | None = None
    proof_min: Amount | None = None
    proof_c: Amount | None = None
    rest_min: Amount | None = None
    mix_min: Amount | None = None
    griddle_c: Amount | None = None
    griddle_side_min: Amount | None = None
    steam_min: Amount | None = None
    boil_min: Amount | None = None
    whites_whipped: bool = False
