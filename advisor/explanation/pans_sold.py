"""Pans that people can buy, near that of a formula: how much dough for each, and its bake timed by the heat model."""

from __future__ import annotations

from advisor.formula.formula import Formula
from advisor.formula.writing.scaling import Pan, scale_to_pan
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.measured import PanSize
from advisor.knowledge_base.shapes import shape
from advisor.models.retiming import Retimed, retimed

_NEAREST_PANS = 3


@shape
class OtherPan:
    """A pan that people can buy."""

    name: str
    """What it is called."""
    length_cm: float
    """Length inside, or diameter, cm."""
    width_cm: float
    """Width inside, or diameter, cm."""
    height_cm: float
    """Height inside, cm."""
    factor: float
    """By how much to scale the formula for it, each pan filled alike."""
    bake: Retimed | None
    """The bake timed for it; null where no model follows it."""


def pans_sold(formula: Formula, knowledge: Knowledge) -> tuple[OtherPan, ...]:
    """Give the known pans nearest to that of a formula by volume; none where it names no tin with its sizes."""
    volume = formula.process.pan_volume_ml
    if volume is None:
        return ()
    known = [p for p in knowledge.pan_sizes.values() if p.kind in ("tin", "round")]
    known.sort(key=lambda p: abs(_pan(p).volume_ml / volume - 1))
    return tuple(_other(formula, size, knowledge) for size in known[:_NEAREST_PANS])


def _pan(size: PanSize) -> Pan:
    return Pan(
        length_cm=size.length_cm,
        width_cm=size.width_cm,
        height_cm=size.height_cm,
        is_round=size.kind == "round",
    )


def _other(formula: Formula, size: PanSize, knowledge: Knowledge) -> OtherPan:
    scaled = scale_to_pan(formula, _pan(size))
    called = f"{size.pounds:g} lb" if size.pounds else " x ".join(f"{x:g}" for x in size.inches or ()) + " in"
    return OtherPan(
        name=f"{called} {'round' if size.kind == 'round' else 'tin'}",
        length_cm=size.length_cm,
        width_cm=size.width_cm,
        height_cm=size.height_cm,
        factor=scaled.dough_g / formula.dough_g,
        bake=retimed(formula, scaled, knowledge),
    )
