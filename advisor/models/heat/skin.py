"""The surface of a loaf in the oven: bare skin that dries, or dough behind the wall of a pan.

Each step gives the skin the temperature at which what comes from the oven goes on into the outermost cells. A
wall and the dough behind it are solved as one, or the wall would swallow heat that reaches neither.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.models.heat.section_grid import Array, Cells

STEFAN_BOLTZMANN = 5.670374419e-8
"""W/(m2 K4), exact since the 2019 SI."""
_LEAST_STEPS_WET = 20
_RADIATION_STEPS = 2
"""Radiation's coefficient moves slowly: it is worked out anew each so many steps."""


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

    def steepest(self, air_c: float, step_s: float) -> float:
        """Greatest change of what passes in a step per kelvin of the dough's surface, W/(m2 K)."""
        outer = self.convection + 4 * self.emissivity * STEFAN_BOLTZMANN * (air_c + 273.15) ** 3
        if self.contact is None:
            return outer
        held = outer + self.wall_heat / step_s
        return self.contact * held / (self.contact + held)


class Skin:
    """Side, base and top cell by cell, stepping with the section behind them.

    `flux` is what the last step let in, W/m2; `flow` (W/m3) and `vapour_flow` (kg/(m3 s)) are over the section.
    """

    def __init__(
        self,
        cells: Cells,
        faces: tuple[Face, Face, Face],
        start_c: float,
        step_s: float,
        skin: Array,
        latent: float,
    ) -> None:
        """Lay the faces out; `skin` is a table (2, n) of C and of the pressure of vapour over a skin, Pa."""
        nx, ny = cells.dx.size, cells.dy.size
        self._counts = (ny, nx, nx)
        flat = np.arange(nx * ny).reshape(nx, ny)
        self.where = np.concatenate((flat[-1, :], flat[:, 0], flat[:, -1]))
        self._sides, self._bases, self._tops = slice(0, ny), slice(ny, ny + nx), slice(ny + nx, ny + 2 * nx)
        self._reach = self._along(cells.dx[-1] / 2, cells.dy[0] / 2, cells.dy[-1] / 2)
        self._per_volume = self._along(
            cells.x_faces[-1] / cells.x_volumes[-1], 1 / cells.dy[0], 1 / cells.dy[-1]
        )
        self._weights = cells.weights.ravel()[self.where] * self._per_volume
        self._top_weights = cells.x_volumes / cells.x_volumes.sum()
        self._convection = self._along(*(face.convection for face in faces))
        self._radiation = STEFAN_BOLTZMANN * self._along(*(face.emissivity for face in faces))
        self._walled = self._along(*(float(face.contact is not None) for face in faces)) > 0
        self._contact = self._along(*(face.contact or 0.0 for face in faces))
        # A face may be shut off, but what is divided by it must not be nought.
        self._inertia = np.maximum(self._along(*(face.wall_heat for face in faces)) / step_s, 1e-9)
        self._drying = self._along(*(face.drying for face in faces))
        self._spend = step_s / self._along(*(face.reserve for face in faces))
        self._skin_c, self._skin_pa, self._latent = skin[0], skin[1], latent
        self._wetness = np.ones(self.where.size)
        self._wall = self._surface = np.full(self.where.size, start_c)
        self._outer = self._gain = self._held = self._inertia
        self._dries = any(face.drying > 0 for face in faces)
        self._steps = 0
        self.flux = np.zeros(self.where.size)
        self.flow = self.vapour_flow = 0.0

    def _along(self, side: float, base: float, top: float) -> Array:
        return np.repeat((side, base, top), self._counts)

    @property
    def top_c(self) -> float:
        """Mean temperature of the top's surface, C."""
        return float(self._surface[self._tops].dot(self._top_weights))

    def shade_top(self, share: float) -> None:
        """Leave the top `share` (0..1) of its radiation, as foil laid over it does."""
        self._radiation[self._tops] *= share
        self._steps = -(-self._steps // _RADIATION_STEPS) * _RADIATION_STEPS  # at once

    def step(self, edge_c: Array, conductivity: Array, air_c: float) -> None:
        """Pass a step on, given the outermost cells' temperature, C, and conductivity, W/(m K).

        What passes is U (drive - edge), with U the gain of the skin and the half cell behind it in a row, and
        the drive the air of a bare skin and the wall of a walled one; of the heat of drying, the share
        U / gain comes out of the dough.
        """
        inner = conductivity / self._reach
        if self._steps % _RADIATION_STEPS == 0:
            self._renew_gain(air_c)
        passes = self._gain * inner
        passes /= self._gain + inner
        if self._steps:
            drawn = self._inertia * self._wall
            drawn += self._outer * air_c
            drawn += passes * edge_c
            drawn /= self._held + passes
            self._wall = drawn
        drive = np.where(self._walled, self._wall, air_c)
        drive -= edge_c
        self.flux = passes * drive
        if self._dries:
            self._dry(passes)
        self._surface = edge_c + self.flux / inner
        self.flow = float(self.flux.dot(self._weights))
        self._steps += 1

    def _renew_gain(self, air_c: float) -> None:
        """Radiation as conductance: eps sigma (Ta^2 + Ts^2)(Ta + Ts), beside convection."""
        air_k, seen_k = air_c + 273.15, np.where(self._walled, self._wall, self._surface) + 273.15
        squares = seen_k * seen_k
        squares += air_k * air_k
        squares *= air_k + seen_k
        self._outer = self._convection + self._radiation * squares
        self._gain = np.where(self._walled, self._contact, self._outer)
        self._held = self._inertia + self._outer

    def _dry(self, passes: Array) -> None:
        vapour = self._drying * self._wetness * np.interp(self._surface, self._skin_c, self._skin_pa)
        self._wetness = np.maximum(self._wetness - vapour * self._spend, 0.0)
        self.flux -= vapour * self._latent * passes / self._gain
        self.vapour_flow = float(vapour.dot(self._weights))
        # A crust that has dried to a thousandth of the heat it takes in has dried for good.
        self._dries = self._steps < _LEAST_STEPS_WET or self.vapour_flow * self._latent > 1e-3 * abs(
            self.flow
        )
        if not self._dries:
            self.vapour_flow = 0.0

    def pour_into(self, rate: Array) -> None:
        """Add what came in to the rates (x, y) of the cells behind the surface, W/m3."""
        poured = self.flux * self._per_volume
        rate[-1, :] += poured[self._sides]
        rate[:, 0] += poured[self._bases]
        rate[:, -1] += poured[self._tops]
