"""Two-dimensional conduction with a boiling front, in the enthalpy form, over half a section.

The state is heat per volume, H. Temperature T(H) and the Kirchhoff integral Theta(T) = integral of k dT are
tables, so that dH/dt = div grad Theta holds through the boiling plateau and the dry crust with one equation
(Voller and Cross 1981 for the enthalpy form; Carslaw and Jaeger 1959, 2.16, for Kirchhoff's transformation).
Time: two-step backward differences, the flux extrapolated and a constant-coefficient Laplacian added to its
second difference (Douglas and Dupont 1971), which is inverted by diagonalising the two directions apart
(Lynch, Rice and Thomas 1964). Stable for every step; the sum of H changes by the boundary flux alone.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
STEFAN_BOLTZMANN = 5.670374419e-8
"""W/(m2 K4), exact since the 2019 SI."""


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
class Face:
    """One side towards the oven: convection, W/(m2 K), and emissivity of what the oven sees.

    Behind a pan wall: `contact`, W/(m2 K) from wall to dough, and `wall_heat`, J/(m2 K), of a wall that
    starts as cold as the dough. A bare skin dries instead: `drying` is the vapour let go, kg/(m2 s Pa), over
    its pressure at the skin, until `reserve`, kg/m2, is spent.
    """

    convection: float
    emissivity: float = 0.0
    contact: float | None = None
    wall_heat: float = 0.0
    drying: float = 0.0
    reserve: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """Oven temperature, C, and what opening the door took off it, K, coming back with a time constant, s."""

    set_c: float
    drop_k: float = 0.0
    recovery_s: float = 1.0


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


def _cells(length: float, count: int, first: float, both_ends: bool) -> Array:
    """Cell sizes: about `first` of the greatest at a surface, growing inwards; the last is outermost."""
    place = (np.arange(count) + 0.5) / count
    inside = np.sin(np.pi * place) if both_ends else np.cos(np.pi / 2 * place)
    sizes = first + (1 - first) * inside
    return np.asarray(sizes * (length / sizes.sum()))


def _direction(
    sizes: Array, faces: Array, volumes: Array, loss: tuple[float, float]
) -> tuple[Array, Array, Array, Array]:
    """One direction: Laplacian; and, with losses at its ends, eigenvectors, their inverse, eigenvalues."""
    link = faces[1:-1] / ((sizes[1:] + sizes[:-1]) / 2)
    matrix = np.zeros((sizes.size, sizes.size))
    rows = np.arange(sizes.size - 1)
    matrix[rows, rows + 1] = matrix[rows + 1, rows] = link
    matrix -= np.diag(matrix.sum(axis=1))
    closed = matrix / volumes[:, None]
    matrix[0, 0] -= loss[0] * faces[0]
    matrix[-1, -1] -= loss[1] * faces[-1]
    root = np.sqrt(volumes)
    values, vectors = np.linalg.eigh(matrix / root[:, None] / root[None, :])
    return closed, vectors / root[:, None], vectors.T * root[None, :], values


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
    cells: tuple[int, int] = (11, 20),
    finest: float = 0.25,
    keep_every: int = 2,
) -> History:
    """Heat a section from an even start to `until_s`, and further until its coldest cell has the target.

    `cells` counts half the width and the height; `finest` is the size of a surface cell over the
    greatest.
    """
    nx, ny = cells
    dx = _cells(section.half_width_m, nx, finest, both_ends=False)
    dy = _cells(section.height_m, ny, finest, both_ends=True)
    edge = np.concatenate(([0.0], np.cumsum(dx)))
    x_faces = edge if section.turned else np.ones(nx + 1)
    x_volumes = np.diff(edge**2) / 2 if section.turned else dx
    slope = np.diff(material.potential) / np.diff(material.heat)
    stiff = float(slope.max())
    warmth = np.diff(material.temp_c) / np.diff(material.heat)
    carries = np.maximum(material.conductivity[1:], material.conductivity[:-1])

    # Losses in the inverted operator only steady the scheme: the steepest true boundary serves.
    def bound(face: Face, reach: float) -> float:
        outer = face.convection + 4 * face.emissivity * STEFAN_BOLTZMANN * (air.set_c + 273.15) ** 3
        gain = outer if face.contact is None else face.contact
        return float((gain / (1 + gain * reach / carries) * warmth).max()) / stiff

    side_loss = (0.0, bound(section.side, dx[-1] / 2))
    end_losses = (bound(section.base, dy[0] / 2), bound(section.top, dy[-1] / 2))
    lx, px, qx, ex = _direction(dx, x_faces, x_volumes, side_loss)
    ly, py, qy, ey = _direction(dy, np.ones(ny + 1), dy, end_losses)
    lyt, pyt, qyt = ly.T.copy(), py.T.copy(), qy.T.copy()
    modes = stiff * (ex[:, None] + ey[None, :])

    flat = np.arange(nx * ny).reshape(nx, ny)
    where = np.concatenate((flat[-1, :], flat[:, 0], flat[:, -1]))
    sides, bases = slice(0, ny), slice(ny, ny + nx)
    tops = slice(ny + nx, ny + 2 * nx)

    def along(side: float, base: float, top: float) -> Array:
        return np.concatenate((np.full(ny, side), np.full(nx, base), np.full(nx, top)))

    sd, bs, tp = section.side, section.base, section.top
    reach = along(dx[-1] / 2, dy[0] / 2, dy[-1] / 2)
    per_volume = along(x_faces[-1] / x_volumes[-1], 1 / dy[0], 1 / dy[-1])
    convection = along(sd.convection, bs.convection, tp.convection)
    radiation = STEFAN_BOLTZMANN * along(sd.emissivity, bs.emissivity, tp.emissivity)
    walled = along(*(float(face.contact is not None) for face in (sd, bs, tp))) > 0
    contact = along(*(face.contact or 0.0 for face in (sd, bs, tp)))
    wall_inertia = along(sd.wall_heat, bs.wall_heat, tp.wall_heat) / step_s
    drying = along(sd.drying, bs.drying, tp.drying)
    wetness = np.ones(where.size)
    spend = step_s / along(sd.reserve, bs.reserve, tp.reserve)
    weights = x_volumes[:, None] * dy[None, :]
    weights = weights / weights.sum()
    edge_weights = weights.ravel()[where] * per_volume
    top_weights = x_volumes / x_volumes.sum()

    # Small arrays cost their overhead: two tables over one scale are read at once as a complex one, `dot` is the
    # quickest product, and what decides nothing is not worked out.
    heat_table, potential_table = material.heat, material.potential
    edge_table = material.temp_c + 1j * material.conductivity
    heat = np.full((nx, ny), np.interp(start_c, material.temp_c, heat_table))
    before = heat
    surface = np.full(where.size, start_c)
    wall, drive = surface, np.empty(where.size)
    outer = gain = wall_sum = np.ones(where.size)
    target_potential = float(np.interp(core_target_c, material.temp_c, potential_table))
    taken = dried = flow_before = vapour_before = 0.0
    rate_before = np.zeros_like(heat)
    kept: list[tuple[float, Array, float, float, float]] = []
    inverse_euler = 1 / (1 / step_s - modes)
    inverse = 1 / (1.5 / step_s - modes)
    step, done = 0, False
    while True:
        potential = np.interp(heat, heat_table, potential_table)
        at_edge = heat.take(where)
        edge = np.interp(at_edge, heat_table, edge_table)
        edge_c, inner = edge.real, edge.imag / reach
        now = step * step_s
        air_c = air.set_c - air.drop_k * math.exp(-now / air.recovery_s)
        if step % 3 == 0:  # radiation changes slowly
            air_k, seen_k = air_c + 273.15, np.where(walled, wall, surface) + 273.15
            outer = convection + radiation * (air_k * air_k + seen_k * seen_k) * (air_k + seen_k)
            gain = np.where(walled, contact, outer)
            wall_sum = np.maximum(wall_inertia + outer + contact, 1e-9)  # a face may be shut off
        if step:
            wall = (wall_inertia * wall + outer * air_c + contact * surface) / wall_sum
        drive.fill(air_c)
        np.copyto(drive, wall, where=walled)
        vapour = drying * wetness * np.interp(surface, material.temp_c, material.skin_pa)
        wetness = np.maximum(wetness - vapour * spend, 0.0)
        loss = vapour * material.latent
        surface = (gain * drive + inner * edge_c - loss) / (gain + inner)
        flux = gain * (drive - surface) - loss
        flow, vapour_flow = float(flux.dot(edge_weights)), float(vapour.dot(edge_weights))
        if step:
            taken += (flow + flow_before) / 2 * step_s
            dried += (vapour_flow + vapour_before) / 2 * step_s
        flow_before, vapour_before = flow, vapour_flow
        done = now >= limit_s - 1e-9 or (now >= until_s - 1e-9 and potential.min() >= target_potential)
        if done or step % keep_every == 0:
            kept.append((now, heat, float(surface[tops].dot(top_weights)), taken, dried))
        if done:
            break
        rate = lx.dot(potential)
        rate += potential.dot(lyt)
        flux *= per_volume
        rate[-1, :] += flux[sides]
        rate[:, 0] += flux[bases]
        rate[:, -1] += flux[tops]
        if step == 0:
            # One step of first order to begin with: H1 - H0 = dt (rate + beta Lap (H1 - H0)).
            change = px.dot(qx.dot(rate).dot(qyt) * inverse_euler).dot(pyt)
        else:
            drift = heat - before
            # Solve for the second difference: it alone meets the steadying operator.
            right = rate + rate
            right -= rate_before
            right -= drift / step_s
            change = drift + px.dot(qx.dot(right).dot(qyt) * inverse).dot(pyt)
        before, heat = heat, heat + change
        rate_before = rate
        step += 1
    stack = np.stack([field for _, field, *_ in kept])
    core = np.interp(stack.reshape(len(kept), -1).min(axis=1), heat_table, material.temp_c)
    return History(
        seconds=np.array([now for now, *_ in kept]),
        heat=stack,
        weights=weights,
        top_c=np.array([top for _, _, top, _, _ in kept]),
        core_c=core,
        taken_j_m3=np.array([heat_in for _, _, _, heat_in, _ in kept]),
        dried_kg_m3=np.array([gone for *_, gone in kept]),
    )
