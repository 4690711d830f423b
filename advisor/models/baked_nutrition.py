"""What 100 g and a piece of the baked loaf hold: the dough's parts over the weight that the bake leaves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.nutrition import Nutrition, UnknownPart, nutrition, unknown_parts
from advisor.models.measuring import Workings

Basis = Literal["weighed", "worked_out", "as_mixed"]
_ROUNDED_UP = 1.02
"""A loaf weighs no more than its dough; a scale may show it a little heavier."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BakedNutrition:
    """What the loaf holds, and on which weight that rests."""

    basis: Basis
    """Weighed by the baker, worked out by the oven's model, or the dough as mixed where neither is known."""
    loss_share: float
    """Share of the dough that the bake took, 0..1."""
    pieces: int
    """Slices or pieces of all loaves."""
    per_100g: Nutrition
    per_piece: Nutrition
    unknown: tuple[UnknownPart, ...]
    """What no table says of some ingredients."""

    @property
    def as_baked(self) -> bool:
        """Whether the weight is that of the baked loaf."""
        return self.basis != "as_mixed"


def nutrition_of(work: Workings, knowledge: Knowledge) -> BakedNutrition:
    """Give what 100 g and a piece hold; a loaf that was weighed overrules the model's loss."""
    state, given = work.dough_state, work.dough_state.with_defaults
    pieces = given.slices * given.loaves
    basis, loss = _loss(work, pieces)
    loaf_g = state.dough.total * (1 - loss)

    def held(share: float) -> Nutrition:
        return nutrition(
            state.formula, state.dough, work.net, share=share, loaf_g=loaf_g, knowledge=knowledge
        )

    return BakedNutrition(
        basis=basis,
        loss_share=loss,
        pieces=pieces,
        per_100g=held(100 / loaf_g),
        per_piece=held(1 / pieces),
        unknown=unknown_parts(state.formula),
    )


def _loss(work: Workings, pieces: int) -> tuple[Basis, float]:
    dough_g, loaves = work.dough_state.dough.total, work.dough_state.with_defaults.loaves
    weighed = work.dough_state.formula.process.weight_after_g
    for of in (pieces, loaves):
        # A weight that only one piece can have is that of a piece; else it is that of a loaf.
        if weighed is not None and 0 < weighed <= _ROUNDED_UP * dough_g / of:
            return "weighed", max(1 - weighed * of / dough_g, 0.0)
    lost = work.measures.by_id["bake_loss_pct"].value
    return ("as_mixed", 0.0) if lost is None else ("worked_out", lost / 100)
