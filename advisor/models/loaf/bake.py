"""From a dough and its process to the heat problem of one piece, and from its curves to minutes and degrees."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.assumptions import ProcessWithDefaults
from advisor.models.dough.composition import DoughComposition
from advisor.models.dough.thermal import boiling_point_c
from advisor.models.heat.cooling import Cooling, cool
from advisor.models.heat.kept_bakes import cached_bake
from advisor.models.heat.loaf_heat import pan_wall
from advisor.models.heat.oven import (
    BakeCurves,
    LoafHeat,
    OutsideOvenModel,
    OvenCoefficients,
    OvenProgramme,
    OvenStage,
    crust_browning,
)
from advisor.models.heat.piece_shape import PieceShape, piece_shape
from advisor.models.heat.sensitivities import OvenProblem
from advisor.models.loaf.expansion import Rise


@dataclass(frozen=True, slots=True, kw_only=True)
class Bake:
    """Times in minutes from entering the oven, temperatures in C; `None` where the core never gets there."""

    curves: BakeCurves
    shape: PieceShape
    target_c: float
    core_set_min: float | None
    core_done_min: float | None
    pulled_at_min: float
    core_at_pull_c: float
    pull_margin_min: float | None
    browning: float
    bake_loss: float
    cooling: Cooling
    problem: OvenProblem
    """What `bake_slopes` needs to say how these numbers move."""


def bake_piece(
    formula: Formula,
    with_defaults: ProcessWithDefaults,
    dough: DoughComposition,
    rise: Rise,
    dough_c: float,
    set_c: float,
    knowledge: Knowledge,
) -> Bake | None:
    """Bake one piece that goes in at `dough_c` and whose crumb carries itself at `set_c`; read off the times.

    The section has the size of the loaf at set and the density that goes with it. A measured core overrules the
    computed one at the pull. `None` where the volume at set is unknown, or where the solver does
    not cover such an oven or piece.
    """
    if rise.set_ml is None or dough.total <= 0:
        return None
    pieces = with_defaults.pieces
    # Heat enters while the loaf still grows: the mean of proofed and set volume stands for the whole bake.
    volume = (rise.proofed_ml + rise.set_ml) / 2 / pieces
    shape = piece_shape(formula, with_defaults, volume, knowledge)
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
        start_c=dough_c,
        oven_c=with_defaults.oven_c + (p.oven_offset_c or 0.0),
        fan=with_defaults.oven_fan,
        pan=with_defaults.pan_kind,
        wall=pan_wall(p.pan_material, knowledge.coefficient),
        cold_c=knowledge.coefficient("room_c") if p.cold_start else None,
        opened_at_min=p.opened_at_min,
        opened_for_s=p.opened_for_s or knowledge.coefficient("opened_for_s"),
        tented_at_min=p.tented_at_min,
        altitude_m=with_defaults.altitude_m,
        programme=oven_programme(formula, with_defaults),
        length_m=shape.length_cm / 100,
    )
    coefficients = OvenCoefficients.read(knowledge.coefficient)
    boiling = boiling_point_c(with_defaults.altitude_m, 1.0)
    target = min(with_defaults.target_core_c, boiling - knowledge.coefficient("done_below_boiling_c"))
    try:
        curves = cached_bake(
            heat, coefficients, with_defaults.bake_min or 0.0, min(set_c, target), target_c=target
        )
    except OutsideOvenModel:
        # Sizes, temperatures or doughs outside what the solver covers: no number rather than a guess.
        return None
    set_at, done_at = curves.core_reaches(min(set_c, target)), curves.core_reaches(target)
    pulled = with_defaults.bake_min
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
        core_at_pull_c=at_pull,
        pull_margin_min=margin,
        browning=crust_browning(curves, pulled, coefficients),
        bake_loss=curves.water_lost_at(pulled),
        cooling=cool(
            heat,
            shape,
            start_c=(at_pull + max(at_pull, min(curves.mean_at(pulled), boiling))) / 2,
            in_pan_min=p.cooled_in_pan_min or 0.0,
            knowledge=knowledge,
        ),
        problem=OvenProblem(
            loaf=heat,
            coefficients=coefficients,
            pulled_min=pulled,
            set_c=min(set_c, target),
            target_c=target,
        ),
    )


def oven_programme(formula: Formula, with_defaults: ProcessWithDefaults) -> OvenProgramme | None:
    """Give what the oven does beside holding one temperature; `None` where it does no more.

    A step without heat keeps that of the step before; behind one without time no more is known. A dial that is off
    is off at every step. A stone, steel or vessel that was heated is as hot as the oven at loading.
    """
    p = formula.process
    off = p.oven_offset_c or 0.0
    stages, minute, dial = [], 0.0, with_defaults.oven_c
    for step in p.oven_steps:
        dial = dial if step.celsius is None else step.celsius
        stages.append(
            OvenStage(from_min=minute, air_c=dial + off, lid=bool(step.lid), steam=bool(step.steam))
        )
        if step.minutes is None:
            break
        minute += step.minutes
    if p.preheat_c is None and p.baked_on is None and not stages:
        return None
    stages = stages or [OvenStage(from_min=0.0, air_c=with_defaults.oven_c + off)]
    at_loading = stages[0].air_c if p.preheat_c is None else p.preheat_c + off
    return OvenProgramme(
        stages=tuple(stages),
        preheat_c=None if at_loading == stages[0].air_c else at_loading,
        base_c=at_loading if p.baked_on is not None and not p.cold_start else None,
    )


WARM_TO_C = 90.0
"""Beyond this nothing that works in a warming dough is left."""


def warming_stages(curves: BakeCurves) -> list[tuple[float, float]]:
    """The mean temperature of the loaf in the oven as stages of (minutes, degrees C), up to where it is hot."""
    steps: list[tuple[float, float]] = []
    before, cooler = float(curves.minutes[0]), float(curves.mean_c[0])
    for minute, temperature in zip(curves.minutes[1:].tolist(), curves.mean_c[1:].tolist(), strict=True):
        if temperature > WARM_TO_C:
            # The last stage counts in part, so that none comes or goes whole.
            share = max((WARM_TO_C - cooler) / (temperature - cooler), 0.0)
            steps.append((share * (minute - before), (cooler + WARM_TO_C) / 2))
            break
        steps.append((minute - before, (cooler + temperature) / 2))
        before, cooler = minute, temperature
    return steps
