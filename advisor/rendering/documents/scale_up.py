"""A formula for a bakery's day: the kind `scale-up`."""

from __future__ import annotations

from typing import Literal

from advisor.explanation.scale_up import ScaleUpAnswer
from advisor.rendering.documents.shape import Document, shape


@shape
class ScaleUpDocument(Document):
    """A day's bake, as `write --batches` shows it."""

    kind: Literal["scale-up"] = "scale-up"
    """A formula for a bakery's day."""
    plan: ScaleUpAnswer
    """Batches, water and ice, oven loads, waiting, pans."""
