"""What some of an ingredient does to bubbles, crumb, colour and keeping: a dose, a form and a size."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from advisor.knowledge_base.entry import Entry, Figure, Id, Text
from advisor.knowledge_base.ingredient import ProteinClass, Role

Acted = Literal[
    "film", "firmness", "cohesion", "springiness", "firming", "crust", "crumb_light", "mould", "cells", "yeast",
    "freed", "stiffness",
]  # fmt: skip
"""What is acted on: gas kept, crumb walls, their holding together and springing back, staling, browning of the
crust, lightness of the crumb, days without mould, size of the cells, pace of the yeast, sugar that amylase frees,
stiffness of the dough."""
Amount = Literal[
    "fat", "fibre", "starch", "sugars", "left_sugars", "lactose", "polyols", "allulose", "salt", "acid", "protein"
]  # fmt: skip
"""Amounts of the whole dough that a dose may be counted in."""


class Dose(Entry):
    """What counts towards a dose, in g per 100 g of dry base: the first of these that is given."""

    ingredients: tuple[Id, ...] = ()
    traits: tuple[Id, ...] = ()
    roles: tuple[Role, ...] = ()
    protein: tuple[ProteinClass, ...] = ()
    amount: Amount | None = None

    @model_validator(mode="after")
    def _counts_one_kind_of_thing(self) -> Dose:
        given = (self.ingredients, self.traits, self.roles, self.protein, self.amount)
        if sum(bool(x) for x in given) != 1:
            raise ValueError("a dose counts one of ingredients, traits, roles, protein, amount")
        return self


class Influence(Figure):
    """One relation: ln(after / before) = value x form(dose / scale); for crumb_light a difference of L* instead.

    `linear` x; `saturates` 1 - exp(-x); `peaks` x exp(1 - x), most at the scale and gone far past it;
    `grows` x^2 / (1 + x), little at first and linear later. `where` says in which film it acts: gluten's, the weak
    one of starch and gum, or any; it counts by how much of the dough that film carries.
    """

    id: Id
    of: Dose
    on: Acted
    where: Literal["any", "gluten", "weak"] = "any"
    form: Literal["linear", "saturates", "peaks", "grows"]
    scale: Annotated[float, Field(gt=0)]
    beyond: Annotated[float, Field(ge=0)] = 0.0
    """Part of the dose that does nothing yet, g per 100 g of dry base."""
    says: Text
