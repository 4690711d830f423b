"""The dough at rest: what can be known of a formula before its structure is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from advisor.formula.formula import Formula, Process
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough import composition as comp
from advisor.models.dough.assumptions import ProcessWithDefaults, fill_defaults
from advisor.models.dough.coagulation import Setting, setting_of
from advisor.models.dough.composition import DoughComposition
from advisor.models.dough.dough_temperature import dough_temperature_c
from advisor.models.dough.foam import is_foam
from advisor.models.dough.hydration import WaterBudget, swelling_wait_min, water_budget
from advisor.models.dough.proteins import Framework, framework, setting_protein_pct, share
from advisor.models.leavening.neutralisation import SodaAndAcids, soda_and_acids


@dataclass(frozen=True, slots=True, kw_only=True)
class DoughState:
    """What can be known before the structure is: the dough at rest."""

    formula: Formula
    with_defaults: ProcessWithDefaults
    dough: DoughComposition
    water: WaterBudget
    frame: Framework
    soda: SodaAndAcids
    setting: Setting
    dough_c: float
    dry_base: float
    values: Mapping[str, float | None]


def per_100g(ml: float, dough_g: float) -> float:
    """Give an amount of the whole dough over 100 g of it."""
    return ml / dough_g * 100 if dough_g > 0 else 0.0


def dough_state_of(formula: Formula, knowledge: Knowledge) -> DoughState:
    """Compute what does not depend on the structure in play: composition, water, framework, soda and acid."""
    with_defaults = fill_defaults(formula, knowledge)
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
        "water_need_pct": 100 * (water.absorption - sum(water.from_solids)) / dry if dry > 0 else None,
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
        "swelling_wait_min": swelling_wait_min(formula, with_defaults),
        "psyllium_pct_of_dry": 100 * psyllium / dry if dry > 0 else None,
        "reactive_protein_pct": 100 * frame.reactive / dough.total,
        "salt_per_100g_water": comp.salt_in_water(formula),
        "salt_pct": per_100g(comp.salt(formula), dough.total),
        "salt_pct_of_dry": _salt_pct_of_dry(formula, dough, dry),
        "sugar_per_100g_water": comp.sugar_in_water(formula),
        "oven_set_c": _oven_set_c(formula.process, knowledge),
        "co2_chemical": per_100g(soda.potential_ml, dough.total),
        "leavening_strength": soda.strength,
        "residual_soda_meq": per_100g(soda.left_soda_meq, dough.total),
        "residual_acid_meq": per_100g(soda.left_acid_meq, dough.total),
    }
    return DoughState(
        formula=formula, with_defaults=with_defaults, dough=dough, water=water, frame=frame, soda=soda, dry_base=dry,
        setting=setting_of(frame, dough, knowledge),
        dough_c=dough_temperature_c(formula, with_defaults.water_c, with_defaults.mix_min, knowledge), values=values,
    )  # fmt: skip


def _salt_pct_of_dry(formula: Formula, dough: DoughComposition, dry: float) -> float | None:
    """Salt over the dry base, %; `None` where there is neither water nor dry base."""
    return None if dough.water <= 0 or dry <= 0 else 100 * comp.salt(formula) / dry


def _oven_set_c(process: Process, knowledge: Knowledge) -> float | None:
    """The dial as it is stated, over all steps by their time, as of a still oven [C]; `None` where nothing is stated.

    A plate or a steamer is no oven.
    """
    if process.griddle_c is not None or process.griddle_side_min is not None or process.steam_min is not None:
        return None
    if process.oven_c is None:
        return None
    return process.oven_c + (knowledge.coefficient("oven_fan_worth_c") if process.oven_fan else 0.0)


def _mixing_hydration(
    formula: Formula, dough: DoughComposition, water: WaterBudget, frame: Framework, knowledge: Knowledge
) -> float | None:
    """Available water over absorption; `None` for a foam, and where next to nothing takes up water (minced meat)."""
    least = knowledge.coefficient("least_absorption_share") * dough.total
    if water.absorption < least or is_foam(formula, frame, dough.total, knowledge):
        return None
    return water.mixing_hydration
