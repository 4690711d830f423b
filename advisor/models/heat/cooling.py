"""The core of a loaf after the pull: in its pan, then on a rack, until it can be sliced.

A loaf is a brick, or a round one a short cylinder: the product of slabs and a cylinder, each by the first term
of its series, theta = C exp(-z^2 Fo), with z tan z = Bi for a slab and z J1(z) / J0(z) = Bi for a cylinder
(Carslaw and Jaeger 1959, 3.11, 7.7 and 5.6). Steam that leaves the crust takes heat along, as so much more
surface conductance.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.thermal import heat_capacity, porosity, pressure_pa
from advisor.models.heat.crumb import crumb_conductivity
from advisor.models.heat.loaf_heat import LoafHeat
from advisor.models.heat.piece_shape import PieceShape

_FIRST_ROOT_OF_J0 = 2.404825557695773
"""Abramowitz and Stegun 1964, table 9.5."""
_NEWTON_STEPS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Decay:
    """One-term cooling of the middle: theta = `amplitude` exp(-`rate` t), with t in s and at most 1."""

    amplitude: float
    rate: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cooling:
    """A loaf that cools to its room, first `in_pan_min` minutes in its pan; degrees in C.

    The profile of a loaf on a rack is taken throughout, so that each minute in the pan only delays it.
    """

    start_c: float
    room_c: float
    sliceable_core_c: float
    in_pan_min: float
    rack: Decay
    pan: Decay

    def core_at(self, minute: float) -> float:
        """Core, C, so many minutes after the pull."""
        inside = min(minute, self.in_pan_min) * 60
        gone = self.pan.rate * inside + self.rack.rate * (minute * 60 - inside)
        left = min(self.rack.amplitude * math.exp(-gone), 1.0)
        return self.room_c + (self.start_c - self.room_c) * left

    @property
    def sliceable_after_min(self) -> float | None:
        """Minutes from the pull until the core can be sliced; `None` where the room is too warm for it."""
        if self.start_c <= self.sliceable_core_c:
            return 0.0
        if self.room_c >= self.sliceable_core_c:
            return None
        wanted = (self.sliceable_core_c - self.room_c) / (self.start_c - self.room_c)
        due = math.log(self.rack.amplitude / wanted)
        inside = self.pan.rate * self.in_pan_min * 60
        seconds = (
            due / self.pan.rate if due <= inside else self.in_pan_min * 60 + (due - inside) / self.rack.rate
        )
        return max(seconds, 0.0) / 60


def cool(
    loaf: LoafHeat, shape: PieceShape, *, start_c: float, in_pan_min: float, knowledge: Knowledge
) -> Cooling:
    """Cool a piece that is at `start_c` throughout, the first minutes in its pan where it has one.

    Crumb conducts as midway between `start_c` and the room. Valid from a Fourier number of 0.2 on; before, the
    core stays at its start.
    """
    c = knowledge.coefficient
    middle_c = (start_c + c("room_c")) / 2
    conductivity = crumb_conductivity(
        loaf.makeup,
        porosity(loaf.makeup, loaf.density_kg_m3),
        middle_c,
        air_pa=pressure_pa(loaf.altitude_m) / loaf.water_activity,
        vapour_share=c("oven_vapour_share"),
        vapour_cap=c("oven_vapour_cap"),
    )
    capacity = loaf.density_kg_m3 * heat_capacity(loaf.makeup, middle_c)
    half_m = (shape.width_cm / 200, shape.height_cm / 200, shape.length_cm / 200)
    rack, pan = (
        middle_decay(half_m, loaf.pan == "round", h, conductivity, capacity)
        for h in (c("cooling_h_rack") * (1 + c("cooling_steam_share")), c("cooling_h_pan"))
    )
    return Cooling(
        start_c=start_c,
        room_c=c("room_c"),
        sliceable_core_c=c("sliceable_core_c"),
        in_pan_min=in_pan_min if loaf.pan in ("tin", "round") else 0.0,
        rack=rack,
        pan=pan,
    )


def middle_decay(
    half_m: tuple[float, float, float], cylinder: bool, h: float, conductivity: float, capacity: float
) -> Decay:
    """Cooling of the middle of a brick of three half sizes [m], or of a cylinder (the first is its radius).

    `h` [W/(m2 K)] acts on all sides; conductivity [W/(m K)], capacity [J/(m3 K)]. The third size of a cylinder
    does not count.
    """
    amplitude, rate = 1.0, 0.0
    for index, half in enumerate(half_m[:2] if cylinder else half_m):
        biot = h * half / conductivity
        root, share = cylinder_root(biot) if cylinder and not index else slab_root(biot)
        amplitude *= share
        rate += root * root * conductivity / (capacity * half * half)
    return Decay(amplitude=amplitude, rate=rate)


def slab_root(biot: float) -> tuple[float, float]:
    """First root of z tan z = Bi, and its amplitude 4 sin z / (2 z + sin 2 z) in the middle."""
    z = math.sqrt(biot / (1 + biot * 4 / math.pi**2))
    for _ in range(_NEWTON_STEPS):
        sine, cosine = math.sin(z), math.cos(z)
        z -= (z * sine - biot * cosine) / (sine + z * cosine + biot * sine)
    return z, 4 * math.sin(z) / (2 * z + math.sin(2 * z))


def cylinder_root(biot: float) -> tuple[float, float]:
    """First root of z J1(z) = Bi J0(z), and its amplitude 2 J1 / (z (J0^2 + J1^2)) on the axis."""
    z = math.sqrt(2 * biot / (1 + 2 * biot / _FIRST_ROOT_OF_J0**2))
    for _ in range(_NEWTON_STEPS):
        j0, j1 = _bessel(0, z), _bessel(1, z)
        z -= (z * j1 - biot * j0) / (z * j0 + biot * j1)
    j0, j1 = _bessel(0, z), _bessel(1, z)
    return z, 2 * j1 / (z * (j0 * j0 + j1 * j1))


def _bessel(order: int, z: float) -> float:
    """J of order 0 or 1 by its power series, to 1e-9 for z up to 2.5 (Abramowitz and Stegun, 9.1.10)."""
    term = (z / 2) ** order
    total = term
    for k in range(1, 11):
        term *= -z * z / 4 / (k * (k + order))
        total += term
    return total
