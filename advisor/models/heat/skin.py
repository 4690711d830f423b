"""The surface of a loaf in the oven: bare skin that dries, or dough behind the wall of a pan.

Both are one node between the oven and the outermost half cell: a wall holds heat and dries nothing, a skin dries
and holds no heat. The node is solved as one with what passes on both sides, or a wall would swallow heat that
reaches neither. Radiation is linear about the node's temperature carried on from the steps before, drying about
that of the last step; the heat of a wall moves by two-step backward differences like that of the dough.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from advisor.models.heat.section_grid import Array, Cells

STEFAN_BOLTZMANN = 5.670374419e-8
"""W/(m2 K4), exact since the 2019 SI."""
_NO_WALL = 1e9
"""Contact, W/(m2 K), where there is nothing between the node and the dough."""
_DRY = 3e-4
"""A skin that lets go vapour worth less than so much of the heat it takes in has dried for good."""
_LEAST_STEPS_WET = 20
_WETTEST = 1.2
"""Dew on a skin beyond this share of what it held runs off."""
_RADIATION_STEPS = 2
"""Radiation's coefficient moves slowly: it is worked out anew each so many steps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One side towards the oven: convection, W/(m2 K), and emissivity of what the oven sees.

    Behind a pan wall: `contact`, W/(m2 K) from wall to dough, and `wall_heat`, J/(m2 K), of a wall that starts
    at `wall_c`, or as cold as the dough. A bare skin dries instead: `drying` is the vapour let go, kg/(m2 s Pa),
    over its pressure at the skin, until `reserve`, kg/m2, is spent.
    """

    convection: float
    emissivity: float = 0.0
    contact: float | None = None
    wall_heat: float = 0.0
    wall_c: float | None = None
    drying: float = 0.0
    reserve: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """What the oven is to a skin at a moment: air, C; vapour in it, Pa; shares of what it has when open (0..1).

    `top_radiation` concerns the top alone, as foil laid over it does.
    """

    air_c: float
    vapour_pa: float = 0.0
    convection: float = 1.0
    radiation: float = 1.0
    top_radiation: float = 1.0


class Skin:
    """Side, base and top cell by cell, stepping with the section behind them.

    `poured` is what the last step let in over the volume of the cells behind the surface, W/m3, and `eases` how much
    less that is for each kelvin more of those cells, W/(m3 K); `flow` (W/m3) and `vapour_flow` (kg/(m3 s)) are over
    the section.
    """

    def __init__(
        self, cells: Cells, faces: tuple[Face, Face, Face], start_c: float, skin: Array, latent: float
    ) -> None:
        """Lay the faces out; `skin` is a table (2, n) of C and of the pressure of vapour over a skin, Pa."""
        nx, ny = cells.dx.size, cells.dy.size
        self._counts = (ny, nx, nx)
        flat = np.arange(nx * ny).reshape(nx, ny)
        self.where = np.concatenate((flat[-1, :], flat[:, 0], flat[:, -1]))
        self._tops = slice(ny + nx, ny + 2 * nx)
        self._per_reach = self._along(2 / cells.dx[-1], 2 / cells.dy[0], 2 / cells.dy[-1])
        self._per_volume = self._along(
            cells.x_faces[-1] / cells.x_volumes[-1], 1 / cells.dy[0], 1 / cells.dy[-1]
        )
        self._weights = cells.weights.ravel()[self.where]
        self._drying_weights = self._weights * self._per_volume
        self._top_weights = cells.x_volumes / cells.x_volumes.sum()
        self._convection = self._along(*(face.convection for face in faces))
        self._radiation = STEFAN_BOLTZMANN * self._along(*(face.emissivity for face in faces))
        self._contact = self._along(*(face.contact or _NO_WALL for face in faces))
        # A face may be shut off, but what is divided by it must not be zero.
        self._holds = np.maximum(self._along(*(face.wall_heat for face in faces)), 1e-9)
        self._drying = self._along(*(face.drying for face in faces))
        self._spends = self._along(*(face.drying / face.reserve for face in faces))
        # Where the crust dries the pressure falls with temperature: that slope is left to the next step.
        slope = np.maximum(np.gradient(skin[1], skin[0]), 0.0)
        # Past the plateau the skin is dry and meets the vapour of the air as little as it gives its own.
        top = int(skin[1].argmax())
        self._open = np.where(np.arange(skin[1].size) <= top, 1.0, skin[1] / max(float(skin[1][top]), 1e-9))
        # About each temperature the pressure is real part + imaginary part times temperature.
        self._skin_c, self._skin_pa, self._latent = skin[0], skin[1] - slope * skin[0] + 1j * slope, latent
        self._wetness = np.ones(self.where.size)
        self._letting_go = np.zeros(self.where.size)
        self._node = self._along(*(start_c if face.wall_c is None else face.wall_c for face in faces))
        self._node_before = self._node
        self._dries = any(face.drying > 0 for face in faces)
        self._steps = 0
        self.poured = self.eases = self._lean = self._outer = np.zeros(self.where.size)
        self.flow = self.vapour_flow = 0.0

    def _along(self, side: float, base: float, top: float) -> Array:
        return np.repeat((side, base, top), self._counts)

    @property
    def top_c(self) -> float:
        """Mean temperature of the top's surface, C."""
        return float(self._node[self._tops].dot(self._top_weights))

    def step(
        self, edge_c: Array, conductivity: Array, around: Around, step_s: float, ratio: float | None
    ) -> None:
        """Go on by `step_s`, given what the outermost cells' temperature, C, and conductivity, W/(m K), will be.

        `ratio` is that of the step to the one before; `None` where there was none, or an event lies between.
        The node's balance, with C its heat over the step, g the wall's contact and the half cell in a row and
        D p the vapour: a C s + outer (s - air) + g (s - edge) + latent D (p + p' (s - s0)) = what C held.
        """
        grows = ratio or 0.0
        node, before = self._node, self._node_before
        passes = conductivity * self._per_reach
        passes *= self._contact / (self._contact + passes)
        if ratio is None or self._steps % _RADIATION_STEPS == 0:
            self._renew_outer(node + (node - before) * grows, around)
        pull = self._outer + passes
        push = passes * edge_c
        push += self._outer * around.air_c
        holds = self._holds / step_s
        pull += holds * ((1 + 2 * grows) / (1 + grows))
        kept = node * (1 + grows)
        kept -= before * (grows * grows / (1 + grows))
        kept *= holds
        push += kept
        if self._dries:
            self._dry(node, pull, push, around.vapour_pa, step_s)
        else:
            push /= pull
        self._node_before, self._node = node, push
        self._lean = passes / pull
        passes *= self._per_volume
        self.poured = passes * (push - edge_c)
        passes -= passes * self._lean
        self.eases = passes
        self._steps += 1

    def _renew_outer(self, seen_c: Array, around: Around) -> None:
        """Convection, and radiation as conductance: eps sigma (Ta^2 + Ts^2)(Ta + Ts)."""
        air_k, seen_k = around.air_c + 273.15, seen_c + 273.15
        squares = seen_k * seen_k
        squares += air_k * air_k
        seen_k += air_k
        squares *= seen_k
        squares *= self._radiation
        if around.radiation != 1.0:
            squares *= around.radiation
        if around.top_radiation != 1.0:
            squares[self._tops] *= around.top_radiation
        squares += self._convection if around.convection == 1.0 else self._convection * around.convection
        self._outer = squares

    def _dry(self, node: Array, pull: Array, push: Array, vapour_pa: float, step_s: float) -> None:
        """Turn `push` into the node with the vapour that it lets go, and take that off what is still wet."""
        table = np.interp(node, self._skin_c, self._skin_pa)
        slope, over = table.imag, table.real
        if vapour_pa:
            over -= vapour_pa * np.interp(node, self._skin_c, self._open)
        lets_go = self._drying * self._wetness
        lets_go /= 1 + step_s * self._letting_go
        heat = self._latent * lets_go
        pull += heat * slope
        heat *= over
        push -= heat
        push /= pull
        over += slope * push
        letting_go = self._spends * over
        self._wetness *= np.exp((letting_go + self._letting_go) * (-0.5 * step_s))
        if vapour_pa:
            np.minimum(self._wetness, _WETTEST, out=self._wetness)
        self._letting_go = letting_go
        lets_go *= over
        self.vapour_flow = float(lets_go.dot(self._drying_weights))

    def follow(self, edge_change_c: Array) -> None:
        """Take over how much warmer the outermost cells have become than the step was told, C."""
        self.poured -= self.eases * edge_change_c
        edge_change_c *= self._lean
        self._node += edge_change_c
        self.flow = float(self.poured.dot(self._weights))
        if self._dries and self._steps > _LEAST_STEPS_WET:
            self._dries = abs(self.vapour_flow) * self._latent > _DRY * abs(self.flow)
            if not self._dries:
                self.vapour_flow = 0.0
