"""Two-dimensional conduction with a boiling front, in the enthalpy form, over half a section.

The state is heat per volume, H. Temperature T(H) and the Kirchhoff integral Theta(T) = integral of k dT are
tables, so that dH/dt = div grad Theta holds through the boiling plateau and the dry crust with one equation
(Voller and Cross 1981 for the enthalpy form; Carslaw and Jaeger 1959, 2.16, for Kirchhoff's transformation).
Time: three-step backward differences with steps that grow, one Newton step from the heat carried on, its matrix
factored into the two directions (Beam and Warming 1978).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from advisor.models.heat.oven_around import Oven
from advisor.models.heat.section_grid import Array, Cells, Lines, lay_cells
from advisor.models.heat.skin import Face, Skin
from advisor.models.heat.time_steps import Clock, Pace

__all__ = ["Array", "Face", "History", "Material", "Oven", "Pace", "Section", "conduct", "tabulate"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Material:
    """Tables over temperature: heat per volume (J/m3), conductivity, its integral (W/m), water gone (kg/m3).

    `skin_pa` is the pressure of vapour over a skin, zero once that skin is dry; `latent` J/kg.
    """

    temp_c: Array
    heat: Array
    conductivity: Array
    potential: Array
    water_gone: Array
    skin_pa: Array
    latent: float


def tabulate(
    temp_c: Array,
    volumetric_heat: Array,
    conductivity: Array,
    water_gone: Array,
    latent: float,
    skin_pa: Array | None = None,
) -> Material:
    """Integrate heat capacity (J/(m3 K)), latent heat (J/kg) of the water gone, and conductivity."""
    step = np.diff(temp_c)

    def summed(values: Array) -> Array:
        return np.concatenate(([0.0], np.cumsum((values[1:] + values[:-1]) / 2 * step)))

    return Material(
        temp_c=temp_c,
        heat=summed(volumetric_heat) + latent * water_gone,
        conductivity=conductivity,
        potential=summed(conductivity),
        water_gone=water_gone,
        skin_pa=np.zeros_like(temp_c) if skin_pa is None else skin_pa,
        latent=latent,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Half of a section, from its middle to one side: metres; `turned` makes it a body of revolution."""

    half_width_m: float
    height_m: float
    turned: bool
    side: Face
    base: Face
    top: Face


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class History:
    """Snapshots: seconds; heat (time, x, y) in J/m3; weights of the cells; temperatures; heat taken in.

    `top_c` is the mean over the top, C; `taken_j_m3` is the boundary heat so far over the section's volume, less
    that of `dried_kg_m3`, the water that left by a skin below boiling.
    """

    seconds: Array
    heat: Array
    cells: Cells
    top_c: Array
    taken_j_m3: Array
    dried_kg_m3: Array


def conduct(
    material: Material,
    section: Section,
    *,
    start_c: float,
    oven: Oven,
    until_s: float,
    core_target_c: float,
    limit_s: float,
    pace: Pace,
    beyond_s: float = 0.0,
    cells: tuple[int, int] = (11, 20),
    finest: float = 0.25,
    start_heat: Array | None = None,
) -> History:
    """Heat a section from an even start to `until_s`, and at least `beyond_s` past its coldest cell's target.

    `cells` counts half the width and the height; `finest` is the size of a surface cell over the greatest. How
    long it runs changes no snapshot: a shorter run is the beginning of a longer one. `start_heat` (x, y) in J/m3 takes
    the place of the even start.
    """
    laid = lay_cells(section.half_width_m, section.height_m, section.turned, cells, finest)
    lines = Lines(laid)
    skin_table = np.stack((material.temp_c, material.skin_pa))
    skin = Skin(laid, (section.side, section.base, section.top), start_c, skin_table, material.latent)
    # Small arrays cost their overhead: two tables over one scale are read at once as a complex one.
    heat_table, edge_table = material.heat, material.temp_c + 1j * material.conductivity
    potential_table = material.potential + 1j * _steepness(material)
    target = float(np.interp(core_target_c, material.temp_c, material.heat))
    heat = np.full(laid.weights.shape, np.interp(start_c, material.temp_c, heat_table))
    if start_heat is not None:
        heat = start_heat
    changes = np.zeros((2, heat.size))  # what the last step added, and the one before
    kept = _Kept()
    kept.add(0.0, heat, skin)
    clock = Clock(pace, oven.moments)
    reached_s = math.inf
    while clock.now_s < min(max(until_s, reached_s + beyond_s), limit_s) - 1e-9:
        step = clock.go_on()
        # Carried on to H* = H + c, heat misses s, which solves
        # (newest - d rate / dH) s = rate(H*) - (what the differences make of H* and the moments before).
        newest, of_last, of_earlier = step.differences
        by_last, by_earlier = step.carried
        differs = of_last - newest * by_last, of_earlier - newest * by_earlier
        carried, before = np.array(((by_last, by_earlier), differs)).dot(changes)
        change = carried.reshape(heat.shape)
        ahead = heat + change
        table = np.interp(ahead, heat_table, potential_table)
        steepness = table.imag
        edge = np.interp(ahead.take(skin.where), heat_table, edge_table)
        skin.step(edge.real, edge.imag, oven.around(step.to_s), step.length_s, step.ratio)
        rate = lines.spread(table.real, skin.poured)
        rate += before.reshape(rate.shape)
        per_kelvin = steepness.take(skin.where)
        per_kelvin /= edge.imag  # d T / d H
        if lines.worn_out(1 / newest):
            lines.steady(steepness, skin.eases * per_kelvin, 1 / newest)
        missing = lines.solve(rate)
        skin.follow(missing.take(skin.where) * per_kelvin)
        change += missing
        changes[1] = changes[0]
        changes[0] = carried
        heat = heat + change
        kept.add(step.to_s, heat, skin)
        if reached_s == math.inf and np.minimum.reduce(heat, axis=None) >= target:
            reached_s = step.to_s
    return kept.history(laid)


def _steepness(material: Material) -> Array:
    """Change of potential with heat at the entries of the table, m2/s, the steeper of both sides.

    A cell that boils counts as steep as one that is about to boil dry, since it may be dry within the step.
    """
    slopes = np.diff(material.potential) / np.diff(material.heat)
    steeper = np.maximum(np.append(slopes, slopes[-1]), np.append(slopes[0], slopes))
    ends = int(np.argmax(material.water_gone >= material.water_gone[-1]))
    if ends:
        steeper[: ends + 1] = np.maximum(steeper[: ends + 1], slopes[ends:].max(initial=0.0))
    return np.asarray(steeper)


class _Kept:
    """Snapshots as they are taken, and the sums of what came in and what dried off."""

    def __init__(self) -> None:
        self._taken = self._dried = self._now = self._flow = self._vapour = 0.0
        self._rows: list[tuple[float, float, float, float]] = []
        self._heat: list[Array] = []

    def add(self, now: float, heat: Array, skin: Skin) -> None:
        half_s = (now - self._now) / 2
        self._taken += (skin.flow + self._flow) * half_s
        self._dried += (skin.vapour_flow + self._vapour) * half_s
        self._now, self._flow, self._vapour = now, skin.flow, skin.vapour_flow
        self._rows.append((now, skin.top_c, self._taken, self._dried))
        self._heat.append(heat)

    def history(self, cells: Cells) -> History:
        seconds, top_c, taken, dried = np.array(self._rows).T.copy()
        return History(
            seconds=seconds,
            heat=np.stack(self._heat),
            cells=cells,
            top_c=top_c,
            taken_j_m3=taken,
            dried_kg_m3=dried,
        )
