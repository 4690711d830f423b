"""The size of one piece in the oven: what a pan, a tray or a bare stone makes of a volume of dough."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.formula.piece_words import ROPES
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.assumptions import ProcessWithDefaults

_ROPE = re.compile(ROPES, re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceShape:
    """One piece in the oven, cm and mL; `section_width_cm` is what the long-loaf section uses."""

    width_cm: float
    height_cm: float
    section_width_cm: float
    volume_ml: float

    @property
    def length_cm(self) -> float:
        """Length of a brick of this width, height and volume."""
        return self.volume_ml / (self.width_cm * self.height_cm)


def piece_shape(
    formula: Formula, with_defaults: ProcessWithDefaults, volume_ml: float, knowledge: Knowledge
) -> PieceShape:
    """Dimensions of one piece of `volume_ml` [cm].

    A tin gives width and length; other pieces have the proportions of knowledge/coefficients.yaml. A section of a
    long loaf loses heat in two directions only, so that of a piece which loses it in three is taken narrower.
    """
    p, c = formula.process, knowledge.coefficient
    if with_defaults.pan_kind in ("tin", "round"):
        width = p.pan_width_cm or c("assumed_tin_width_cm")
        shortest = width if with_defaults.pan_kind == "round" else c("assumed_tin_length_share") * width
        length = p.pan_length_cm or max(volume_ml / (c("assumed_tin_height_share") * width**2), shortest)
        area = length * width * (math.pi / 4 if with_defaults.pan_kind == "round" else 1.0)
        return PieceShape(
            width_cm=width, height_cm=volume_ml / area, section_width_cm=width, volume_ml=volume_ml
        )
    if with_defaults.pan_kind == "flat":
        height = c("flat_height_cm")
        if with_defaults.sheet and p.pan_length_cm and p.pan_width_cm:
            height = volume_ml / (p.pan_length_cm * p.pan_width_cm)
        elif p.pan_height_cm and not p.pan_length_cm:
            height = p.pan_height_cm  # without a length it is the dough's own
        width = max((volume_ml / height) ** 0.5, height)
        return PieceShape(width_cm=width, height_cm=height, section_width_cm=width, volume_ml=volume_ml)
    if with_defaults.pan_kind == "rolls" and _ROPE.search(f"{formula.name}\n{formula.source_text}"):
        # Heat has half a rope's thickness to go, and not half a roll's.
        width = (4 * volume_ml / (math.pi * c("rope_length_cm"))) ** 0.5
        return PieceShape(width_cm=width, height_cm=width, section_width_cm=width, volume_ml=volume_ml)
    if with_defaults.pan_kind == "rolls":
        flat, long, share = c("roll_height_over_width"), c("roll_length_over_width"), c("roll_section_share")
    else:
        flat, long, share = (
            c("hearth_height_over_width"),
            c("hearth_length_over_width"),
            c("hearth_section_share"),
        )
    width = (volume_ml / (flat * long)) ** (1 / 3)
    return PieceShape(
        width_cm=width, height_cm=flat * width, section_width_cm=share * width, volume_ml=volume_ml
    )
