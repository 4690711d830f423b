"""What drawings of a cut loaf are made of: a slice with its crust and its pores, drops, waves and arrows."""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, pi, sin

from advisor.rendering.pictures.scene import DARK, INK, Scene

WIDTH, HEIGHT = 120.0, 84.0
LEFT, RIGHT, BASE = 16.0, 104.0, 72.0
CRUMB, CRUST, WET = "#f4ead2", "#8a5a2b", "#b9a27a"
Point = tuple[float, float]
CELLS: tuple[tuple[float, float, float], ...] = (
    (32, 40, 2), (44, 33, 2.4), (58, 29, 2), (72, 33, 2.6), (87, 40, 2), (28, 55, 2.2), (40, 48, 2), (53, 44, 2.6),
    (66, 46, 2), (80, 52, 2.4), (93, 57, 2), (34, 65, 2), (48, 60, 2.4), (61, 59, 2), (74, 64, 2), (87, 66, 1.8),
)  # fmt: skip
"""Pores of a good crumb: where, and half their width."""


def outline(top: float = 16, shoulder: float = 34, *, sag: float = 0, waist: float = 0) -> list[Point]:
    """A slice from the left of its base over the top to the right: domed, or sunk by `sag`, its sides in by `waist`."""
    side = [0.0, 0.35, 0.7, 1.0]
    left = [(LEFT + waist * sin(pi * t), BASE + (shoulder - BASE) * t) for t in side]
    right = [(WIDTH - x, y) for x, y in reversed(left)]
    over = []
    for step in range(1, 12):
        t = step / 12
        dome = (shoulder - top) * sin(pi * t)
        over.append((LEFT + (RIGHT - LEFT) * t, shoulder - dome + sag * sin(pi * t) ** 2))
    return [*left, *over, *right]


def slice_with(
    scene: Scene, around: list[Point] | None = None, *, crust: float = 3, fill: str = CRUMB
) -> None:
    """Put a slice with its crust."""
    points = around or outline()
    scene.stroke(*points, points[0], ink=CRUST, line=crust, fill=fill)


def pore(scene: Scene, x: float, y: float, half: float, *, tall: float = 1.0, fill: str = "#ffffff") -> None:
    """Put a round hole, or another round thing."""
    points = [(x + half * cos(2 * pi * n / 12), y + half * tall * sin(2 * pi * n / 12)) for n in range(13)]
    scene.stroke(*points, ink=INK, line=0.8, fill=fill)


def crumb(
    scene: Scene,
    cells: Iterable[tuple[float, float, float]] = CELLS,
    *,
    below: float = 0.0,
    times: float = 1.0,
) -> None:
    """Put pores, those from `below` downwards, `times` as large."""
    for x, y, half in cells:
        if y >= below:
            pore(scene, x, y, half * times)


def arrow(scene: Scene, start: Point, end: Point) -> None:
    """Put an arrow."""
    scene.stroke(start, end, line=2, arrow=True)


def waves(scene: Scene, xs: Iterable[float], bottom: float = 14) -> None:
    """Put waves of smell that rise from `bottom`."""
    for x in xs:
        scene.stroke(*((x + 2.5 * sin(n), bottom - 2 * n) for n in range(7)), line=1.6)


def drops(scene: Scene, places: Iterable[Point]) -> None:
    """Put drops."""
    for x, y in places:
        scene.stroke((x, y - 5), (x + 3, y + 1), (x, y + 4), (x - 3, y + 1), (x, y - 5), line=1.2, fill=DARK)
