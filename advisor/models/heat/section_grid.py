"""Cells over half a section of a loaf, and the quick inverse of a steadying operator on them.

The operator is a Laplacian with constant coefficients and losses at the surface. Its two directions are
diagonalised apart, so that one inversion is four small products (Lynch, Rice and Thomas 1964).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


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


def _sizes(length: float, count: int, first: float, both_ends: bool) -> Array:
    """Cell sizes: about `first` of the greatest at a surface, growing inwards; the last is outermost."""
    place = (np.arange(count) + 0.5) / count
    inside = np.sin(np.pi * place) if both_ends else np.cos(np.pi / 2 * place)
    sizes = first + (1 - first) * inside
    return np.asarray(sizes * (length / sizes.sum()))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Steadying:
    """Laplacian without losses in both directions, and with them as eigenvectors and eigenvalues.

    The y side is kept transposed, as it is multiplied from the right.
    """

    lx: Array
    lyt: Array
    px: Array
    qx: Array
    pyt: Array
    qyt: Array
    modes: Array

    def spread(self, potential: Array) -> Array:
        """Divergence of the gradient inside, no flow through the surface."""
        out: Array = self.lx.dot(potential)
        out += potential.dot(self.lyt)
        return out

    def inverse(self, weight: float) -> Array:
        """What `solve` needs to invert (weight - steadying operator)."""
        return np.asarray(1 / (weight - self.modes))

    def solve(self, right: Array, inverse: Array) -> Array:
        """Solve (weight - steadying operator) s = right."""
        return np.asarray(self.px.dot(self.qx.dot(right).dot(self.qyt) * inverse).dot(self.pyt))


def steadying(cells: Cells, stiff: float, side: float, base: float, top: float) -> Steadying:
    """Diagonalise `stiff` (m2/s) times the Laplacian with losses (1/m) through side, base and top."""
    lx, px, qx, ex = _direction(cells.dx, cells.x_faces, cells.x_volumes, 0.0, side)
    ly, py, qy, ey = _direction(cells.dy, np.ones(cells.dy.size + 1), cells.dy, base, top)
    return Steadying(
        lx=lx,
        lyt=ly.T.copy(),
        px=px,
        qx=qx,
        pyt=py.T.copy(),
        qyt=qy.T.copy(),
        modes=stiff * (ex[:, None] + ey[None, :]),
    )


def _direction(
    sizes: Array, faces: Array, volumes: Array, first_loss: float, last_loss: float
) -> tuple[Array, Array, Array, Array]:
    """One direction: Laplacian; and, with losses at its ends, eigenvectors, their inverse, eigenvalues."""
    link = faces[1:-1] / ((sizes[1:] + sizes[:-1]) / 2)
    matrix = np.zeros((sizes.size, sizes.size))
    rows = np.arange(sizes.size - 1)
    matrix[rows, rows + 1] = matrix[rows + 1, rows] = link
    matrix -= np.diag(matrix.sum(axis=1))
    closed = matrix / volumes[:, None]
    matrix[0, 0] -= first_loss * faces[0]
    matrix[-1, -1] -= last_loss * faces[-1]
    root = np.sqrt(volumes)
    values, vectors = np.linalg.eigh(matrix / root[:, None] / root[None, :])
    return closed, vectors / root[:, None], vectors.T * root[None, :], values
