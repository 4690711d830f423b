"""The order of ingredients on a label: by falling weight as they went in, with the allergens marked.

Falling order of weight: Regulation (EU) No 1169/2011, article 18, and 21 CFR 101.4. Allergens stand out in the
list: the same regulation, article 21. Both from memory; what a label for sale needs, local rules decide.
"""

from __future__ import annotations

from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.knowledge_base.ingredient import Allergen, Ingredient


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelEntry:
    """One ingredient on the label: grams over all its lines, share of the dough in per cent, its allergens.

    Without grams where the formula gives no weight; such an entry stands last, and its place is not known.
    """

    name: str
    grams: float | None
    share_pct: float | None
    allergens: tuple[Allergen, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """The entries in their order, and every allergen of the formula."""

    entries: tuple[LabelEntry, ...]
    allergens: tuple[Allergen, ...]


def label_of(formula: Formula) -> Label:
    """Give the ingredients by falling weight; those of the same weight by name."""
    grams: dict[str, float] = {}
    kinds: dict[str, Ingredient] = {}
    for line in formula.lines:
        grams[line.ingredient.id] = grams.get(line.ingredient.id, 0.0) + line.grams
        kinds[line.ingredient.id] = line.ingredient
    dough = sum(grams.values())
    order = sorted(grams, key=lambda key: (-grams[key], kinds[key].name))
    entries = [
        LabelEntry(
            name=kinds[key].name,
            grams=grams[key],
            share_pct=100 * grams[key] / dough,
            allergens=kinds[key].allergens,
        )
        for key in order
    ]
    rest = {e.ingredient.id: e.ingredient for e in formula.unweighed if e.ingredient.id not in grams}
    entries += (
        LabelEntry(name=e.name, grams=None, share_pct=None, allergens=e.allergens)
        for e in sorted(rest.values(), key=lambda e: e.name)
    )
    allergens = tuple(sorted({a for entry in entries for a in entry.allergens}))
    return Label(entries=tuple(entries), allergens=allergens)
