"""An ingredient of the user's own: its packet's panel, and how it behaves, given or taken over from one like it."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import Annotated

from pydantic import Field, model_validator

from advisor.knowledge_base.entry import Entry, Id, Share, Text, Words
from advisor.knowledge_base.ingredient import Allergen, Percent, ProteinClass, Role
from advisor.knowledge_base.panel import EuPanel, PanelFigures, UsPanel

Price = Annotated[float, Field(gt=0, le=100_000)]
GramsPerGram = Annotated[float, Field(ge=-2, le=60)]
MeasureGrams = Annotated[float, Field(gt=0, le=5_000)]


@lru_cache(maxsize=8192)  # a search lays one word beside every name of every ingredient
def level(name: str) -> str:
    """Give the form in which two names count as the same: small letters and digits alone."""
    plain = unicodedata.normalize("NFKD", name.casefold())
    return "".join(c for c in plain if c.isascii() and c.isalnum())


class OwnIngredient(Entry):
    """One entry of the user's file; figures beside the panel are per 100 g, prices in the user's money."""

    name: Words
    """What you call it in formulas."""
    id: Id | None = None
    """By which files name it; made from the name where it is left out."""
    also: tuple[Words, ...] = ()
    """What else you call it."""
    like: Words | None = None
    """A known ingredient that behaves like it: what you leave out is taken from that one."""
    us_panel: UsPanel | None = None
    """The packet's panel, as in the United States."""
    eu_panel: EuPanel | None = None
    """The packet's panel, as in the European Union."""
    water: Percent | None = None
    """Water, g in 100 g, where you know it."""
    ash: Percent | None = None
    """Ash, g in 100 g, where you know it."""
    alcohol: Percent | None = None
    """Alcohol, g in 100 g."""
    family: Id | None = None
    """With which ingredients it is listed."""
    roles: Annotated[tuple[Role, ...], Field(min_length=1)] | None = None
    """What it does in a dough."""
    protein_classes: dict[ProteinClass, Share] | None = None
    """Of which kinds its protein is; the shares add up to 1."""
    dry_base: bool | None = None
    """Whether it counts as one of the powders that stand in for flour."""
    countable: Words | None = None
    """What one piece of it is called, where it is counted."""
    allergens: tuple[Allergen, ...] | None = None
    """Allergens that the packet names; an empty list for none."""
    traits: tuple[Id, ...] | None = None
    """What rules may know of it beside its numbers."""
    gives_water: Share | None = None
    """Share of its own water that a dough gets, 0 to 1."""
    dough_uptake: GramsPerGram | None = None
    """Grams of water that one gram takes up in the dough."""
    holds_when_baked: Annotated[float, Field(ge=0, le=60)] | None = None
    """Grams of water that one gram holds in the baked loaf."""
    weights: dict[Id, MeasureGrams] = {}
    """Grams in a household measure of it, such as cup or tbsp."""
    price_per_kg: Price | None = None
    """Price of a kilogram, in your own money."""
    note: Text | None = None
    """Anything else; with the word energy it says why the energy is not what the parts add up to."""

    @model_validator(mode="after")
    def _whole(self) -> OwnIngredient:
        for name in (self.name, *self.also):
            if not name.isprintable():
                raise ValueError("a name must be one line without control characters")
            if not re.search("[a-z]", level(name)):
                raise ValueError(f"the name '{name}' needs a Latin letter, by which formulas can name it")
        if (self.us_panel is None) == (self.eu_panel is None):
            raise ValueError("give one nutrition panel: us_panel or eu_panel")
        if self.like is None:
            missing = [key for key in ("roles", "allergens", "dough_uptake") if getattr(self, key) is None]
            if missing:
                raise ValueError(
                    f"without 'like', say {', '.join(missing)}; or name an ingredient it is like"
                )
        if not re.fullmatch("[a-z][a-z0-9_-]*", self.key):
            raise ValueError(f"no id can be made of the name '{self.name}': add id, such as own_flour")
        return self

    @property
    def key(self) -> str:
        """The id: the one given, or the name in small letters with underscores."""
        if self.id is not None:
            return self.id
        plain = unicodedata.normalize("NFKD", self.name.casefold())
        words = re.findall("[a-z0-9]+", "".join(c for c in plain if not unicodedata.combining(c)))
        return "_".join(words)[:60].rstrip("_")

    @property
    def figures(self) -> PanelFigures:
        """What the panel says, per 100 g."""
        panel = self.us_panel or self.eu_panel
        assert panel is not None  # one of the two, as checked above
        return panel.figures()


class OwnFile(Entry):
    """The user's file: own ingredients, and prices per kilogram of any ingredient by id or name."""

    ingredients: tuple[OwnIngredient, ...] = ()
    prices: dict[str, Price] = {}
