"""What a loaf holds, and what would stand on its label: the kinds `nutrition` and `label`."""

from __future__ import annotations

from typing import Literal

from advisor.explanation.label import LabelAnswer, NutritionAnswer
from advisor.rendering.documents.shape import Document, shape


@shape
class NutritionDocument(Document):
    """What the baked loaf holds, as `write --as nutrition` shows it."""

    kind: Literal["nutrition"] = "nutrition"
    """What the baked loaf holds."""
    nutrition: NutritionAnswer
    """In 100 g and in a slice or piece: an estimate, not for sale."""


@shape
class LabelDocument(Document):
    """What would stand on a label, as `write --as label` shows it."""

    kind: Literal["label"] = "label"
    """What would stand on a label."""
    label: LabelAnswer
    """Ingredients, allergens and two forms of declaration: an estimate, not for sale."""
