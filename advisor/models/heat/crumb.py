"""A dough full of gas as a heat conductor: while it warms, while its water boils away, and as dry crust."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from advisor.models.dough.thermal import (
    AIR_CONDUCTIVITY,
    GAS_CONSTANT,
    LATENT_J_KG,
    STANDARD_PA,
    WATER_KG_MOL,
    Makeup,
    parts_at,
    porosity,
    porous_conductivity,
    solid_conductivity,
    vapour_pressure_pa,
)

if TYPE_CHECKING:
    from advisor.models.heat.section_grid import Array

_CORRELATED_TO_C = 150.0
"""Where the correlations of the parts end."""
_DIFFUSION_M2_S, _DIFFUSION_POWER = 2.26e-5, 1.81
"""Water vapour in air at 0 C and one atmosphere, and its power of absolute temperature (Krischer)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CrumbTable:
    """Over C: heat capacity without boiling, J/(m3 K); conductivity, W/(m K); water gone, kg/m3."""

    temp_c: Array
    volumetric_heat: Array
    conductivity: Array
    water_gone: Array


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
    import numpy as np

    crust = makeup.dried(dry_residue)
    water = dict(makeup.shares())["water"]
    leaves = density_kg_m3 * water * (1 - dry_residue)
    crust_density = density_kg_m3 - leaves
    gas, dry_gas = porosity(makeup, density_kg_m3), porosity(crust, crust_density)
    start = boiling_c - front_width_c / 2
    grid = _grid(start, front_width_c, hottest_c)
    temp_c = np.array(grid)
    dry = np.clip((temp_c - start) / front_width_c, 0.0, 1.0)
    wet_heat, _ = _mixed(makeup, _parts(grid))
    _, wet_solid = _mixed(makeup, _parts(tuple(min(t, boiling_c) for t in grid)))
    crust_heat, crust_solid = _mixed(crust, _parts(tuple(min(t, _CORRELATED_TO_C) for t in grid)))
    bubble = AIR_CONDUCTIVITY + np.array(
        [vapour_conductivity(min(t, boiling_c), air_pa, vapour_share, vapour_cap) for t in grid]
    )
    wet_conducts = (1 - gas) * wet_solid + gas * bubble
    return CrumbTable(
        temp_c=temp_c,
        volumetric_heat=(1 - dry) * density_kg_m3 * wet_heat + dry * crust_density * crust_heat,
        conductivity=(1 - dry) * wet_conducts + dry * porous_conductivity(crust_solid, dry_gas),
        water_gone=dry * leaves,
    )


@lru_cache(maxsize=64)
def _grid(start: float, width: float, hottest_c: float) -> tuple[float, ...]:
    """Temperatures: closer together towards the boiling point, where vapour carries ever more; the front; then on."""
    end = start + width
    below = [start * (1 - (1 - i / 24) ** 1.5) for i in range(25)]
    count = 24
    front = [start + width * i / 4 for i in range(1, 5)]
    above = [end + (hottest_c - end) * i / count for i in range(1, count + 1)]
    return (*below, *front, *above)


@lru_cache(maxsize=64)  # depends on no dough: every bake in one oven asks for the same temperatures
def _parts(temps_c: tuple[float, ...]) -> Array:
    """Heat capacity, density and conductivity of the parts (property, temperature, part)."""
    import numpy as np

    return np.array([parts_at(temp_c) for temp_c in temps_c]).transpose(2, 0, 1).copy()


def _mixed(makeup: Makeup, parts: Array) -> tuple[Array, Array]:
    """Specific heat, J/(kg K), and conductivity without gas, W/(m K), as `thermal` has them one by one."""
    import numpy as np

    shares = np.array([share for _, share in makeup.shares()])
    heat, density, conductivity = parts
    by_volume = shares / density
    return heat @ shares, (by_volume * conductivity).sum(axis=1) / by_volume.sum(axis=1)
