"""One formula to all its measures: the order in which the models build on each other."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough import composition as comp
from advisor.models.dough.composition import NetCarbohydrate
from advisor.models.dough.foam import air_share
from advisor.models.dough_state import DoughState, dough_state_of
from advisor.models.heat.warming import Warming, warming_until
from advisor.models.leavening.fermentation import Surroundings, YeastGas
from advisor.models.leavening.leavening_time import (
    BeforeOven,
    before_oven,
    expected_warming,
    gas_through_oven,
    proof_need_min,
    stood_over_need,
)
from advisor.models.leavening.neutralisation import ChemicalGas
from advisor.models.loaf.after_set import SetCourse, set_course
from advisor.models.loaf.bake import Bake, bake_piece
from advisor.models.loaf.bake_by_kind import KindBake, bake_of_kind, bakes_as_loaf, is_steamed, kind_of
from advisor.models.loaf.cool_loaf import cool_loaf_values
from advisor.models.loaf.expansion import Hold, Rise, rise
from advisor.models.loaf.films import Films, films_of
from advisor.models.loaf.gas_keeping import FilmMakers, film_makers, film_strength, gas_retention
from advisor.models.loaf.influences import Influences, influences_on
from advisor.models.loaf.measured_values import (
    checked,
    cooled_values,
    enzyme_values,
    gas_values,
    set_values,
    slice_values,
)
from advisor.models.loaf.oven_measures import oven_measures, pan_measures
from advisor.models.measure import Measures

__all__ = [
    "DoughState",
    "Workings",
    "baked_of",
    "dough_state_of",
    "measure",
    "values_of_amounts",
    "values_of_oven",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Workings:
    """All measures, with the parts that explanations and pictures draw on."""

    dough_state: DoughState
    before: BeforeOven
    soda: ChemicalGas
    yeast: YeastGas
    rise: Rise
    bake: Bake | None
    warming: Warming
    """Of the bake up to the pull; of a usual oven where there is no bake."""

    set_course: SetCourse | None
    net: NetCarbohydrate
    measures: Measures


def _surroundings(dough_state: DoughState, acting: Influences) -> Surroundings:
    return Surroundings(
        salt_per_100g_water=dough_state.values["salt_per_100g_water"] or 0.0,
        sugar_per_100g_water=dough_state.values["sugar_per_100g_water"] or 0.0,
        acid_meq=dough_state.values["residual_acid_meq"] or 0.0,
        held_back=acting.factor("yeast"),
        freed=acting.factor("freed"),
        frozen_days=dough_state.with_defaults.frozen_days,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Risen:
    """A dough up to the oven's door, and risen as far as a warming takes it."""

    before: BeforeOven
    films: Films
    makers: FilmMakers
    hold: Hold
    warming: Warming
    soda: ChemicalGas
    yeast: YeastGas
    lift: Rise


def _risen(dough_state: DoughState, knowledge: Knowledge, warmed_like: Warming | None) -> _Risen:
    with_defaults, dough, formula = dough_state.with_defaults, dough_state.dough, dough_state.formula
    set_c = dough_state.setting.set_c
    films = films_of(dough_state, knowledge)
    acting = influences_on(dough_state, films, 0.0, knowledge, only=("film", "yeast", "freed"))
    around = _surroundings(dough_state, acting)
    before = before_oven(formula, with_defaults, dough_state.soda, around, dough_state.dough_c, knowledge)
    makers = _film_makers(dough_state, films, acting, before, knowledge)
    warming = warmed_like or expected_warming(before, knowledge)
    hold = Hold(
        shares=films.shares,
        set_c=set_c,
        proofed_c=before.into_oven_c,
        air_share=air_share(formula, dough_state.frame, dough.total, films.shares, knowledge),
        kept_share=gas_retention(makers, films.shares, dough_state.water.available, knowledge),
        available_water_g=dough_state.water.available,
    )
    soda, yeast = gas_through_oven(before, warming, set_c, knowledge)
    lift = _as_it_lies(dough_state, rise(with_defaults, dough, soda, yeast, hold, knowledge))
    return _Risen(
        before=before,
        films=films,
        makers=makers,
        hold=hold,
        warming=warming,
        soda=soda,
        yeast=yeast,
        lift=lift,
    )


def _as_it_lies(dough_state: DoughState, lift: Rise) -> Rise:
    """A kind that nothing has to lift sets as large as it goes in, where the set is too near boiling to be known."""
    chosen = dough_state.with_defaults.chosen
    if lift.set_ml is None and chosen is not None and "volume" in chosen.kind.groups_left_out:
        return replace(lift, set_ml=lift.proofed_ml)
    return lift


def values_of_amounts(
    dough_state: DoughState, knowledge: Knowledge, warmed_like: Warming | None
) -> dict[str, float | None]:
    """Compute only what amounts move, with the warming held or a usual one: a plan asks for it a hundred times."""
    risen = _risen(dough_state, knowledge, warmed_like)
    net = comp.net_carbohydrate(dough_state.dough, risen.yeast.fermented_g, knowledge)
    return {
        **dough_state.values,
        **gas_values(dough_state, risen.before, risen.soda, risen.yeast, risen.lift),
        **pan_measures(dough_state.formula.process, dough_state.with_defaults, risen.lift, {}),
        "net_carb_per_slice": net.net / (dough_state.with_defaults.slices * dough_state.with_defaults.loaves),
    }


