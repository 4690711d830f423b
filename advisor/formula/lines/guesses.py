"""Measures by hand and packings without their label: what is guessed of them, and how far it may be off."""

from __future__ import annotations

from advisor.formula.lines.quantities import Part
from advisor.knowledge_base.ingredient import Ingredient


def guessed(part: Part, grams: float, ingredient: Ingredient) -> tuple[str, ...]:
    """Say in grams how far a guess may be off; nothing of a measure that everybody fills alike."""
    unit = part.unit
    size = (unit.millilitres or unit.grams) if unit is not None else None
    if unit is None or unit.guess is None or not size:
        return ()
    low, high = (_rough(grams * end / size) for end in unit.guess)
    return (f"'{part.text}' of {ingredient.name} is a guess: {_rough(grams)} g; it may be {low} to {high} g",)


def _rough(grams: float) -> str:
    return f"{grams:.0f}" if grams >= 10 else f"{grams:.2g}"
