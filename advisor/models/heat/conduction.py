"""Two-dimensional conduction with a boiling front, in the enthalpy form, over half a section.

The state is heat per volume, H. Temperature T(H) and the Kirchhoff integral Theta(T) = integral of k dT are
tables, so that dH/dt = div grad Theta holds through the boiling plateau and the dry crust with one equation
(Voller and Cross 1981 for the enthalpy form; Carslaw and Jaeger 1959, 2.16, for Kirchhoff's transformation).
Time: two-step backward differences, the flux extrapolated and a constant-coefficient Laplacian added to its
second difference (Douglas and Dupont 1971). Stable for every step; the sum of H changes by the boundary flux
alone.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from advisor.models.heat.oven_air import Air
from advisor.models.heat.section_grid import Array, Cells, Steadying, lay_cells, steadying
from advisor.models.heat.skin import Face, Skin

__all__ = ["Air", "Array", "Face", "History", "Material", "Section", "conduct", "tabulate"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Material:
    """Tables over temperature: heat per volume (J/m3), conductivity, its integral (W/m), water gone (kg/m3).

    `skin_pa` is the pressure of vapour over a skin, nought once that skin is dry; `latent` J/kg.
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
    """Half of a section, from its middle to one side: metres; `turned` makes it a body of revolution.

    From `shaded_at_s` on the top takes only `shade_share` (0..1) of its radiation.
    """

    half_width_m: float
    height_m: float
    turned: bool
    side: Face
    base: Face
    top: Face
    shaded_at_s: float | None = None
    shade_share: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class History:
    """Snapshots: seconds; heat (time, x, y) in J/m3; weights of the cells; temperatures; heat taken in.

    `top_c` is the mean over the top, `core_c` the coldest cell, C; `taken_j_m3` is the boundary heat so far
    over the section's volume, less that of `dried_kg_m3`, the water that left by a skin below boiling.
    """

    seconds: Array
    heat: Array
    weights: Array
    top_c: Array
    core_c: Array
    taken_j_m3: Array
    dried_kg_m3: Array


def conduct(
    material: Material,
    section: Section,
    *,
    start_c: float,
    air: Air,
    until_s: float,
    core_target_c: float,
    limit_s: float,
    step_s: float,
    beyond_s: float = 0.0,
    cells: tuple[int, int] = (11, 20),
    finest: float = 0.25,
    keep_every: int = 2,
) -> History:
    """Heat a section from an even start to `until_s`, and at least `beyond_s` past its coldest cell's target.

    `cells` counts half the width and the height; `finest` is the size of a surface cell over the greatest. How
    long it runs changes no snapshot: a shorter run is the beginning of a longer one.
    """
    laid = lay_cells(section.half_width_m, section.height_m, section.turned, cells, finest)
    steady = _steadied(material, section, laid, air.set_c, step_s)
    skin_table = np.stack((material.temp_c, material.skin_pa))
    faces = (section.side, section.base, section.top)
    skin = Skin(laid, faces, start_c, step_s, skin_table, material.latent)
    # Small arrays cost their overhead: two tables over one scale are read at once as a complex one.
    heat_table, potential_table = material.heat, material.potential
    edge_table = material.temp_c + 1j * material.conductivity
    target = float(np.interp(core_target_c, material.temp_c, potential_table))
    heat = np.full(laid.weights.shape, np.interp(start_c, material.temp_c, heat_table))
    before = rate_before = heat
    first, later = steady.inverse(1 / step_s), steady.inverse(1.5 / step_s)
    kept = _Kept(step_s)
    shade_at = math.inf if section.shaded_at_s is None else section.shaded_at_s
    step, reached_s = 0, math.inf
    while True:
        now = step * step_s
        if now >= shade_at:
            skin.shade_top(section.shade_share)
            shade_at = math.inf
        potential = np.interp(heat, heat_table, potential_table)
        edge = np.interp(heat.take(skin.where), heat_table, edge_table)
        skin.step(edge.real, edge.imag, air.at(now, step_s))
        keep = step % keep_every == 0
        kept.add(now, heat, skin, keep=keep)
        if keep:
            if reached_s == math.inf and potential.min() >= target:
                reached_s = now
            if now >= min(max(until_s, reached_s + beyond_s), limit_s) - 1e-9:
                return kept.history(laid.weights, material)
        rate = steady.spread(potential)
        skin.pour_into(rate)
        if step == 0:
            # One step of first order to begin with: H1 - H0 = dt (rate + beta Lap (H1 - H0)).
            change = steady.solve(rate, first)
        else:
            # Solve for the second difference: it alone meets the steadying operator.
            change = heat - before
            right = rate + rate
            right -= rate_before
            right -= change / step_s
            change += steady.solve(right, later)
        before, heat, rate_before = heat, heat + change, rate
        step += 1


def _steadied(material: Material, section: Section, laid: Cells, air_c: float, step_s: float) -> Steadying:
    """Give the operator that holds the steps steady: the steepest diffusivity and true boundaries."""
    per_heat = np.diff(material.heat)
    stiff = float((np.diff(material.potential) / per_heat).max())
    warmth = np.diff(material.temp_c) / per_heat
    carries = np.maximum(material.conductivity[1:], material.conductivity[:-1])

    def loss(face: Face, reach: float) -> float:
        gain = face.steepest(air_c, step_s)
        return float((gain / (1 + gain * reach / carries) * warmth).max()) / stiff

    return steadying(
        laid,
        stiff,
        side=loss(section.side, laid.dx[-1] / 2),
        base=loss(section.base, laid.dy[0] / 2),
        top=loss(section.top, laid.dy[-1] / 2),
    )


class _Kept:
    """Snapshots as they are taken, and the sums of what came in and what dried off."""

    def __init__(self, step_s: float) -> None:
        self._half_s = step_s / 2
        self._taken = self._dried = 0.0
        self._flow: float | None = None
        self._vapour = 0.0
        self._rows: list[tuple[float, float, float, float]] = []
        self._heat: list[Array] = []

    def add(self, now: float, heat: Array, skin: Skin, *, keep: bool) -> None:
        if self._flow is not None:
            self._taken += (skin.flow + self._flow) * self._half_s
            self._dried += (skin.vapour_flow + self._vapour) * self._half_s
        self._flow, self._vapour = skin.flow, skin.vapour_flow
        if keep:
            self._rows.append((now, skin.top_c, self._taken, self._dried))
            self._heat.append(heat)

    def history(self, weights: Array, material: Material) -> History:
        heat = np.stack(self._heat)
        seconds, top_c, taken, dried = np.array(self._rows).T.copy()
        coldest = heat.reshape(len(heat), -1).min(axis=1)
        return History(
            seconds=seconds,
            heat=heat,
            weights=weights,
            top_c=top_c,
            core_c=np.interp(coldest, material.heat, material.temp_c),
            taken_j_m3=taken,
            dried_kg_m3=dried,
        )
