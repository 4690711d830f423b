"""Takes the protein of a wheat flour from its line ("500 g flour, 10 % protein"), which is how strong it is."""

from __future__ import annotations

import re

from advisor.knowledge_base.ingredient import Ingredient

_STATED = re.compile(
    r"(\d{1,2}(?:[.,]\d+)?)\s*(?:%|per\s?cent|g\s+(?:of\s+)?)\s*(?:of\s+)?protein"
    r"|protein\s*(?:content)?\s*(?:of|:|=)?\s*(\d{1,2}(?:[.,]\d+)?)\s*%",
    re.IGNORECASE,
)
_LIKELY_PCT = (6.0, 18.0)
"""Protein of wheat flours that are sold: anything else is a number of something else."""


def with_stated_protein(ingredient: Ingredient, text: str) -> tuple[Ingredient, tuple[str, ...]]:
    """Give a flour of gluten the protein that its line states, starch giving way, and a sentence that says so.

    What states none, or no likely one, comes back as it is, without a sentence.
    """
    stated = _STATED.search(text) if "rotein" in text else None
    if stated is None or "flour" not in ingredient.roles or not ingredient.protein_classes.get("gluten"):
        return ingredient, ()
    protein = float((stated[1] or stated[2]).replace(",", "."))
    if not _LIKELY_PCT[0] <= protein <= _LIKELY_PCT[1]:
        return ingredient, ()
    held = ingredient.per_100g
    more = protein - held.protein
    now = held.model_copy(
        update={
            "protein": protein,
            "carbohydrate": held.carbohydrate - more,
            "starch": max(held.starch - more, 0.0),
        }
    )
    return (
        ingredient.model_copy(update={"per_100g": now}),
        (f"{ingredient.name} with {protein:.4g} g protein in 100 g, as the line says",),
    )
