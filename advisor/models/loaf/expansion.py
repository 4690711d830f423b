"""How big the loaf gets: gas kept, gas dissolved, and free expansion up to the set."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.assumptions import ProcessWithDefaults
from advisor.models.dough.composition import DoughComposition
from advisor.models.dough.thermal import boiling_point_c, pressure_pa, vapour_pressure_pa
from advisor.models.leavening.fermentation import YeastGas
from advisor.models.leavening.neutralisation import ML_PER_MOL, ChemicalGas

ZERO_C = 273.15
_REFERENCE_K, _REFERENCE_PA = 298.15, 101_325.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Rise:
    """Volumes of the whole dough in mL, and shares of the gas that came too early or too late.

    `matrix_ml` is the dough without gas.
    """

    matrix_ml: float
    mixed_ml: float
    proofed_ml: float
    set_ml: float | None
    reason: str
    dissolved_capacity_ml: float
    early_gas_share: float
    late_gas_share: float
    whole: float = 1.0
    """Share of the bubbles that have not burst or run together by the set (0..1)."""


def matrix_volume_ml(dough: DoughComposition, knowledge: Knowledge) -> float:
    """Volume of the dough without gas: sum of component mass over component density [mL].

    Densities near 25 C after Choi and Okos 1986, as tabulated in the ASHRAE Handbook, Refrigeration.
    """
    c = knowledge.coefficient
    available = dough.carbohydrate - dough.fibre
    return (
        dough.water / c("density_water")
        + dough.protein / c("density_protein")
        + dough.fat / c("density_fat")
        + max(available, 0.0) / c("density_carbohydrate")
        + dough.fibre / c("density_fibre")
        + dough.ash / c("density_ash")
        + (dough.alcohol + dough.organic_acid) / c("density_water")
    )


def dissolved_capacity_ml(water_g: float, t_c: float, pressure: float, knowledge: Knowledge) -> float:
    """CO2 that the dough's water can hold dissolved, mL at 25 C and 101.325 kPa.

    Henry's law c = kH(T) p with kH = k25 exp(b (1/T - 1/298.15)); constants by Sander 2015 (Atmos. Chem. Phys.
    15, 4399): 3.3e-4 mol/(m3 Pa) and 2400 K (from memory). Bubbles are taken to be CO2 at local pressure.
    """
    t_k = t_c + ZERO_C
    k = knowledge.coefficient("henry_co2_25c") * math.exp(
        knowledge.coefficient("henry_co2_slope_k") * (1 / t_k - 1 / _REFERENCE_K)
    )
    # Water below its freezing point is taken as at it: what vapour there is makes no difference.
    partial = max(pressure - vapour_pressure_pa(max(t_c, 0.0)), 0.0)
    return k * partial * (water_g / 1e6) * ML_PER_MOL


def free_expansion(t_c: float, altitude_m: float, knowledge: Knowledge) -> float | None:
    """Volume of moist gas at `t_c` over that of the same dry gas at 25 C and 101.325 kPa (-).

    (T / 298.15) x 101325 / (P - a_w p_w(T)): ideal gas saturated with vapour of the dough's water. Validity: up
    to T_boil - 3 K; nearer to boiling the bubble is driven by steam and the equation diverges, so `None`.
    """
    if t_c > boiling_point_c(altitude_m, knowledge.coefficient("dough_water_activity")) - 3:
        return None
    p = pressure_pa(altitude_m)
    vapour = knowledge.coefficient("dough_water_activity") * vapour_pressure_pa(max(t_c, 0.0))
    return (t_c + ZERO_C) / _REFERENCE_K * _REFERENCE_PA / (p - vapour)


def still_whole(gas_ml: float, bears_ml: float, power: float) -> float:
    """Share of gas still in whole bubbles (0..1) when so much of it stretches the films: exp(-(g / b)^n / n).

    A Weibull law of rupture, so scaled that the gas left, g times this, is most at g = b and falls beyond: films
    thin, break and run together, and the loaf gets smaller for more gas. Weibull 1951, J Appl Mech 18, 293 (memory).
    """
    return math.exp(-((gas_ml / bears_ml) ** power) / power) if bears_ml > 0 and gas_ml > 0 else 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """How well a dough keeps its gas and what it starts with.

    `set_c` is where its crumb carries itself [C], `proofed_c` its temperature at the oven's door, `air_share` the
    air in it after mixing (0..1), `kept_share` what it keeps of its gas (0..1).
    """

    shares: Mapping[str, float]
    set_c: float
    proofed_c: float
    air_share: float
    kept_share: float
    available_water_g: float


def rise(
    with_defaults: ProcessWithDefaults,
    dough: DoughComposition,
    soda: ChemicalGas,
    yeast: YeastGas,
    hold: Hold,
    knowledge: Knowledge,
) -> Rise:
    """Follow the gas from the bowl to the set.

    Gas of the mixing and the rest is kept only in part (kneading out, shaping), that of earlier rises in less, that
    of the proof and oven by the structure's retention. Dissolved gas makes no volume until the water is full and
    comes back in the oven. Retention and air are calibrated against published specific volumes; results are relative
    more than absolute.
    """
    c = knowledge.coefficient
    keep = hold.kept_share
    altitude = with_defaults.altitude_m
    matrix = matrix_volume_ml(dough, knowledge)
    air = matrix * hold.air_share / (1 - hold.air_share)
    before = soda.mix + yeast.rest
    bench = soda.bench + yeast.proof
    # Yeast goes on making gas while it stands; that of soda and powder is made once and seeps away.
    # Acid and enzymes that slacken a film are slow in the cold: a night in the fridge is an hour or two on the bench.
    slackens = min(c("film_slackens_q10") ** ((with_defaults.proof_c - c("film_slackens_at_c")) / 10), 1.0)
    waits = with_defaults.rest_min + with_defaults.proof_min * slackens
    stays = sum(
        w * math.exp(-waits / knowledge.structures[s].keeps_gas_min.value) for s, w in hold.shares.items()
    )
    through = c("gas_kept_through_mixing")
    shaped = c("gas_kept_through_shaping") if with_defaults.earlier else through
    kept = ((soda.mix * through + soda.bench) * stays + yeast.rest * shaped + yeast.proof) * keep
    capacity = dissolved_capacity_ml(hold.available_water_g, hold.proofed_c, pressure_pa(altitude), knowledge)
    dissolved = min(before + bench, capacity)
    # The dissolved share is safe in the water; only what is over it can be lost or can make volume.
    grows_proof = free_expansion(hold.proofed_c, altitude, knowledge) or 1.0
    free = max(min(kept, before + bench - dissolved), 0.0)
    # Films slacken as they stand: what they bear falls as still gas seeps out.
    bears = matrix * stays * sum(w * knowledge.structures[s].bears_gas.value for s, w in hold.shares.items())
    whole = still_whole((air + free) * grows_proof, bears, c("film_bursts_power"))
    free *= whole
    lost = max(before + bench - dissolved - free, 0.0)
    grows = free_expansion(hold.set_c, altitude, knowledge)
    oven_gas = (soda.early_oven + yeast.early_oven) * keep
    held = (air * keep + free + dissolved * keep + oven_gas) * c("gas_kept_through_oven")
    if grows is not None:
        risen = still_whole(held * grows, bears, c("film_bursts_power"))
        held, whole = held * risen, whole * risen
    total = soda.total + yeast.total
    return Rise(
        matrix_ml=matrix,
        mixed_ml=matrix + air,
        proofed_ml=matrix + (air + free) * grows_proof,
        set_ml=None if grows is None else matrix + held * grows,
        reason="" if grows is not None else "the loaf sets so near boiling that steam drives it",
        dissolved_capacity_ml=capacity,
        early_gas_share=lost / total if total > 0 else 0.0,
        late_gas_share=soda.late_oven / total if total > 0 else 0.0,
        whole=whole,
    )