def baked_of(dough_state: DoughState, knowledge: Knowledge) -> Bake | None:
    """Bake a formula as it goes into the oven, without following its gas through that bake."""
    return _baked(dough_state, _risen(dough_state, knowledge, None), knowledge)


def _baked(dough_state: DoughState, risen: _Risen, knowledge: Knowledge) -> Bake | None:
    if not bakes_as_loaf(dough_state, risen.lift):
        return None
    into_c, set_c = risen.before.into_oven_c, dough_state.setting.set_c
    return bake_piece(
        dough_state.formula,
        dough_state.with_defaults,
        dough_state.dough,
        risen.lift,
        into_c,
        set_c,
        knowledge,
    )


def values_of_oven(dough_state: DoughState, knowledge: Knowledge) -> dict[str, float | None]:
    """Compute the times, temperatures and margins of the bake alone, for those who turn the oven."""
    if kind_of(dough_state) is not None:
        risen = _risen(dough_state, knowledge, None)
        if (loaf := _baked(dough_state, risen, knowledge)) is not None:
            return oven_measures(dough_state.formula.process, loaf, {}, knowledge)
        return dict(bake_of_kind(dough_state, risen.lift, risen.before.into_oven_c, knowledge).values)
    baked = baked_of(dough_state, knowledge)
    return {} if baked is None else oven_measures(dough_state.formula.process, baked, {}, knowledge)


def measure(
    dough_state: DoughState,
    knowledge: Knowledge,
    *,
    with_bake: bool = True,
    warmed_like: Warming | None = None,
    baked_as: Bake | None = None,
) -> Workings:
    """Compute all measures of a formula.

    `with_bake=False` leaves out the oven, for those who search over amounts that hardly touch it: the gas then
    follows the warming of another bake, `warmed_like`, or a usual one. `baked_as` stands in for the bake.
    """
    with_defaults, dough, formula = dough_state.with_defaults, dough_state.dough, dough_state.formula
    risen = _risen(dough_state, knowledge, warmed_like)
    before, warming, set_c = risen.before, risen.warming, dough_state.setting.set_c
    soda, yeast, lift = risen.soda, risen.yeast, risen.lift
    baked = _baked(dough_state, risen, knowledge) if with_bake else baked_as
    if baked is not None:
        warming = warming_until(baked.curves, baked.pulled_at_min)
        soda, yeast = gas_through_oven(before, warming, set_c, knowledge)
        lift = _as_it_lies(dough_state, rise(with_defaults, dough, soda, yeast, risen.hold, knowledge))
    course = set_course(warming, dough_state.setting) if baked is not None else None
    net = comp.net_carbohydrate(dough, yeast.fermented_g, knowledge)
    flat = bake_of_kind(dough_state, lift, before.into_oven_c, knowledge) if with_bake else KindBake()
    in_steam = baked is None and with_bake and is_steamed(dough_state)
    loss = 0.0 if in_steam else None if baked is None else baked.bake_loss
    reasons: dict[str, str] = dict(flat.reasons)
    if baked is None and not flat.values and not flat.reasons:
        why = lift.reason or "the oven model does not cover this piece or this oven"
        reasons |= dict.fromkeys(("core_set_min", "core_at_pull_c", "pull_margin_min", "crust_browning"), why)
    if lift.set_ml is None:
        reasons["specific_volume"] = lift.reason
    values = {
        **dough_state.values,
        **gas_values(dough_state, before, soda, yeast, lift),
        "film_strength": film_strength(risen.makers, risen.films.shares, knowledge),
        **slice_values(dough_state, net, yeast, baked, knowledge),
        **pan_measures(formula.process, with_defaults, lift, reasons),
        **(oven_measures(formula.process, baked, reasons, knowledge) if baked else {}),
        **(shrunk := set_values(dough_state, course, lift, knowledge)),
        **(
            cooled := cooled_values(
                dough_state, loss, lift, 0.0 if in_steam else shrunk.get("cooling_shrinkage_pct")
            )
        ),
        **cool_loaf_values(
            dough_state, risen.films, before, yeast, lift, baked, loss, cooled.get("cooled_volume"), knowledge
        ),
        **flat.values,
        "proof_need_min": (need := proof_need_min(before, with_defaults, dough.total, knowledge)),
        "proof_past_need": stood_over_need(with_defaults, need),
        **enzyme_values(dough_state, baked, knowledge),
    }
    return Workings(
        dough_state=dough_state, before=before, soda=soda, yeast=yeast, rise=lift, bake=baked, warming=warming,
        set_course=course, net=net, measures=checked(values, reasons, with_defaults, knowledge),
    )  # fmt: skip


def _film_makers(
    dough_state: DoughState, films: Films, acting: Influences, before: BeforeOven, knowledge: Knowledge
) -> FilmMakers:
    with_defaults = dough_state.with_defaults
    stages = (
        (with_defaults.mix_min + with_defaults.rest_min, dough_state.dough_c),
        *with_defaults.earlier,
        (with_defaults.proof_min, before.into_oven_c),
    )
    hydration = dough_state.values["mixing_hydration"]
    makers = film_makers(dough_state.formula, dough_state.frame, hydration, stages, knowledge)
    return replace(
        makers,
        gluten_fill=films.gluten_fill,
        egg_fill=films.egg_fill,
        improved=acting.factor("film")
        * films.watered
        * films.mixed
        * math.exp(-knowledge.coefficient("frozen_films_per_day") * with_defaults.frozen_days),
    )
