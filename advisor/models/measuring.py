"""One formula to all its measures: the order in which the models build on each other."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models import composition as comp
from advisor.models.after_set import SetCourse, set_course, shrinkage
from advisor.models.assumptions import Settled, settle
from advisor.models.bake import Bake, bake_piece, warming_stages
from advisor.models.composition import DoughComposition, NetCarbohydrate
from advisor.models.crosslinking import crosslinking
from advisor.models.dough_temperature import dough_temperature_c
from advisor.models.expansion import Hold, Rise, rise
from advisor.models.fermentation import Surroundings, YeastGas
from advisor.models.foam import air_share, is_foam
from advisor.models.gas_keeping import FilmMakers, film_makers, film_strength, gas_retention
from advisor.models.hydration import WaterBudget, swelling_wait_min, water_budget
from advisor.models.leavening_time import BeforeOven, before_oven, expected_warming, gas_through_oven
from advisor.models.measure import Measure, Measures
from advisor.models.neutralisation import ChemicalGas, SodaAndAcids, soda_and_acids
from advisor.models.oven_measures import oven_measures, pan_measures
from advisor.models.proteins import Framework, framework, setting_protein_pct, share
from advisor.models.setting import Setting, setting_of
from advisor.models.warming import Warming, warming_until


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """What can be known before the structure is: the dough at rest."""

    formula: Formula
    settled: Settled
    dough: DoughComposition
    water: WaterBudget
    frame: Framework
    soda: SodaAndAcids
    setting: Setting
    dough_c: float
    dry_base: float
    values: Mapping[str, float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Workings:
    """All measures, with the parts that explanations and pictures draw on."""

    ground: Ground
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


def _per_100g(ml: float, dough_g: float) -> float:
    return ml / dough_g * 100 if dough_g > 0 else 0.0


def _yeasted(formula: Formula) -> bool:
    return any(line.ingredient.yeast_rate for line in formula.lines)


def lay_ground(formula: Formula, knowledge: Knowledge) -> Ground:
    """Compute what does not depend on the structure in play: composition, water, framework, soda and acid."""
    settled = settle(formula, knowledge)
    dough = comp.dough_composition(formula)
    water = water_budget(formula, knowledge)
    frame = framework(formula, water, knowledge)
    soda = soda_and_acids(formula, knowledge)
    dry = comp.dry_base(formula)
    by_class = frame.by_class
    egg = by_class.get("egg_white", 0.0) + by_class.get("yolk", 0.0)
    psyllium = sum(line.grams for line in formula.lines if "psyllium" in line.all_traits)
    values: dict[str, float | None] = {
        "dough_g": dough.total,
        "protein_pct": 100 * dough.protein / dough.total,
        "fat_pct": 100 * dough.fat / dough.total,
        "available_water": water.available,
        "absorption": water.absorption,
        "mixing_hydration": _mixing_hydration(formula, dough, water, frame, knowledge),
        "baked_water_load": water.baked_water_load,
        "dry_base_hydration_pct": 100 * dough.water / dry if dry > 0 else None,
        "setting_protein_pct": setting_protein_pct(
            frame, water.available, knowledge.coefficient("least_free_water_share")
        ),
        "gluten_share": share(by_class.get("gluten", 0.0), frame.carrying),
        "egg_share": share(egg, frame.carrying),
        "egg_beside_gluten": share(egg, egg + by_class.get("gluten", 0.0)),
        "egg_pct": 100 * egg / dough.total,
        "yolk_share": share(by_class.get("yolk", 0.0), egg),
        "casein_share": share(by_class.get("casein", 0.0), frame.total),
        "whey_share": share(by_class.get("whey", 0.0), frame.carrying),
        "collagen_share": share(by_class.get("collagen", 0.0), frame.total),
        "gluten_pct_of_dry": 100 * by_class.get("gluten", 0.0) / dry if dry > 0 else None,
        "filler_ratio": share(frame.filler, frame.binder),
        "fat_ratio": share(frame.fat, frame.binder),
        "gum_load": 100 * frame.gum / water.available if water.available > 0 else None,
        "gum_pct_of_dry": 100 * frame.gum / dry if dry > 0 else None,
        "gum_beside_egg": share(frame.gum, frame.gum + egg),
        "starch_pct": 100 * dough.starch / dough.total,
        "allergen_count": float(len(comp.allergens(formula))),
        "swelling_wait_min": swelling_wait_min(formula, settled),
        "psyllium_pct_of_dry": 100 * psyllium / dry if dry > 0 else None,
        "reactive_protein_pct": 100 * frame.reactive / dough.total,
        "salt_per_100g_water": comp.salt_in_water(formula),
        "co2_chemical": _per_100g(soda.potential_ml, dough.total),
        "leavening_strength": soda.strength,
        "residual_soda_meq": _per_100g(soda.left_soda_meq, dough.total),
        "residual_acid_meq": _per_100g(soda.left_acid_meq, dough.total),
    }
    return Ground(
        formula=formula, settled=settled, dough=dough, water=water, frame=frame, soda=soda, dry_base=dry,
        setting=setting_of(frame, dough, knowledge),
        dough_c=dough_temperature_c(formula, settled.water_c, settled.mix_min, knowledge), values=values,
    )  # fmt: skip


def _mixing_hydration(
    formula: Formula, dough: DoughComposition, water: WaterBudget, frame: Framework, knowledge: Knowledge
) -> float | None:
    """Available water over absorption; `None` for a foam, and where next to nothing takes up water (minced meat)."""
    least = knowledge.coefficient("least_absorption_share") * dough.total
    if water.absorption < least or is_foam(formula, frame, dough.total, knowledge):
        return None
    return water.mixing_hydration


def _surroundings(ground: Ground) -> Surroundings:
    water = ground.dough.water
    sugar = sum(line.grams * line.ingredient.per_100g.dissolved_sweet / 100 for line in ground.formula.lines)
    return Surroundings(
        salt_per_100g_water=ground.values["salt_per_100g_water"] or 0.0,
        sugar_per_100g_water=100 * sugar / water if water > 0 else 0.0,
        acid_meq=ground.values["residual_acid_meq"] or 0.0,
    )


def measure(
    ground: Ground,
    weights: Mapping[str, float],
    knowledge: Knowledge,
    *,
    with_bake: bool = True,
    warmed_like: Warming | None = None,
) -> Workings:
    """Compute all measures of a formula whose structure is known (`weights` add up to 1).

    `with_bake=False` leaves out the oven, for those who search over amounts that hardly touch it: the gas then
    follows the warming of another bake, `warmed_like`, or a usual one.
    """
    settled, dough, formula = ground.settled, ground.dough, ground.formula
    set_c = ground.setting.set_c
    before = before_oven(formula, settled, ground.soda, _surroundings(ground), ground.dough_c, knowledge)
    makers = _film_makers(ground, before, knowledge)
    warming = warmed_like or expected_warming(before, knowledge)
    hold = Hold(
        weights=weights,
        set_c=set_c,
        proofed_c=before.into_oven_c,
        air_share=air_share(formula, ground.frame, dough.total, weights, knowledge),
        kept_share=gas_retention(makers, weights, ground.water.available, knowledge),
        available_water_g=ground.water.available,
    )
    soda, yeast = gas_through_oven(before, warming, set_c, knowledge)
    lift = rise(settled, dough, soda, yeast, hold, knowledge)
    baked = None
    if with_bake:
        baked = bake_piece(formula, settled, dough, lift, before.into_oven_c, set_c, knowledge)
    if baked is not None:
        warming = warming_until(baked.curves, round(baked.pulled_at_min + 1e-9, 1))
        soda, yeast = gas_through_oven(before, warming, set_c, knowledge)
        lift = rise(settled, dough, soda, yeast, hold, knowledge)
    course = set_course(warming, ground.setting) if baked is not None else None
    net = comp.net_carbohydrate(dough, yeast.fermented_g, knowledge)
    values = dict(ground.values)
    reasons: dict[str, str] = {}
    values |= _gas_values(ground, before, soda, yeast, lift)
    values["film_strength"] = film_strength(makers, weights, knowledge)
    values |= _slice_values(ground, net, yeast, baked, knowledge)
    values |= pan_measures(formula.process, settled, lift, reasons)
    values |= oven_measures(formula.process, baked, lift, reasons, knowledge)
    values |= _set_values(ground, course, lift, knowledge)
    values |= _enzyme_values(ground, baked, knowledge)
    return Workings(
        ground=ground, before=before, soda=soda, yeast=yeast, rise=lift, bake=baked, warming=warming,
        set_course=course, net=net, measures=_checked(values, reasons, settled, knowledge),
    )  # fmt: skip


def _film_makers(ground: Ground, before: BeforeOven, knowledge: Knowledge) -> FilmMakers:
    settled = ground.settled
    stages = ((settled.mix_min + settled.rest_min, ground.dough_c), (settled.proof_min, before.into_oven_c))
    hydration = ground.values["mixing_hydration"]
    return film_makers(ground.formula, ground.frame, hydration, stages, knowledge)


def _gas_values(
    ground: Ground, before: BeforeOven, soda: ChemicalGas, yeast: YeastGas, lift: Rise
) -> dict[str, float | None]:
    g = ground.dough.total
    yeasted = _yeasted(ground.formula)
    early = soda.early_oven + yeast.early_oven
    cold = soda.mix + soda.bench + yeast.rest + yeast.proof
    return {
        "co2_total": _per_100g(soda.total + yeast.total, g),
        "co2_mix": _per_100g(soda.mix, g),
        "co2_bench": _per_100g(soda.bench + yeast.rest + yeast.proof, g),
        "co2_early_oven": _per_100g(early, g),
        "co2_late_oven": _per_100g(soda.late_oven, g),
        "gas_before_oven": _per_100g(cold, g),
        "gas_before_set": _per_100g(cold + early, g),
        "co2_dissolved_capacity": _per_100g(lift.dissolved_capacity_ml, g),
        "yeast_sugar_limit": _per_100g(yeast.sugar_limit, g) if yeasted else None,
        "yeast_potential": _per_100g(yeast.potential, g) if yeasted else None,
        "yeast_alive_share": yeast.alive if yeasted else None,
        "yeast_pct_of_dry": 100 * yeast.yeast_as_instant_g / ground.dry_base
        if yeasted and ground.dry_base
        else None,
        "inhibitor_per_yeast": yeast.inhibitor_per_yeast if yeasted else None,
        "early_gas_share": lift.early_gas_share,
        "late_gas_share": lift.late_gas_share,
        "proof_rise": lift.proofed_ml / lift.mixed_ml if yeasted and lift.mixed_ml > 0 else None,
        "oven_spring": lift.set_ml / lift.proofed_ml if lift.set_ml and lift.proofed_ml > 0 else None,
        "specific_volume": lift.set_ml / g if lift.set_ml is not None and g > 0 else None,
        "dough_temp_c": ground.dough_c if yeasted else None,
    }


def _set_values(
    ground: Ground, course: SetCourse | None, lift: Rise, knowledge: Knowledge
) -> dict[str, float | None]:
    process, setting = ground.formula.process, ground.setting
    values: dict[str, float | None] = {
        "set_temp_c": setting.set_c,
        "cool_set_share": setting.cool_share,
    }
    if course is None:
        return values
    at_pull = course.share[-1]
    lost = shrinkage(lift, setting, at_pull, ground.settled.altitude_m, knowledge)
    return values | {
        "set_share_at_pull": at_pull,
        "set_share_at_door": None if process.opened_at_min is None else course.at(process.opened_at_min),
        "cooling_shrinkage_pct": None if lost is None else 100 * lost,
    }


def _slice_values(
    ground: Ground, net: NetCarbohydrate, yeast: YeastGas, baked: Bake | None, knowledge: Knowledge
) -> dict[str, float | None]:
    dough, pieces = ground.dough, ground.settled.slices * ground.settled.loaves
    loss = baked.bake_loss if baked else 0.0
    return {
        "slice_g": dough.total * (1 - loss) / pieces,
        "net_carb_per_slice": net.net / pieces,
        "energy_kcal_per_slice": comp.energy_kcal(dough, yeast.fermented_g, knowledge, "eu") / pieces,
        "sodium_mg_per_slice": dough.sodium_mg / pieces,
        "polyol_g_per_slice": (dough.polyols + dough.erythritol) / pieces,
    }


def _enzyme_values(ground: Ground, baked: Bake | None, knowledge: Knowledge) -> dict[str, float | None]:
    settled = ground.settled
    stages = [(settled.mix_min + settled.rest_min, ground.dough_c), (settled.proof_min, settled.proof_c)]
    if baked is not None:
        stages += warming_stages(baked.curves)
    linked = crosslinking(ground.frame, tuple(stages), knowledge)
    return {
        "crosslinker_u_per_g": linked.u_per_g if linked else None,
        "crosslinker_exposure": linked.exposure if linked else None,
    }


def _checked(
    values: Mapping[str, float | None], reasons: Mapping[str, str], settled: Settled, knowledge: Knowledge
) -> Measures:
    """No model's number leaves outside the range in which it means something."""
    out: dict[str, Measure] = {}
    for name, entry in knowledge.measures.items():
        value, reason = values.get(name), reasons.get(name, "")
        low, high = entry.possible
        if value is not None and not low - 1e-9 <= value <= high + 1e-9:
            value, reason = None, f"outside the model's range of {low:g} to {high:g}"
        if value is None and not reason:
            reason = "not in this formula"
        out[name] = Measure(id=name, value=value, reason=reason)
    return Measures(by_id=out, assumed=tuple(settled.assumed.values()))
