"""How far each line may go, as bars about what it is now."""

from __future__ import annotations

from advisor.formula_design.one_moved import Tolerance
from advisor.formula_design.tolerance import ToleranceAnswer
from advisor.rendering.pictures.scene import DARK, FAINT, LIGHT, MIDDLE, Scene

_LEFT, _RIGHT, _TOP, _ROW, _WIDTH = 230.0, 40.0, 96.0, 30.0, 900.0
_MOST = 2.0
"""Share of what it is now at the right edge; the left one is none."""


def tolerance_picture(answer: ToleranceAnswer) -> Scene:
    """A bar a line: dark to where it is still good, pale beyond, with a stroke at what it is now."""
    some = answer.lines
    said = "; ".join(f"{t.what} {_percent(t)}" for t in some)
    height = _TOP + _ROW * len(some) + 60
    scene = Scene(
        id="tolerance", title="How far each may go, in per cent of what it is", says=said + ".", width=_WIDTH,
        height=height,
    )  # fmt: skip
    scene.words(20, 30, scene.title, size=19, bold=True)
    scene.words(
        20, 54, "Dark: still good. Open end: nothing was found to go wrong. Stroke: as it is.", ink=FAINT
    )
    for share in (0.0, 0.5, 1.0, 1.5, 2.0):
        x = _x(share)
        scene.stroke((x, _TOP - 8), (x, height - 50), ink=FAINT, line=0.7, dash="dotted")
        scene.words(x, _TOP - 14, f"{100 * share:.0f} %", size=13, anchor="middle", ink=FAINT)
    for place, t in enumerate(some):
        _bar(scene, _TOP + place * _ROW, t)
    return scene


def _x(share: float) -> float:
    return _LEFT + (_WIDTH - _LEFT - _RIGHT) * min(max(share, 0.0), _MOST) / _MOST


def _bar(scene: Scene, y: float, t: Tolerance) -> None:
    low, high = _x(t.down.kept / t.now), _x(t.up.kept / t.now)
    scene.words(_LEFT - 12, y + 19, t.what, anchor="end")
    scene.box(_x(0.0), y + 4, _x(_MOST) - _x(0.0), _ROW - 10, fill=LIGHT, pattern="dots", line=0)
    free = t.down.lost is None and t.up.lost is None
    scene.box(
        low, y + 4, high - low, _ROW - 10, fill=MIDDLE if free else DARK, pattern="lines" if free else "plain"
    )
    scene.stroke((_x(1.0), y), (_x(1.0), y + _ROW - 2), line=2.5)


def _percent(t: Tolerance) -> str:
    low = "0" if t.down.lost is None else f"{100 * t.down.kept / t.now:.0f}"
    high = "any" if t.up.lost is None else f"{100 * t.up.kept / t.now:.0f} %"
    return f"{low} to {high}"
