"""The timeline as a scene: gas and set on one axis of minutes, with what happens when."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.models.loaf.timeline import Timeline
from advisor.rendering.pictures.scene import DARK, FAINT, PALE, Scene, text_width

WIDTH, HEIGHT = 900.0, 400.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 60.0, 70.0, 62.0, 70.0
_RUST = "#9a4a0b"


def timeline_picture(line: Timeline, name: str = "") -> Scene:
    """Draw the gas let go (solid), the share of the loaf set (dashed) and the core in degrees (dotted)."""
    gas, end = line.gas, line.minutes[-1]
    top = max(max(gas), 1.0) * 1.1
    oven = line.stages[-1].start
    marks = [m for m in line.marks if m.name != "leave shut until"]
    said = [f"{s.name} from minute {s.start:.0f} to {s.end:.0f}" for s in line.stages]
    said += [f"gas in all {gas[-1]:.0f} mL in 100 g"] + [
        f"{m.name} at minute {m.oven_min:.0f} in the oven" for m in marks
    ]
    title = f"{name}: gas against set" if name else "Gas against set"
    scene = Scene(id="timeline", title=title, says=", ".join(said) + ".", width=WIDTH, height=HEIGHT)
    scene.words(6, 24, scene.title, size=18, bold=True)
    width, height = WIDTH - _LEFT - _RIGHT, HEIGHT - _TOP - _BOTTOM

    def x(minute: float) -> float:
        return _LEFT + width * minute / end

    def y(share: float) -> float:
        return _TOP + height * (1 - share)

    for place, stage in enumerate(line.stages):
        fill = PALE if place % 2 == 0 else "#ffffff"
        scene.box(
            x(stage.start), _TOP, x(stage.end) - x(stage.start), height, fill=fill, edge="#bdbdbd", line=0.8
        )
        if x(stage.end) - x(stage.start) > 9 * len(stage.name):
            scene.words((x(stage.start) + x(stage.end)) / 2, _TOP - 8, stage.name, size=14, anchor="middle")
    labels: list[tuple[float, float, str]] = []
    for number, mark in enumerate(marks):
        scene.stroke(
            (x(mark.minute), _TOP), (x(mark.minute), _TOP + height), ink=FAINT, line=1, dash="dashed"
        )
        text, base = f"{mark.name} {mark.oven_min:.0f} min", y(0.05 + 0.085 * (number % 5))
        labels.append((x(mark.minute) - 6, base, text))
    scene.stroke(
        *_thinned([(x(m), y(g / top)) for m, g in zip(line.minutes, gas, strict=True)]), ink=DARK, line=3
    )
    hot = [(x(m), y(s)) for m, s in zip(line.minutes, line.set_share, strict=True) if m >= oven]
    if len(hot) > 1:
        scene.stroke(*_thinned(hot), ink=_RUST, line=3, dash="dashed")
    core = [(x(m), y(max(c, 0.0) / 100)) for m, c in zip(line.minutes, line.core_c, strict=True) if m >= oven]
    if len(core) > 1:
        scene.stroke(*_thinned(core), ink=FAINT, line=2, dash="dotted")
    for right, base, text in labels:
        wide = text_width(text, 13)
        scene.box(right - wide - 3, base - 14, wide + 5, 19, line=0)
        scene.words(right, base, text, size=13, anchor="end")
    for share in (0.0, 0.5, 1.0):
        scene.words(_LEFT - 8, y(share) + 5, f"{top * share:.0f}", size=13, anchor="end")
        scene.words(WIDTH - _RIGHT + 8, y(share) + 5, f"{100 * share:.0f} %, C", size=13)
    for tick in range(0, int(end) + 1, 20 if end > 90 else 10):
        scene.words(x(tick), _TOP + height + 18, f"{tick}", size=13, anchor="middle")
    base = HEIGHT - 14
    scene.words(_LEFT, base - 18, "minutes since the bowl; marks: minutes in the oven", size=13, ink=FAINT)
    scene.stroke((_LEFT, base - 4), (_LEFT + 40, base - 4), ink=DARK, line=3)
    scene.words(_LEFT + 48, base, "gas let go, mL in 100 g (left)", size=13)
    scene.stroke((_LEFT + 330, base - 4), (_LEFT + 370, base - 4), ink=_RUST, line=3, dash="dashed")
    scene.words(_LEFT + 378, base, "loaf set, % (right)", size=13)
    scene.stroke((_LEFT + 540, base - 4), (_LEFT + 580, base - 4), ink=FAINT, line=2, dash="dotted")
    scene.words(_LEFT + 588, base, "core, C (right)", size=13)
    return scene


def _thinned(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Points a pixel and more apart: what lies between cannot be seen."""
    out = [points[0]]
    for point in points[1:]:
        if abs(point[0] - out[-1][0]) + abs(point[1] - out[-1][1]) >= 1.5:
            out.append(point)
    return out if out[-1] == points[-1] else [*out, points[-1]]
