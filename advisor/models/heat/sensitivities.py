"""How the numbers of a bake move with what the kitchen or the model may have a little otherwise.

Each slope is a difference of two bakes, the second run only when somebody asks; that over the bake's minutes is
read off its own curves. The steps are small against what a kitchen errs by and large against the solver's error.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from advisor.models.heat.bake_curves import BakeCurves, crust_browning
from advisor.models.heat.kept_bakes import cached_bake
from advisor.models.heat.loaf_heat import LoafHeat, OvenCoefficients
from advisor.models.heat.oven_programme import OvenProgramme

_OVEN_STEP_C = 3.0
_SHARE_STEP = 0.04
_WATER_STEP = 0.01
_MINUTE_STEP = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class OvenProblem:
    """A loaf in its oven, when it is pulled, and the temperatures at which its core counts as set and as done."""

    loaf: LoafHeat
    coefficients: OvenCoefficients
    pulled_min: float
    set_c: float
    target_c: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BakeNumbers:
    """Numbers of one bake, or their change: minutes, C, share of the dough's mass, browning.

    `None` where the core never gets there, and for a change where it does not in one of both bakes.
    """

    core_set_min: float | None
    core_done_min: float | None
    core_at_pull_c: float
    water_lost_frac: float
    browning: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BakeSlopes:
    """Change of a bake's numbers for a unit of each: oven, C; bake, min; water, g for each g of dough, in place of the
    other parts; density, both sizes of the section at equal density, convection and vapour conduction, each for its own
    size again (a tenth more is 0.1 of the slope).
    """

    oven_c: BakeNumbers
    bake_min: BakeNumbers
    water: BakeNumbers
    density: BakeNumbers
    size: BakeNumbers
    convection: BakeNumbers
    vapour: BakeNumbers


@lru_cache(maxsize=256)
def bake_slopes(problem: OvenProblem) -> BakeSlopes:
    """Slopes at a bake as it stands; six more bakes the first time.

    Raises:
        ValueError: a step leads outside what the oven model covers.
    """
    here = bake_numbers(problem, _curves(problem), problem.pulled_min)
    loaf, constants = problem.loaf, problem.coefficients

    def by(changed: OvenProblem, step: float) -> BakeNumbers:
        return _slope(here, bake_numbers(changed, _curves(changed), problem.pulled_min), step)

    more = 1 + _SHARE_STEP
    return BakeSlopes(
        oven_c=by(replace(problem, loaf=_hotter(loaf, _OVEN_STEP_C)), _OVEN_STEP_C),
        bake_min=_over_minutes(problem),
        water=by(replace(problem, loaf=_wetter(loaf, _WATER_STEP)), _WATER_STEP),
        density=by(
            replace(problem, loaf=replace(loaf, density_kg_m3=loaf.density_kg_m3 * more)), _SHARE_STEP
        ),
        size=by(
            replace(problem, loaf=replace(loaf, width_m=loaf.width_m * more, height_m=loaf.height_m * more)),
            _SHARE_STEP,
        ),
        convection=by(
            replace(
                problem,
                coefficients=replace(
                    constants, h_still=constants.h_still * more, h_fan=constants.h_fan * more
                ),
            ),
            _SHARE_STEP,
        ),
        vapour=by(
            replace(
                problem,
                coefficients=replace(
                    constants,
                    vapour_share=constants.vapour_share * more,
                    vapour_cap=constants.vapour_cap * more,
                ),
            ),
            _SHARE_STEP,
        ),
    )


def bake_numbers(problem: OvenProblem, curves: BakeCurves, pulled_min: float) -> BakeNumbers:
    """Read one bake off its curves at the pull."""
    return BakeNumbers(
        core_set_min=curves.core_reaches(problem.set_c),
        core_done_min=curves.core_reaches(problem.target_c),
        core_at_pull_c=curves.core_at(pulled_min),
        water_lost_frac=curves.water_lost_at(pulled_min),
        browning=crust_browning(curves, pulled_min, problem.coefficients),
    )


def _curves(problem: OvenProblem) -> BakeCurves:
    return cached_bake(
        problem.loaf,
        problem.coefficients,
        problem.pulled_min + _MINUTE_STEP,
        problem.set_c,
        target_c=problem.target_c,
    )


def _over_minutes(problem: OvenProblem) -> BakeNumbers:
    """When a loaf is pulled moves no time of its core."""
    curves = _curves(problem)
    early, late = (
        bake_numbers(problem, curves, max(problem.pulled_min + side, 0.0))
        for side in (-_MINUTE_STEP, _MINUTE_STEP)
    )
    return _slope(early, late, 2 * _MINUTE_STEP)


def _slope(here: BakeNumbers, there: BakeNumbers, step: float) -> BakeNumbers:
    def of(before: float | None, after: float | None) -> float | None:
        return None if before is None or after is None else (after - before) / step

    return BakeNumbers(
        core_set_min=of(here.core_set_min, there.core_set_min),
        core_done_min=of(here.core_done_min, there.core_done_min),
        core_at_pull_c=(there.core_at_pull_c - here.core_at_pull_c) / step,
        water_lost_frac=(there.water_lost_frac - here.water_lost_frac) / step,
        browning=(there.browning - here.browning) / step,
    )


def _hotter(loaf: LoafHeat, by_c: float) -> LoafHeat:
    programme = loaf.programme
    if programme is not None:
        programme = OvenProgramme(
            stages=tuple(replace(stage, air_c=stage.air_c + by_c) for stage in programme.stages),
            preheat_c=None if programme.preheat_c is None else programme.preheat_c + by_c,
            base_c=None if programme.base_c is None else programme.base_c + by_c,
        )
    return replace(loaf, oven_c=loaf.oven_c + by_c, programme=programme)


def _wetter(loaf: LoafHeat, by: float) -> LoafHeat:
    rest = (1 - loaf.water_frac - by) / (1 - loaf.water_frac)
    return replace(
        loaf,
        water_frac=loaf.water_frac + by,
        protein_frac=loaf.protein_frac * rest,
        fat_frac=loaf.fat_frac * rest,
        carb_frac=loaf.carb_frac * rest,
        fibre_frac=loaf.fibre_frac * rest,
        ash_frac=loaf.ash_frac * rest,
    )
