"""From a dough and its process to the heat problem of one piece, and from its curves to minutes and degrees."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.assumptions import Settled
from advisor.models.composition import DoughComposition
from advisor.models.expansion import Rise
from advisor.models.oven import BakeCurves, LoafHeat, OvenCoefficients, cached_bake, crust_browning
from advisor.models.thermal import boiling_point_c


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceShape:
    """One piece in the oven, cm and mL; `section_width_cm` is what the long-loaf section uses."""

    width_cm: float
    height_cm: float
    section_width_cm: float
    volume_ml: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bake:
    """Times in minutes from entering the oven, temperatures in C; `None` where the core never gets there."""

    curves: BakeCurves
    shape: PieceShape
    target_c: float
    core_set_min: float | None
    core_done_min: float | None
    pulled_at_min: float
    pull_assumed: bool
    core_at_pull_c: float
    pull_margin_min: float | None
    browning: float
    bake_loss: float


def piece_shape(formula: Formula, settled: Settled, volume_ml: float, knowledge: Knowledge) -> PieceShape:
    """Dimensions of one piece of `volume_ml` at the set [cm].

    A tin gives width and length; a roll is as long as wide, and loses heat in three directions, which a section of
    width w / sqrt(2) does in two (sum of the lowest eigenvalues of the box).
    """
    p = formula.process
    if settled.pan_kind in ("tin", "round"):
        width = p.pan_width_cm or knowledge.coefficient("assumed_tin_width_cm")
        length = p.pan_length_cm or max(volume_ml / (width * 0.75 * width), width)
        area = length * width * (0.785398 if settled.pan_kind == "round" else 1.0)
        return PieceShape(
            width_cm=width, height_cm=volume_ml / area, section_width_cm=width, volume_ml=volume_ml
        )
    if settled.pan_kind == "flat":
        height = knowledge.coefficient("flat_height_cm")
        width = max((volume_ml / height) ** 0.5, height)
        return PieceShape(width_cm=width, height_cm=height, section_width_cm=width, volume_ml=volume_ml)
    if settled.pan_kind == "rolls":
        height = (volume_ml / 2.56) ** (1 / 3)
        width = 1.6 * height
        return PieceShape(
            width_cm=width, height_cm=height, section_width_cm=0.85 * width, volume_ml=volume_ml
        )
    width = (volume_ml / 0.96) ** (1 / 3)
    return PieceShape(
        width_cm=width, height_cm=0.6 * width, section_width_cm=0.9 * width, volume_ml=volume_ml
    )


def bake_piece(
    formula: Formula,
    settled: Settled,
    dough: DoughComposition,
    rise: Rise,
    dough_c: float,
    knowledge: Knowledge,
) -> Bake | None:
    """Bake one piece and read off the times.

    The section has the size of the loaf at set and the density that goes with it. A measured core overrules the
    computed one at the pull. `None` where the volume at set is unknown, or where the solver does
    not cover such an oven or piece.
    """
    if rise.set_ml is None or dough.total <= 0:
        return None
    pieces = settled.pieces
    # Heat enters while the loaf still grows: the mean of proofed and set volume stands for the whole bake.
    volume = (rise.proofed_ml + rise.set_ml) / 2 / pieces
    shape = piece_shape(formula, settled, volume, knowledge)
    solids = dough.total
    p = formula.process
    heat = LoafHeat(
        width_m=shape.section_width_cm / 100,
        height_m=shape.height_cm / 100,
        water_frac=dough.water / solids,
        protein_frac=dough.protein / solids,
        fat_frac=dough.fat / solids,
        carb_frac=max(dough.carbohydrate - dough.fibre, 0.0) / solids,
        fibre_frac=dough.fibre / solids,
        ash_frac=dough.ash / solids,
        density_kg_m3=dough.total / pieces / volume * 1000,
        start_c=settled.proof_c if settled.proof_min >= 30 else dough_c,
        oven_c=settled.oven_c,
        fan=settled.oven_fan,
        pan=settled.pan_kind,
        pan_dark="dark" in (p.pan_material or "").lower(),
        altitude_m=settled.altitude_m,
    )
    coefficients = OvenCoefficients.read(knowledge.coefficient)
    set_c = knowledge.coefficient("core_set_c")
    boiling = boiling_point_c(settled.altitude_m, 1.0)
    target = min(settled.target_core_c, boiling - knowledge.coefficient("done_below_boiling_c"))
    try:
        curves = cached_bake(heat, coefficients, settled.bake_min or 0.0, min(set_c, target), target_c=target)
    except ValueError:
        # Sizes, temperatures or doughs outside what the solver covers: no number rather than a guess.
        return None
    set_at, done_at = curves.core_reaches(min(set_c, target)), curves.core_reaches(target)
    assumed = settled.bake_min is None
    pulled = settled.bake_min
    if pulled is None:
        pulled = (done_at or float(curves.minutes[-1])) + knowledge.coefficient("assumed_pull_margin_min")
    at_pull = curves.core_at(pulled)
    margin = None if done_at is None else pulled - done_at
    if p.core_measured_c is not None:
        at_pull = p.core_measured_c
        reached = curves.core_reaches(p.core_measured_c)
        if done_at is not None and reached is not None and p.core_measured_c < target:
            margin = reached - done_at
    return Bake(
        curves=curves,
        shape=shape,
        target_c=target,
        core_set_min=set_at,
        core_done_min=done_at,
        pulled_at_min=pulled,
        pull_assumed=assumed,
        core_at_pull_c=at_pull,
        pull_margin_min=margin,
        browning=crust_browning(curves, pulled, coefficients),
        bake_loss=curves.water_lost_at(pulled),
    )


def warming_stages(curves: BakeCurves) -> list[tuple[float, float]]:
    """The mean temperature of the loaf in the oven as stages of (minutes, degrees C), up to where it is hot."""
    steps: list[tuple[float, float]] = []
    before = float(curves.minutes[0])
    for minute, temperature in zip(curves.minutes[1:].tolist(), curves.mean_c[1:].tolist(), strict=True):
        if temperature > 90:
            break
        steps.append((minute - before, temperature))
        before = minute
    return steps
