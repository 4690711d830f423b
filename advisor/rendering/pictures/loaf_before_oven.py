"""Drawings of what shows before the oven or long after it: a foam, a dough in its pan, a slice a day old or toasted."""

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
from advisor.rendering.pictures.scene import Scene


def fallen_foam(scene: Scene) -> None:
    """A bowl with a little foam, and how high it stood."""
    bowl = [(60 + 46 * cos(pi * n / 12), 40 + 34 * sin(pi * n / 12)) for n in range(13)]
    heap = [(60 + 40 * cos(pi * n / 12), 40 - 28 * sin(pi * n / 12)) for n in range(13)]
    low = [(60 + 38 * cos(pi * n / 12), 54 + 17 * sin(pi * n / 12)) for n in range(13)]
    scene.stroke(*low, low[0], line=1.5, fill=CRUMB)
    scene.stroke(*bowl, line=2.5)
    scene.stroke(*heap, line=1.2, dash="dashed")
    arrow(scene, (60, 20), (60, 46))


def unrisen(scene: Scene) -> None:
    """Low in its pan while the clock goes on, with the height that it should have."""
    _pan(scene)
    scene.stroke(*outline(top=26, shoulder=40), line=1.2, dash="dashed")
    scene.stroke(*_dough(62), line=1.5, fill=CRUMB)
    _clock(scene, 60, 44)


def fallen_in_pan(scene: Scene) -> None:
    """Risen in its pan and fallen back there."""
    _pan(scene)
    scene.stroke(*outline(top=18, shoulder=36), line=1.2, dash="dashed")
    scene.stroke(*_dough(46, sag=14), line=1.5, fill=CRUMB)
    arrow(scene, (60, 24), (60, 50))


def without_pocket(scene: Scene) -> None:
    """A flat bread cut through, its two sides on each other, and the pocket that it should have."""
    scene.stroke(
        *((60 + 46 * cos(pi * n / 12), 56 - 30 * sin(pi * n / 12)) for n in range(13)),
        line=1.2,
        dash="dashed",
    )
    points = [(60 + 50 * cos(pi * n / 12), 60 + 9 * sin(pi * n / 12)) for n in range(25)]
    scene.stroke(*points, ink=CRUST, line=3, fill=CRUMB)
    scene.stroke((16, 60), (104, 60), line=1.2)


def day_old(scene: Scene) -> None:
    """Hard beside the clock on which a day has gone."""
    slice_with(scene, crust=6)
    crumb(scene, [c for c in CELLS if c[0] < 40 or c[0] > 82], below=40)
    scene.stroke((30, 66), (38, 56), (34, 48), line=1.6)
    scene.stroke((92, 66), (84, 56), (90, 48), line=1.6)
    _clock(scene, 60, 52)


def badly_toasted(scene: Scene) -> None:
    """Burnt at its rim and pale in its middle."""
    slice_with(scene, crust=12)
    scene.stroke(*outline(), outline()[0], ink="#2b1a0c", line=4)
    crumb(scene, [c for c in CELLS if 28 < c[0] < 92 and 34 < c[1] < 66])


def _pan(scene: Scene) -> None:
    scene.stroke((LEFT - 8, 30), (LEFT - 2, BASE + 4), (RIGHT + 2, BASE + 4), (RIGHT + 8, 30), line=2)


def _dough(height: float, sag: float = 0) -> list[tuple[float, float]]:
    """A dough without a crust, from the pan's floor up to `height`, its middle lower by `sag`."""
    top = [(LEFT + (RIGHT - LEFT) * n / 12, height + (sag or -5) * sin(pi * n / 12)) for n in range(13)]
    return [(LEFT, BASE), *top, (RIGHT, BASE), (LEFT, BASE)]


def _clock(scene: Scene, x: float, y: float) -> None:
    pore(scene, x, y, 13)
    scene.stroke((x, y), (x, y - 9), line=2)
    scene.stroke((x, y), (x + 6, y + 3), line=2)
