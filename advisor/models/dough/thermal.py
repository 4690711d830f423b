"""Heat properties of a dough from its composition, and where its water boils.

Temperatures in degrees C, conductivity in W/(m K), heat capacity in J/(kg K), density in kg/m3,
pressure in Pa. Pure Python: no array library is needed to ask for one number.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

_Number = TypeVar("_Number", float, "Array")

GAS_CONSTANT = 8.314462618
"""J/(mol K), exact since the 2019 SI."""
WATER_KG_MOL = 0.01801528
"""Molar mass of water, IAPWS."""
LATENT_J_KG = 2.2564e6
"""Heat of evaporation of water at 100 C, IAPWS-95."""
STANDARD_PA = 101325.0
AIR_CONDUCTIVITY = 0.028
"""Still air near 60 C, W/(m K)."""

# Choi and Okos 1986, as tabulated in the refrigeration handbook's chapter on thermal properties of foods:
# a + b t + c t2, t in degrees C, -40 to 150 C.
_CONDUCTIVITY = {
    "water": (0.57109, 1.7625e-3, -6.7036e-6),
    "protein": (0.17881, 1.1958e-3, -2.7178e-6),
    "fat": (0.18071, -2.7604e-4, -1.7749e-7),
    "carb": (0.20141, 1.3874e-3, -4.3312e-6),
    "fibre": (0.18331, 1.2497e-3, -3.1683e-6),
    "ash": (0.32962, 1.4011e-3, -2.9069e-6),
}
_DENSITY = {
    "water": (997.18, 3.1439e-3, -3.7574e-3),
    "protein": (1329.9, -0.51840, 0.0),
    "fat": (925.59, -0.41757, 0.0),
    "carb": (1599.1, -0.31046, 0.0),
    "fibre": (1311.5, -0.36589, 0.0),
    "ash": (2423.8, -0.28063, 0.0),
}
_HEAT_CAPACITY = {
    "water": (4176.2, -9.0864e-2, 5.4731e-3),
    "protein": (2008.2, 1.2089, -1.3129e-3),
    "fat": (1984.2, 1.4733, -4.8008e-3),
    "carb": (1548.8, 1.9625, -5.9399e-3),
    "fibre": (1845.9, 1.8306, -4.6509e-3),
    "ash": (1092.6, 1.8896, -3.6817e-3),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Makeup:
    """Mass fractions of a food; they should add up to about 1, and are taken relative to their sum."""

    water: float = 0.0
    protein: float = 0.0
    fat: float = 0.0
    carb: float = 0.0
    fibre: float = 0.0
    ash: float = 0.0

    def shares(self) -> tuple[tuple[str, float], ...]:
        """Give each part's share of the whole.

        Raises:
            ValueError: a fraction is negative, or all are zero.
        """
        return _shares(self)

    def dried(self, keep: float) -> Makeup:
        """Give the makeup after all but `keep` (0..1) of the water has gone."""
        return Makeup(
            water=self.water * keep,
            protein=self.protein,
            fat=self.fat,
            carb=self.carb,
            fibre=self.fibre,
            ash=self.ash,
        )


@lru_cache(maxsize=16)  # one makeup is asked for at a hundred temperatures in a row
def _shares(makeup: Makeup) -> tuple[tuple[str, float], ...]:
    parts = tuple((name, float(getattr(makeup, name))) for name in _DENSITY)
    total = sum(share for _, share in parts)
    if total <= 0 or min(share for _, share in parts) < 0:
        raise ValueError("mass fractions must not be negative, and not all of them zero")
    return tuple((name, share / total) for name, share in parts)


def _at(row: tuple[float, float, float], temp_c: float) -> float:
    return row[0] + row[1] * temp_c + row[2] * temp_c * temp_c


def parts_at(temp_c: float) -> tuple[tuple[float, float, float], ...]:
    """Give heat capacity, J/(kg K), density, kg/m3, and conductivity, W/(m K), of each part of a makeup, in order."""
    return tuple(
        (_at(_HEAT_CAPACITY[name], temp_c), _at(_DENSITY[name], temp_c), _at(_CONDUCTIVITY[name], temp_c))
        for name in _DENSITY
    )


def heat_capacity(makeup: Makeup, temp_c: float) -> float:
    """Specific heat in J/(kg K): the mass-weighted sum of the parts. Choi and Okos 1986; -40 to 150 C."""
    return sum(share * _at(_HEAT_CAPACITY[name], temp_c) for name, share in makeup.shares())


def solid_density(makeup: Makeup, temp_c: float) -> float:
    """Density without gas, kg/m3: one over the sum of share/density. Choi and Okos 1986; -40 to 150 C."""
    return 1 / sum(share / _at(_DENSITY[name], temp_c) for name, share in makeup.shares())


def solid_conductivity(makeup: Makeup, temp_c: float) -> float:
    """Conductivity without gas, W/(m K): parts in parallel by volume. Choi and Okos 1986; -40 to 150 C."""
    rho = solid_density(makeup, temp_c)
    return sum(
        share * rho / _at(_DENSITY[name], temp_c) * _at(_CONDUCTIVITY[name], temp_c)
        for name, share in makeup.shares()
    )


def porosity(makeup: Makeup, density_kg_m3: float, temp_c: float = 25.0) -> float:
    """Share of the volume that is gas, from the density with gas; 0 where the dough is denser than its parts.

    Raises:
        ValueError: the density is not positive.
    """
    if density_kg_m3 <= 0:
        raise ValueError(f"density {density_kg_m3:g} kg/m3 is not positive")
    return max(0.0, 1 - density_kg_m3 / solid_density(makeup, temp_c))


def porous_conductivity(solid_w_mk: _Number, gas_share: float, gas_w_mk: float = AIR_CONDUCTIVITY) -> _Number:
    """Conductivity of a solid with bubbles in it, W/(m K).

    Maxwell (1873), Eucken (1940): k_s (2 k_s + k_g - 2 e (k_s - k_g)) / (2 k_s + k_g + e (k_s - k_g));
    the solid is continuous, e the share of gas, 0 to 1.
    """
    step = gas_share * (solid_w_mk - gas_w_mk)
    whole = 2 * solid_w_mk + gas_w_mk
    return solid_w_mk * (whole - 2 * step) / (whole + step)


# Wagner and Pruss 2002, J. Phys. Chem. Ref. Data 31:387, eq. 2.5; critical point of IAPWS-95.
_CRITICAL_K, _CRITICAL_PA = 647.096, 22.064e6
_SATURATION = (
    (-7.85951783, 1.0),
    (1.84408259, 1.5),
    (-11.7866497, 3.0),
    (22.6807411, 3.5),
    (-15.9618719, 4.0),
    (1.80122502, 7.5),
)


@lru_cache(
    maxsize=512
)  # the tables of every bake at one altitude and in one oven ask for the same temperatures
def vapour_pressure_pa(temp_c: float) -> float:
    """Pressure of water vapour over water, Pa; 0.01 to 370 C, `ValueError` outside. Wagner and Pruss 2002."""
    if not 0.0 <= temp_c <= 370.0:
        raise ValueError(f"{temp_c:g} C lies outside 0 to 370 C")
    tau = 1 - (temp_c + 273.15) / _CRITICAL_K
    total = sum(a * tau**power for a, power in _SATURATION)
    return _CRITICAL_PA * math.exp(_CRITICAL_K / (temp_c + 273.15) * total)


def pressure_pa(altitude_m: float) -> float:
    """Air pressure, Pa, from -610 to 11000 m. US Standard Atmosphere 1976, first layer.

    Raises:
        ValueError: outside that layer.
    """
    if not -610 <= altitude_m <= 11000:
        raise ValueError(f"altitude {altitude_m:g} m lies outside -610 to 11000 m")
    geopotential_m = 6356766.0 * altitude_m / (6356766.0 + altitude_m)
    exponent = 9.80665 * 0.0289644 / (8.31432 * 0.0065)
    return STANDARD_PA * float((1 - 0.0065 * geopotential_m / 288.15) ** exponent)


@lru_cache(maxsize=64)
def boiling_point_c(altitude_m: float = 0.0, water_activity: float = 1.0) -> float:
    """Temperature at which activity times vapour pressure reaches the air's pressure, C; by bisection.

    Raises:
        ValueError: the activity is not in (0.2, 1], or the altitude lies outside the standard's first layer.
    """
    if not 0.2 < water_activity <= 1:
        raise ValueError(f"water activity {water_activity:g} must lie above 0.2 and at most at 1")
    target = pressure_pa(altitude_m) / water_activity
    low, high = 30.0, 200.0
    while high - low > 1e-6:
        middle = (low + high) / 2
        low, high = (middle, high) if vapour_pressure_pa(middle) < target else (low, middle)
    return (low + high) / 2
