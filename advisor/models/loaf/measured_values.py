"""Numbers of a dough that was followed through the oven, by the ids of the measures."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough import composition as comp
from advisor.models.dough.assumptions import ProcessWithDefaults
from advisor.models.dough.composition import NetCarbohydrate
from advisor.models.dough.crosslinking import crosslinking
from advisor.models.dough_state import DoughState, per_100g
from advisor.models.leavening.fermentation import YeastGas
from advisor.models.leavening.leavening_time import BeforeOven
from advisor.models.leavening.neutralisation import ChemicalGas
from advisor.models.loaf.after_set import SetCourse, shrinkage
from advisor.models.loaf.bake import Bake, warming_stages
from advisor.models.loaf.expansion import Rise
from advisor.models.measure import Measure, Measures


def gas_values(
    dough_state: DoughState, before: BeforeOven, soda: ChemicalGas, yeast: YeastGas, lift: Rise
) -> dict[str, float | None]:
    """Gas by stage and by what limits it, per 100 g dough at 25 C and 101.325 kPa; volumes and spring."""
    g = dough_state.dough.total
    yeasted = any(line.ingredient.yeast_rate for line in dough_state.formula.lines)
    early = soda.early_oven + yeast.early_oven
    cold = soda.mix + soda.bench + yeast.rest + yeast.proof
    return {
        "co2_total": per_100g(soda.total + yeast.total, g),
        "co2_mix": per_100g(soda.mix, g),
        "co2_bench": per_100g(soda.bench + yeast.rest + yeast.proof, g),
        "co2_early_oven": per_100g(early, g),
        "co2_late_oven": per_100g(soda.late_oven, g),
        "gas_before_oven": per_100g(cold, g),
        "gas_before_set": per_100g(cold + early, g),
        "co2_dissolved_capacity": per_100g(lift.dissolved_capacity_ml, g),
        "yeast_sugar_limit": per_100g(yeast.sugar_limit, g) if yeasted else None,
        "yeast_potential": per_100g(yeast.potential, g) if yeasted else None,
        "yeast_alive_share": yeast.alive if yeasted else None,
        "yeast_pct_of_dry": 100 * yeast.yeast_as_instant_g / dough_state.dry_base
        if yeasted and dough_state.dry_base
        else None,
        "inhibitor_per_yeast": yeast.inhibitor_per_yeast if yeasted else None,
        "early_gas_share": lift.early_gas_share,
        "late_gas_share": lift.late_gas_share,
        "proof_rise": lift.proofed_ml / lift.mixed_ml if yeasted and lift.mixed_ml > 0 else None,
        "oven_spring": lift.set_ml / lift.proofed_ml if lift.set_ml and lift.proofed_ml > 0 else None,
        "specific_volume": lift.set_ml / g if lift.set_ml is not None and g > 0 else None,
        "dough_temp_c": dough_state.dough_c if yeasted else None,
    }


def set_values(
    dough_state: DoughState, course: SetCourse | None, lift: Rise, knowledge: Knowledge
) -> dict[str, float | None]:
    """Where and how far the crumb sets, and what cooling takes off the loaf."""
    process, setting = dough_state.formula.process, dough_state.setting
    values: dict[str, float | None] = {
        "set_temp_c": setting.set_c,
        "cool_set_share": setting.cool_share,
    }
    if course is None:
        return values
    at_pull = course.share[-1]
    lost = shrinkage(lift, setting, at_pull, dough_state.with_defaults.altitude_m, knowledge)
    return values | {
        "set_share_at_pull": at_pull,
        "set_share_at_door": None if process.opened_at_min is None else course.at(process.opened_at_min),
        "cooling_shrinkage_pct": None if lost is None else 100 * lost,
    }


def cooled_values(
    dough_state: DoughState, loss: float | None, lift: Rise, shrinkage_pct: float | None
) -> dict[str, float | None]:
    """Volume over the loaf's own mass [mL/g] and height in its tin [cm], once cool: what fell in has fallen.

    `loss` is the share of the dough that heat takes off (0..1), `None` where nothing is known of it.
    """
    if loss is None or lift.set_ml is None or shrinkage_pct is None:
        return {}
    whole_ml = lift.set_ml * (1 - shrinkage_pct / 100)
    process, loaves = dough_state.formula.process, dough_state.with_defaults.loaves
    height = None
    if process.pan_volume_ml and process.pan_height_cm:
        height = whole_ml / loaves / process.pan_volume_ml * process.pan_height_cm
    return {
        "cooled_volume": whole_ml / (dough_state.dough.total * (1 - loss)),
        "cooled_height_cm": height,
    }


def slice_values(
    dough_state: DoughState, net: NetCarbohydrate, yeast: YeastGas, baked: Bake | None, knowledge: Knowledge
) -> dict[str, float | None]:
    """What one slice weighs and holds."""
    dough, pieces = dough_state.dough, dough_state.with_defaults.slices * dough_state.with_defaults.loaves
    loss = baked.bake_loss if baked else 0.0
    return {
        "slice_g": dough.total * (1 - loss) / pieces,
        "net_carb_per_slice": net.net / pieces,
        "energy_kcal_per_slice": comp.energy_kcal(dough, yeast.fermented_g, knowledge, "eu") / pieces,
        "sodium_mg_per_slice": dough.sodium_mg / pieces,
        "polyol_g_per_slice": (dough.polyols + dough.erythritol) / pieces,
    }


def enzyme_values(
    dough_state: DoughState, baked: Bake | None, knowledge: Knowledge
) -> dict[str, float | None]:
    """What the crosslinking enzyme did by the end of the bake."""
    with_defaults = dough_state.with_defaults
    stages = [
        (with_defaults.mix_min + with_defaults.rest_min, dough_state.dough_c),
        *with_defaults.earlier,
        (with_defaults.proof_min, with_defaults.proof_c),
    ]
    if baked is not None:
        stages += warming_stages(baked.curves)
    linked = crosslinking(dough_state.frame, tuple(stages), knowledge)
    return {
        "crosslinker_u_per_g": linked.u_per_g if linked else None,
        "crosslinker_exposure": linked.exposure if linked else None,
    }


def checked(
    values: Mapping[str, float | None],
    reasons: Mapping[str, str],
    with_defaults: ProcessWithDefaults,
    knowledge: Knowledge,
) -> Measures:
    """No model's number leaves outside the range in which it means something."""
    out: dict[str, Measure] = {}
    for name, entry in knowledge.measures.items():
        value, reason, outside = values.get(name), reasons.get(name, ""), False
        low, high = entry.possible
        if value is not None and not entry.allows(value):
            outside = True
            value, reason = None, f"outside the model's range of {low:g} to {high:g}"
        if value is None and not reason:
            reason = "not in this formula"
        out[name] = Measure(id=name, value=value, reason=reason, outside=outside)
    return Measures(by_id=out, assumed=tuple(with_defaults.assumed.values()))
