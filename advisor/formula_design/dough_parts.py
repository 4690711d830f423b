"""Which part of a dough an ingredient is, and how much of each part a formula holds."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.formula.formula import Line
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.style_entries import DoughPart, Style, StylePart


class DoughParts:
    """The parts of knowledge/dough_parts.yaml, looked up by ingredient."""

    def __init__(self, knowledge: Knowledge) -> None:
        self._parts = tuple(knowledge.dough_parts.values())
        self._named = {name: part for part in self._parts for name in part.ingredients}
        self._of: dict[str, DoughPart | None] = {}

    def of(self, ingredient: Ingredient) -> DoughPart | None:
        """The part that an ingredient is; `None` where it is none that a bread is made of."""
        if ingredient.id not in self._of:
            self._of[ingredient.id] = self._named.get(ingredient.id) or self._by_what_it_is(ingredient)
        return self._of[ingredient.id]

    def _by_what_it_is(self, ingredient: Ingredient) -> DoughPart | None:
        roles, traits = set(ingredient.roles), set(ingredient.traits)
        for part in self._parts:
            if roles & set(part.roles) or traits & set(part.traits) or ingredient.family in part.families:
                return part
        return None

    def place_in(self, ingredient: Ingredient, style: Style) -> str | None:
        """Name the part of a style that takes an ingredient; `None` where the style has no place for it."""
        part = self.of(ingredient)
        if part is None:
            return None
        return next((name for name, held in style.parts.items() if part.id in held.takes), None)

    def shares_in(self, lines: Iterable[Line], style: Style) -> tuple[dict[str, float], dict[str, float]]:
        """g per 100 g of dough of each part of a style, and of each ingredient (by name) that it has no place for."""
        lines = tuple(lines)
        total = sum(line.grams for line in lines)
        placed: dict[str, float] = {}
        foreign: dict[str, float] = {}
        for line in lines:
            share = 100 * line.grams / total if total > 0 else 0.0
            name = self.place_in(line.ingredient, style)
            if name is not None:
                placed[name] = placed.get(name, 0.0) + share
            elif not self._goes_anywhere(line.ingredient, share):
                foreign[line.ingredient.name] = foreign.get(line.ingredient.name, 0.0) + share
        return placed, foreign

    def _goes_anywhere(self, ingredient: Ingredient, share: float) -> bool:
        part = self.of(ingredient)
        return part is not None and part.anywhere is not None and share <= part.anywhere.most


def always_there(part: StylePart) -> bool:
    """Whether every bread of the style has this part: it is needed, or comes from the cupboard."""
    return part.needed or bool(part.pantry)
