"""Cells over half a section of a loaf: what flows between them, and how that is inverted line by line."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_USES, _STRETCH = 4, 1.15
"""How often an inverse serves, and for how much longer or shorter steps: it only steadies what one step misses."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cells:
    """Sizes of cells outwards (x, m) and upwards (y, m); faces and volumes a metre or a radian of the loaf."""

    dx: Array
    dy: Array
    x_faces: Array
    x_volumes: Array

    @property
    def weights(self) -> Array:
        """Share of each cell in the volume (x, y); they add up to 1."""
        volumes = self.x_volumes[:, None] * self.dy[None, :]
        return np.asarray(volumes / volumes.sum())


def lay_cells(
    half_width_m: float, height_m: float, turned: bool, count: tuple[int, int], finest: float
) -> Cells:
    """Cut half a section into cells; `finest` is the size of a surface cell over that of the greatest.

    `turned` makes the section a body of revolution about its middle.
    """
    dx = _sizes(half_width_m, count[0], finest, both_ends=False)
    dy = _sizes(height_m, count[1], finest, both_ends=True)
    edge = np.concatenate(([0.0], np.cumsum(dx)))
    return Cells(
        dx=dx,
        dy=dy,
        x_faces=edge if turned else np.ones(dx.size + 1),
        x_volumes=np.diff(edge**2) / 2 if turned else dx,
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Closer:
    """Reads the middle of the section, and the heights between cells there, off the cells' values."""

    middle: Array
    places: NDArray[np.intp]
    """Of each height the four cells about it (cell, height)."""
    shares: Array
    """What each of them counts (cell, height)."""

    def along_middle(self, values: Array) -> Array:
        """From (time, x, y) to values up the middle line (time, height)."""
        first, second = self.middle
        column = values[:, 0] * first + values[:, 1] * second
        # No product of matrices: its last digits hang on how many rows there are.
        out = column[:, self.places[0]] * self.shares[0]
        for place, share in zip(self.places[1:], self.shares[1:], strict=True):
            out += column[:, place] * share
        return np.asarray(out)


_BETWEEN = 4
"""Heights read for each cell."""


def read_closer(cells: Cells) -> Closer:
    """Even parabola across the middle from two cells, and cubics through four (Lagrange) up the middle line."""
    at = np.cumsum(cells.dx[:2]) - cells.dx[:2] / 2
    squares = at * at
    middle = np.array((squares[1], -squares[0])) / (squares[1] - squares[0])
    y = np.cumsum(cells.dy) - cells.dy / 2
    share = np.arange(_BETWEEN) / _BETWEEN
    wanted = np.append((y[:-1, None] + np.diff(y)[:, None] * share).ravel(), y[-1])
    left = np.clip(np.arange(wanted.size) // _BETWEEN - 1, 0, y.size - 4)
    places, shares = np.array([left + own for own in range(4)]), np.ones((4, wanted.size))
    for own in range(4):
        for other in range(4):
            if other != own:
                shares[own] *= (wanted - y[places[other]]) / (y[places[own]] - y[places[other]])
    return Closer(middle=middle, places=places, shares=shares)


def _sizes(length: float, count: int, first: float, both_ends: bool) -> Array:
    """Cell sizes: about `first` of the greatest at a surface, growing inwards; the last is outermost."""
    place = (np.arange(count) + 0.5) / count
    inside = np.sin(np.pi * place) if both_ends else np.cos(np.pi / 2 * place)
    sizes = first + (1 - first) * inside
    return np.asarray(sizes * (length / sizes.sum()))


class Lines:
    """The Laplacian in both directions, and what nearly inverts it line by line."""

    def __init__(self, cells: Cells) -> None:
        """Link the cells of each direction; nothing passes through the surface."""
        self._across = _links(cells.dx, cells.x_faces, cells.x_volumes)
        self._up = _links(cells.dy, np.ones(cells.dy.size + 1), cells.dy).T.copy()
        self._one_across, self._one_up = np.eye(cells.dx.size), np.eye(cells.dy.size)
        self._solve_across = self._solve_up = self._one_up
        # What is poured in stands beside the cells as a further row and two further columns.
        nx, ny = cells.dx.size, cells.dy.size
        framed = np.zeros((nx + 1, ny + 2))
        self._with_side, self._with_ends, self._inside = framed[:, 1:-1], framed[:-1], framed[:-1, 1:-1]
        self._side, self._base, self._top = framed[-1, 1:-1], framed[:-1, 0], framed[:-1, -1]
        self._pour_across = np.column_stack((self._across, self._one_across[-1]))
        self._pour_up = np.vstack((self._one_up[0], self._up, self._one_up[-1]))
        self._steadied_for = 1e-9
        self._uses = 0

    def spread(self, potential: Array, poured: Array) -> Array:
        """Divergence of the gradient inside (x, y), with what is poured in, W/m3: as `steady` has its `loss`."""
        nx, ny = potential.shape
        self._inside[...] = potential
        self._side[...] = poured[:ny]
        self._base[...] = poured[ny : ny + nx]
        self._top[...] = poured[ny + nx :]
        out: Array = self._pour_across.dot(self._with_side)
        out += self._with_ends.dot(self._pour_up)
        return out

    def worn_out(self, weight: float) -> bool:
        """Whether `steady` is due again before `solve` may be asked for this weight, s."""
        return self._uses >= _USES or not 1 / _STRETCH < weight / self._steadied_for < _STRETCH

    def steady(self, steepness: Array, loss: Array, weight: float) -> None:
        """Prepare to solve s / weight - spread(steepness s) + loss s = right; `weight` in s, `loss` in 1/s.

        `loss` lies along the surface: the side upwards, then base and top outwards. All lines of a direction are as
        steep as the steepest of them, which steadies the rest and lets one small matrix serve them all.
        """
        nx, ny = steepness.shape
        most = np.maximum.reduce
        across = self._one_across - self._across * (weight * most(steepness, axis=1))
        up = self._one_up - self._up * (weight * most(steepness, axis=0))[:, None]
        side, base, top = most(loss[:ny]), most(loss[ny : ny + nx]), most(loss[ny + nx :])
        across[-1, -1] += weight * side
        up[0, 0] += weight * base
        up[-1, -1] += weight * top
        self._solve_across, self._solve_up = np.linalg.inv(across), np.linalg.inv(up)
        self._steadied_for, self._uses = weight, 0

    def solve(self, right: Array) -> Array:
        """Solve across and then up; factoring adds a term of weight^2 times both directions in turn."""
        self._uses += 1
        return np.asarray(self._solve_across.dot(right * self._steadied_for).dot(self._solve_up))


def _links(sizes: Array, faces: Array, volumes: Array) -> Array:
    """Matrix of one direction: what flows into a cell from its neighbours, over its volume."""
    link = faces[1:-1] / ((sizes[1:] + sizes[:-1]) / 2)
    matrix = np.zeros((sizes.size, sizes.size))
    rows = np.arange(sizes.size - 1)
    matrix[rows, rows + 1] = matrix[rows + 1, rows] = link
    matrix -= np.diag(matrix.sum(axis=1))
    return np.asarray(matrix / volumes[:, None])
