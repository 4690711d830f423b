"""A cracker or crisp that dries through: first as fast as heat comes, then ever more slowly.

Textbook drying in two periods. While both faces are wet the rate is what the oven's heat evaporates,
N = q / L for each square metre; below a critical water content it falls in proportion to what is left above the
content in balance with the oven (a chemical engineers' handbook has it under batch drying, from memory). Water
content X is in grams for each gram of dry matter.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.models.dough.thermal import (
    LATENT_J_KG,
    boiling_point_c,
    heat_capacity,
    pressure_pa,
    vapour_pressure_pa,
)
from advisor.models.heat.loaf_heat import HeatCoefficients, LoafHeat, OvenCoefficients
from advisor.models.heat.oven import OutsideOvenModel

STEFAN_BOLTZMANN = 5.670374419e-8
"""W/(m2 K4), exact since the 2019 SI."""
THINNEST_M, THICKEST_M = 0.0005, 0.012


@dataclass(frozen=True, slots=True, kw_only=True)
class Drying:
    """How one piece dries: minutes until it is warm, water content at the start, loss in the first period, 1/min."""

    warm_min: float
    start: float
    per_min: float
    heat: HeatCoefficients

    def water_at(self, minute: float) -> float:
        """Water content after so many minutes in the oven, g/g dry."""
        left = minute - self.warm_min
        if left <= 0:
            return self.start
        edge, balance = min(self.heat.critical_water, self.start), self.heat.balance_water
        until_edge = (self.start - edge) / self.per_min
        if left <= until_edge:
            return self.start - self.per_min * left
        falls = self.per_min / (self.heat.critical_water - balance)
        return balance + (edge - balance) * math.exp(-falls * (left - until_edge))

    def minutes_to(self, water: float) -> float | None:
        """Minutes in the oven until the content is `water`, g/g dry; `None` where the oven never brings it there."""
        if water >= self.start:
            return 0.0
        edge, balance = min(self.heat.critical_water, self.start), self.heat.balance_water
        if water <= balance:
            return None
        if water >= edge:
            return self.warm_min + (self.start - water) / self.per_min
        falls = self.per_min / (self.heat.critical_water - balance)
        slow = math.log((edge - balance) / (water - balance)) / falls
        return self.warm_min + (self.start - edge) / self.per_min + slow

    @property
    def crisp_min(self) -> float | None:
        """Minutes in the oven until it snaps; `None` where the oven never dries it so far."""
        crisp = self.heat.crisp_water
        return self.minutes_to(crisp / (1 - crisp))


def dry(
    dough: LoafHeat,
    coefficients: OvenCoefficients,
    *,
    thickness_m: float,
    heat: HeatCoefficients,
    faces: int = 2,
) -> Drying:
    """Dry a piece of `thickness_m` in the oven of `dough.oven_c` by one or two faces.

    Raises:
        OutsideOvenModel: oven, thickness or dough lie outside what the model covers.
    """
    if not THINNEST_M <= thickness_m <= THICKEST_M:
        least, most = 1000 * THINNEST_M, 1000 * THICKEST_M
        raise OutsideOvenModel(
            f"{1000 * thickness_m:g} mm lies outside {least:g} to {most:g} mm for a cracker"
        )
    if not 50 <= dough.oven_c <= 250:
        raise OutsideOvenModel(f"drying at {dough.oven_c:g} C lies outside 50 to 250 C")
    if dough.water_frac <= 0.02:
        raise OutsideOvenModel("a dough with 2 % of water or less has nothing to dry")
    solids = 1 - dough.water_frac
    wet_c = wet_surface_c(dough, coefficients)
    flux = _heat_in(dough, coefficients, wet_c)
    dry_kg_m2 = dough.density_kg_m3 * thickness_m * solids
    mean_c = (dough.start_c + wet_c) / 2
    warming = (
        dough.density_kg_m3
        * thickness_m
        * heat_capacity(dough.makeup, mean_c)
        * max(wet_c - dough.start_c, 0.0)
    )
    # While it warms it takes the mean of what it takes cold and what it takes at the wet surface's own temperature.
    warm_flux = (_heat_in(dough, coefficients, dough.start_c) + flux) / 2
    return Drying(
        warm_min=warming / (faces * warm_flux) / 60,
        start=dough.water_frac / solids,
        per_min=60 * faces * flux / LATENT_J_KG / dry_kg_m2,
        heat=heat,
    )


def wet_surface_c(dough: LoafHeat, coefficients: OvenCoefficients) -> float:
    """Temperature at which a wet face gives off in vapour what it takes in as heat: a wet bulb that also takes
    radiation, C. By bisection; at most the boiling point.
    """
    per_pa = (
        _convection(dough, coefficients) / (1006.0 * 0.865 ** (2 / 3)) * 0.622 / pressure_pa(dough.altitude_m)
    )
    low, high = 0.0, min(boiling_point_c(dough.altitude_m, dough.water_activity), dough.oven_c)
    for _ in range(40):
        middle = (low + high) / 2
        leaves = LATENT_J_KG * per_pa * dough.water_activity * vapour_pressure_pa(middle)
        low, high = (middle, high) if leaves < _heat_in(dough, coefficients, middle) else (low, middle)
    return (low + high) / 2


def _convection(dough: LoafHeat, coefficients: OvenCoefficients) -> float:
    return coefficients.h_fan if dough.fan else coefficients.h_still


def _heat_in(dough: LoafHeat, coefficients: OvenCoefficients, surface_c: float) -> float:
    """Heat to a face by air and radiation, W/m2."""
    oven_k, surface_k = dough.oven_c + 273.15, surface_c + 273.15
    radiation = coefficients.emissivity_crust * STEFAN_BOLTZMANN * (oven_k**4 - surface_k**4)
    return _convection(dough, coefficients) * (dough.oven_c - surface_c) + radiation
