"""Measures of the cool loaf: bite, colour, sourness and keeping, from what the models of each give."""

from __future__ import annotations

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.acidity import crumb_ph
from advisor.models.dough_state import DoughState
from advisor.models.leavening.fermentation import HEXOSE_G_PER_MOL, YeastGas
from advisor.models.leavening.leavening_time import BeforeOven
from advisor.models.leavening.neutralisation import ML_PER_MOL
from advisor.models.loaf.bake import Bake
from advisor.models.loaf.colour import browning_dose, crumb_lightness, crust_lightness, crust_readiness
from advisor.models.loaf.crumb_texture import CoolCrumb, crumb_moisture_pct, dough_stiffness, texture_of
from advisor.models.loaf.expansion import Rise
from advisor.models.loaf.films import Films
from advisor.models.loaf.influences import influences_on
from advisor.models.loaf.keeping import days_without_mould, firming_of, kept_at_c, kept_open, water_activity

ACTED_ON_COOL = (
    "firmness",
    "cohesion",
    "springiness",
    "cells",
    "firming",
    "crust",
    "crumb_light",
    "mould",
    "stiffness",
)


def left_sugars_g(
    dough_state: DoughState, before: BeforeOven, yeast: YeastGas, knowledge: Knowledge
) -> float:
    """Sugar of the whole dough that yeast leaves [g]: what it cannot eat, and what it had no time for."""
    eaten_in_oven = yeast.early_oven
    food = before.fermented.food
    ml = max(food.quick + food.maltose - eaten_in_oven, 0.0)
    per_g = 2 * ML_PER_MOL * knowledge.coefficient("yeast_yield") / HEXOSE_G_PER_MOL
    if before.yeast is None:
        return dough_state.dough.sugars
    never = 0.0
    for line in dough_state.formula.lines:
        sugars, fed = line.ingredient.per_100g.sugars, line.ingredient.fermentable_sugars
        never += line.grams / 100 * max(sugars - (fed.value if fed else 0.0), 0.0)
    return never + ml / per_g


def cool_loaf_values(
    dough_state: DoughState,
    films: Films,
    before: BeforeOven,
    yeast: YeastGas,
    lift: Rise,
    baked: Bake | None,
    loss: float | None,
    cooled_volume: float | None,
    knowledge: Knowledge,
) -> dict[str, float | None]:
    """Firmness, chew, slice strength, spring, cells, colours, pH and days kept; without a bake only what needs none.

    `loss` is the share of the dough that heat took off (0..1), `None` where it is not known; steam takes none.
    """
    dough = dough_state.dough
    sugars = left_sugars_g(dough_state, before, yeast, knowledge)
    acting = influences_on(dough_state, films, sugars, knowledge, only=ACTED_ON_COOL)
    ph = crumb_ph(dough_state, yeast.fermented_g, knowledge)
    hydration = dough_state.values["mixing_hydration"]
    values: dict[str, float | None] = {
        "crumb_ph": ph,
        "crumb_lightness": crumb_lightness(ph, acting, knowledge),
        "dough_stiffness": dough_stiffness(hydration, films, acting, knowledge),
    }
    if loss is None or not cooled_volume or not 0 < dough.water < dough.total:  # oil alone makes no crumb
        return values
    moisture = crumb_moisture_pct(dough.water, dough.total, loss, knowledge)
    kept_in_crumb = loss * knowledge.coefficient("crumb_share_of_loss")
    left = moisture / (100 - moisture) / (dough.water / (dough.total - dough.water))
    load = left * (dough_state.values["baked_water_load"] or knowledge.coefficient("firm_reference_load"))
    crumb = CoolCrumb(
        # The crust's lost water makes no crumb lighter.
        volume_ml_g=cooled_volume * (1 - loss) / (1 - kept_in_crumb),
        water_load=load,
        gas_over_dough=max((lift.set_ml or 0.0) / lift.matrix_ml - 1, 0.0),
        whole=lift.whole,
        mixing_hydration=hydration,
    )
    bite = texture_of(crumb, films, acting, knowledge)
    process = dough_state.formula.process
    kept_c = kept_at_c(process, knowledge)
    firming = firming_of(bite.firmness, dough, load, acting, knowledge, kept_c, kept_open=kept_open(process))
    activity = water_activity(dough, sugars, dough.total * moisture / 100, knowledge)
    crust = None
    if baked is not None:
        dose = browning_dose(baked.curves, baked.pulled_at_min, knowledge)
        crust = crust_lightness(dose, crust_readiness(ph, acting, knowledge), ph, acting, knowledge)
    return values | {
        "crumb_moisture_pct": moisture,
        "crumb_firmness": bite.firmness,
        "slice_strength": bite.cohesion,
        "springiness": bite.springiness,
        "chew": bite.chew,
        "cell_size": bite.cell_size,
        "firmness_day_2": firming.after(2.0),
        "firming_per_day": (firming.after(2.0) - bite.firmness) / 2,
        "days_soft": firming.days_until(knowledge.coefficient("firm_when_times_fresh")),
        "crumb_water_activity": activity,
        "days_without_mould": days_without_mould(activity, ph, acting, knowledge, kept_c),
        "crust_lightness": crust,
    }
