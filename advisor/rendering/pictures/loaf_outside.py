"""Drawings of a cut loaf of which the outside is wrong: its height, its crust, its sides."""

from __future__ import annotations

from math import pi, sin

from advisor.rendering.pictures.loaf_parts import (
    BASE,
    CELLS,
    CRUMB,
    CRUST,
    LEFT,
    RIGHT,
    arrow,
    crumb,
    drops,
    outline,
    slice_with,
)
from advisor.rendering.pictures.scene import PALE, Scene


def flat(scene: Scene) -> None:
    """Low, with the height that it should have."""
    scene.stroke(*outline(), line=1.2, dash="dashed")
    slice_with(scene, outline(top=50, shoulder=56))
    crumb(scene, below=59, times=0.8)


def sunk(scene: Scene, *, mark: bool) -> None:
    """Sunk in the middle: in the oven, with its pan and a high-water `mark`, or on the rack."""
    if mark:
        scene.stroke((LEFT - 8, 14), (LEFT - 8, BASE + 4), (RIGHT + 8, BASE + 4), (RIGHT + 8, 14), line=2)
        scene.stroke((LEFT - 8, 26), (RIGHT + 8, 26), line=1.2, dash="dashed")
    else:
        scene.stroke(*outline(top=14, shoulder=32), line=1.2, dash="dashed")
    slice_with(scene, outline(top=32, shoulder=32, sag=22))
    crumb(scene, below=56)
    if not mark:
        arrow(scene, (60, 22), (60, 46))


def burst(scene: Scene) -> None:
    """Burst at the shoulder."""
    slice_with(scene)
    crumb(scene, [c for c in CELLS if c[0] < 76])
    scene.stroke(
        (84, 24),
        (90, 34),
        (84, 40),
        (94, 46),
        (88, 54),
        (108, 40),
        (112, 28),
        (100, 22),
        (84, 24),
        line=2,
        fill=CRUMB,
    )


def loose_top(scene: Scene) -> None:
    """The top stands off."""
    slice_with(scene, outline(top=38, shoulder=42))
    crumb(scene, below=48)
    over = [p for p in outline(top=10, shoulder=30) if p[1] <= 30]
    scene.stroke(*over, ink=CRUST, line=5)


def wrinkled(scene: Scene) -> None:
    """A top in folds."""
    points = [(x, y + (3.5 * sin(x * 0.75) if y < 36 else 0)) for x, y in outline(top=24)]
    top = [
        (x, 30 + 3.5 * sin(x * 0.75) - 6 * sin(pi * (x - LEFT) / 88))
        for x in range(int(LEFT), int(RIGHT) + 1, 2)
    ]
    slice_with(scene, [points[0], *((float(x), y) for x, y in top), points[-1]])
    crumb(scene, below=42)


def crusted(scene: Scene, *, line: float, ink: str = CRUST) -> None:
    """A crust of another thickness or colour."""
    points = outline()
    scene.stroke(*points, points[0], ink=ink, line=line, fill=CRUMB)
    crumb(scene)


def tough(scene: Scene) -> None:
    """A crust that is pulled at."""
    crusted(scene, line=7)
    scene.stroke((22, 20), (34, 8), (48, 6), line=2, arrow=True)
    scene.stroke((98, 20), (86, 8), (72, 6), line=2, arrow=True)


def pale(scene: Scene) -> None:
    """A crust that is hardly there."""
    points = outline()
    scene.stroke(*points, points[0], ink="#c9b58a", line=2, dash="dashed", fill="#ffffff")
    crumb(scene)


def waisted(scene: Scene) -> None:
    """Sides caved in."""
    slice_with(scene, outline(waist=14))
    crumb(scene, [c for c in CELLS if 34 < c[0] < 86])
    arrow(scene, (4, 52), (24, 52))
    arrow(scene, (116, 52), (96, 52))


def over_the_pan(scene: Scene) -> None:
    """Out over the pan."""
    scene.stroke((24, 38), (30, 76), (90, 76), (96, 38), line=2.5, fill=PALE)
    points = [
        (12, 44),
        (8, 36),
        (16, 28),
        (34, 18),
        (60, 14),
        (86, 18),
        (104, 28),
        (112, 36),
        (108, 44),
        (100, 38),
    ]
    scene.stroke((20, 38), *points, (20, 38), (12, 44), ink=CRUST, line=3, fill=CRUMB)


def wet_base(scene: Scene) -> None:
    """Water under the base."""
    slice_with(scene, [(x, y - 6) for x, y in outline()])
    crumb(scene, [c for c in CELLS if c[1] < 56])
    drops(scene, ((28, 76), (46, 78), (64, 76), (82, 78), (98, 76)))
