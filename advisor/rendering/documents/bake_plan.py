"""Bakes that teach most of a kitchen: the kind `bake-plan`."""

from __future__ import annotations

from typing import Literal

from advisor.explanation.bake_plan import BakePlanAnswer
from advisor.rendering.documents.shape import Document, shape


@shape
class BakePlanDocument(Document):
    """A plan of bakes or what they taught, as `plan-bakes` shows it."""

    kind: Literal["bake-plan"] = "bake-plan"
    """Bakes that teach most of a kitchen."""
    plan: BakePlanAnswer
    """The bakes, the kitchen's constants, and what the formula's own bake should give."""
