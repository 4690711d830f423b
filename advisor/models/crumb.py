"""A dough full of gas as a heat conductor: while it warms, while its water boils away, and as dry crust."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from advisor.models.thermal import (
    AIR_CONDUCTIVITY,
    GAS_CONSTANT,
    LATENT_J_KG,
    STANDARD_PA,
    WATER_KG_MOL,
    Makeup,
    heat_capacity,
    porosity,
    porous_conductivity,
    solid_conductivity,
    vapour_pressure_pa,
)

_DIFFUSION_M2_S, _DIFFUSION_POWER = 2.26e-5, 1.81
"""Water vapour in air at 0 C and one atmosphere, and its power of absolute temperature (Krischer)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CrumbTable:
    """Over C: heat capacity without boiling, J/(m3 K); conductivity, W/(m K); water gone, kg/m3."""

    temp_c: tuple[float, ...]
    volumetric_heat: tuple[float, ...]
    conductivity: tuple[float, ...]
    water_gone: tuple[float, ...]


@lru_cache(maxsize=256)  # depends on no dough: every bake at one altitude asks for the same temperatures
def vapour_conductivity(temp_c: float, air_pa: float, share: float, cap: float) -> float:
    """Heat that vapour carries across a bubble by boiling off one wall and condensing on the other, W/(m K).

    Krischer's term: share D L (M / R T) P / (P - p) dp/dT, with D vapour in air, L heat of evaporation and
    `share` how much of free diffusion takes part. It has no limit at the boiling point, where a bubble holds
    vapour alone, so it is joined with `cap` as resistances in a row.
    Valid from 0 C to the boiling point at `air_pa`; above it the cap alone.
    """
    if share <= 0:
        return 0.0
    kelvin = temp_c + 273.15
    here = vapour_pressure_pa(temp_c)
    if here >= 0.999 * air_pa:
        return cap
    below = max(temp_c - 0.5, 0.0)
    slope = (vapour_pressure_pa(temp_c + 0.5) - vapour_pressure_pa(below)) / (temp_c + 0.5 - below)
    warmer: float = (kelvin / 273.15) ** _DIFFUSION_POWER
    diffusion = _DIFFUSION_M2_S * warmer * STANDARD_PA / air_pa
    free = diffusion * LATENT_J_KG * WATER_KG_MOL / (GAS_CONSTANT * kelvin) * air_pa / (air_pa - here) * slope
    return 1 / (1 / (share * free) + 1 / cap)


def crumb_conductivity(
    makeup: Makeup,
    gas_share: float,
    temp_c: float,
    *,
    air_pa: float,
    vapour_share: float,
    vapour_cap: float,
) -> float:
    """Conductivity of wet dough or crumb, W/(m K), from 0 C to the boiling point at `air_pa`.

    Bubbles, `gas_share` of the volume, conduct by air and vapour, in parallel with the dough between them: where
    vapour carries more than the dough does, heat seeks the bubbles.
    """
    bubble = AIR_CONDUCTIVITY + vapour_conductivity(temp_c, air_pa, vapour_share, vapour_cap)
    return (1 - gas_share) * solid_conductivity(makeup, temp_c) + gas_share * bubble


def tabulate_crumb(
    makeup: Makeup,
    density_kg_m3: float,
    *,
    boiling_c: float,
    air_pa: float,
    hottest_c: float,
    vapour_share: float,
    vapour_cap: float,
    front_width_c: float,
    dry_residue: float,
) -> CrumbTable:
    """Properties from 0 C to `hottest_c`.

    Water leaves within `front_width_c` of the boiling point, all but `dry_residue` of it (0..1); meanwhile
    the properties pass from those of crumb to those of crust in the same proportion. The dry crust is a solid
    with bubbles in it.
    """
    crust = makeup.dried(dry_residue)
    water = dict(makeup.shares())["water"]
    leaves = density_kg_m3 * water * (1 - dry_residue)
    crust_density = density_kg_m3 - leaves
    gas, dry_gas = porosity(makeup, density_kg_m3), porosity(crust, crust_density)
    start, end = boiling_c - front_width_c / 2, boiling_c + front_width_c / 2
    # Closer together towards the boiling point, where vapour carries ever more.
    below = [start * (1 - (1 - i / 24) ** 1.5) for i in range(25)]
    count = max(4, math.ceil((hottest_c - end) / 8))
    front = [start + front_width_c * i / 4 for i in range(1, 5)]
    above = [end + (hottest_c - end) * i / count for i in range(1, count + 1)]
    heats, conducts, gone = [], [], []
    for temp_c in (*below, *front, *above):
        dry = min(max((temp_c - start) / front_width_c, 0.0), 1.0)
        heat = conduct = 0.0
        if dry < 1:
            heat += (1 - dry) * density_kg_m3 * heat_capacity(makeup, temp_c)
            conduct += (1 - dry) * crumb_conductivity(
                makeup,
                gas,
                min(temp_c, boiling_c),
                air_pa=air_pa,
                vapour_share=vapour_share,
                vapour_cap=vapour_cap,
            )
        if dry > 0:
            seen_c = min(temp_c, 150.0)  # the correlations end there
            heat += dry * crust_density * heat_capacity(crust, seen_c)
            conduct += dry * porous_conductivity(solid_conductivity(crust, seen_c), dry_gas)
        heats.append(heat)
        conducts.append(conduct)
        gone.append(dry * leaves)
    return CrumbTable(
        temp_c=(*below, *front, *above),
        volumetric_heat=tuple(heats),
        conductivity=tuple(conducts),
        water_gone=tuple(gone),
    )
