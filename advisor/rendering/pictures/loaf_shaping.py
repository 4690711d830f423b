"""Drawings of faults of shape and skin: seams, cuts, spots, blisters, a leaning loaf, a dough that comes apart."""

from __future__ import annotations

from math import cos, pi, sin

from advisor.rendering.pictures.loaf_parts import (
    BASE,
    CELLS,
    CRUMB,
    CRUST,
    LEFT,
    RIGHT,
    arrow,
    crumb,
    outline,
    pore,
    slice_with,
)
from advisor.rendering.pictures.scene import INK, PALE, Scene


def whole(scene: Scene) -> None:
    """A good slice: for what has no drawing of its own."""
    slice_with(scene)
    crumb(scene)


def soft_crust(scene: Scene) -> None:
    """A crust that is pressed in, with damp on it."""
    points = outline()
    scene.stroke(*points, points[0], ink=CRUST, line=4, dash="dotted", fill=CRUMB)
    crumb(scene, below=44)
    arrow(scene, (60, 4), (60, 26))


def dough_tears(scene: Scene) -> None:
    """Two halves of a dough with ragged ends."""
    left = [(8, 60), (10, 42), (28, 34), (48, 38), (42, 46), (52, 52), (44, 60), (50, 66), (26, 70), (8, 60)]
    scene.stroke(*((float(x), float(y)) for x, y in left), line=2.5, fill=CRUMB)
    scene.stroke(*((120.0 - x, float(y)) for x, y in left), line=2.5, fill=CRUMB)


def lumps(scene: Scene) -> None:
    """Pale lumps and a streak in the crumb."""
    slice_with(scene)
    crumb(scene, CELLS[::3])
    for x, y, half in ((40, 46, 6), (72, 38, 5), (84, 60, 7), (50, 64, 4)):
        pore(scene, x, y, half, fill=PALE)
    scene.stroke((28, 58), (44, 54), (60, 56), line=3)


def stuck(scene: Scene) -> None:
    """A loaf lifted from its pan, part of it left behind."""
    scene.stroke((20, 50), (26, 78), (94, 78), (100, 50), line=2.5, fill=PALE)
    slice_with(scene, [(x, y - 26) for x, y in outline(top=34, shoulder=44)])
    for x in (34, 50, 66, 82):
        scene.stroke((x, 47), (x + 3, 58), (x - 2, 70), ink=CRUST, line=3)


def spots(scene: Scene) -> None:
    """Specks on the crust."""
    _top_seen_from_above(scene)
    for x, y, half in (
        (40, 34, 2.5),
        (54, 46, 2),
        (66, 32, 3),
        (80, 44, 2.5),
        (48, 56, 3),
        (72, 58, 2),
        (60, 42, 1.6),
    ):
        pore(scene, x, y, half, fill=CRUST)


def blisters(scene: Scene) -> None:
    """Bubbles in the skin."""
    slice_with(scene)
    crumb(scene, below=44)
    for x, y, half in ((34, 30, 5), (48, 22, 6), (64, 19, 5), (80, 24, 6), (92, 31, 4)):
        pore(scene, x, y, half, tall=0.7)


def pits(scene: Scene) -> None:
    """Small dents in the top."""
    _top_seen_from_above(scene)
    for x, y in ((42, 38), (56, 50), (64, 34), (78, 46), (50, 32), (70, 58)):
        pore(scene, x, y, 3.4, tall=0.6, fill="#d8c7a0")
        scene.stroke((x - 3, y - 2), (x, y - 3), (x + 3, y - 2), line=1.4)


def seam(scene: Scene) -> None:
    """A swirl whose layers stand apart."""
    slice_with(scene)
    points = [
        (60 + (4 + 2.6 * n / 3) * cos(n / 2.2), 48 + (3 + 1.5 * n / 3) * sin(n / 2.2)) for n in range(34)
    ]
    scene.stroke(*points, line=3.5)


def cuts(scene: Scene) -> None:
    """Thin lines where cuts were made."""
    _top_seen_from_above(scene)
    for x in (40, 56, 72):
        scene.stroke((x, 54), (x + 10, 34), line=1.6)


def lopsided(scene: Scene) -> None:
    """One end far above the other."""
    points = [(LEFT, BASE), (LEFT, 56), (40, 44), (66, 26), (88, 16), (RIGHT, 24), (RIGHT, BASE)]
    slice_with(scene, [(float(x), float(y)) for x, y in points])
    crumb(scene, [c for c in CELLS if c[1] > 88 - 0.55 * c[0]])
    scene.stroke((6, 40), (114, 40), line=1.2, dash="dashed")


def peaked(scene: Scene) -> None:
    """A pointed top."""
    points = [
        (LEFT, BASE),
        (LEFT, 44),
        (40, 36),
        (54, 22),
        (60, 8),
        (66, 22),
        (80, 36),
        (RIGHT, 44),
        (RIGHT, BASE),
    ]
    slice_with(scene, [(float(x), float(y)) for x, y in points])
    crumb(scene, below=46)


def stringy(scene: Scene) -> None:
    """Strings between lumps."""
    for x in (18, 102):
        pore(scene, x, 46, 15, fill=CRUMB)
    for y in (36, 43, 50, 57):
        scene.stroke((30, y), (48, y + 3), (72, y - 3), (90, y), line=2, ink=CRUST)


def closed_ring(scene: Scene) -> None:
    """A ring whose hole has closed."""
    pore(scene, 60, 46, 34, tall=0.8, fill=CRUMB)
    scene.stroke(
        *((60 + 9 * cos(pi * n / 8), 46 + 7 * sin(pi * n / 8)) for n in range(17)), line=1.4, dash="dashed"
    )
    for start, end in (((34, 46), (50, 46)), ((86, 46), (70, 46))):
        arrow(scene, start, end)


def squashed(scene: Scene) -> None:
    """An airy crumb that stays pressed in."""
    points = [
        (LEFT, BASE),
        (LEFT, 36),
        (34, 30),
        (48, 34),
        (54, 50),
        (66, 50),
        (72, 34),
        (86, 30),
        (RIGHT, 36),
    ]
    slice_with(scene, [*((float(x), float(y)) for x, y in points), (RIGHT, BASE)])
    crumb(scene, [c for c in CELLS if abs(c[0] - 60) > 16 or c[1] > 58], times=1.5)
    arrow(scene, (60, 14), (60, 44))


def _top_seen_from_above(scene: Scene) -> None:
    points = [(60 + 42 * cos(pi * n / 12), 46 + 27 * sin(pi * n / 12)) for n in range(25)]
    scene.stroke(*points, ink=INK, line=1.5, fill="#d9b98a")
