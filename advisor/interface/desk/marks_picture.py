"""Marks over the bakes of a formula as a picture, with what changed at each."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from advisor.interface.desk.bake_words import change_name, difference_text
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.pictures.plot import write_scene
from advisor.rendering.pictures.scene import DARK, FAINT, INK, Dash, Scene
from advisor.trial_record.bake import SCORES, Bake
from advisor.trial_record.differing import differences

_LINES: dict[str, tuple[str, Dash, float, float]] = {
    "volume": (DARK, "solid", 3.5, 5.0),
    "crumb": ("#9a4a0b", "dashed", 3.0, 3.5),
    "slice": (FAINT, "dotted", 3.0, 5.0),
    "taste": (INK, "solid", 1.2, 2.5),
}
"""Ink, dash, weight and half the size of a point, pixels: told apart by dash and weight; colour only helps."""
_LEFT, _TOP, _HIGH, _STEP, _RIGHT = 60.0, 76.0, 260.0, 90.0, 40.0
_ROW = 19.0
_CHANGES_SHOWN, _LONGEST = 2, 44


def plot_over_time(bakes: Sequence[Bake], knowledge: Knowledge, path: Path) -> None:
    """Draw the marks of each kind, and below what was done in each bake that was not done in the one before.

    Raises:
        InputFault: the ending is neither .svg nor .png, or the file cannot be written.
    """
    write_scene(over_time_picture(bakes, knowledge), path)


def over_time_picture(bakes: Sequence[Bake], knowledge: Knowledge) -> Scene:
    """Give the picture: bakes from left to right, marks from 1 (poor) to 5 (as wished) upwards."""
    made = [_changes(None if n == 0 else bakes[n - 1], bake, knowledge) for n, bake in enumerate(bakes)]
    end = _LEFT + _STEP * max(len(bakes), 7)
    title = f"{shown(bakes[-1].formula, 70)}: marks over the bakes"
    scene = Scene(
        id="marks", title=title, says="; ".join(made), width=end + _RIGHT,
        height=_TOP + _HIGH + 62 + _ROW * len(made),
    )  # fmt: skip
    scene.words(6, 24, title, size=18, bold=True)
    _axes(scene, bakes, end)
    _keys(scene)
    for name in SCORES:
        _line(scene, bakes, name)
    for row, text in enumerate(made):
        scene.words(_LEFT, _TOP + _HIGH + 64 + _ROW * row, text, size=13)
    return scene


def _x(place: int) -> float:
    return _LEFT + _STEP * (place + 0.5)


def _y(mark: float) -> float:
    return _TOP + _HIGH * (5 - mark) / 4


def _axes(scene: Scene, bakes: Sequence[Bake], end: float) -> None:
    for mark in range(1, 6):
        scene.stroke((_LEFT, _y(mark)), (end, _y(mark)), ink="#bbbbbb", line=0.6)
        scene.words(_LEFT - 10, _y(mark) + 5, str(mark), size=13, anchor="end")
    for place, bake in enumerate(bakes):
        scene.words(_x(place), _TOP + _HIGH + 22, f"{bake.number}", size=13, anchor="middle")
        scene.words(_x(place), _TOP + _HIGH + 38, bake.baked_on[:10], size=11, anchor="middle", ink=FAINT)


def _keys(scene: Scene) -> None:
    x = _LEFT
    for name, (ink, dash, line, half) in _LINES.items():
        scene.stroke((x, 46), (x + 40, 46), ink=ink, line=line, dash=dash)
        scene.box(x + 20 - half, 46 - half, 2 * half, 2 * half, fill=ink, edge=ink)
        scene.words(x + 48, 51, name, size=13)
        x += 120
    scene.words(x, 51, "marks: 1 poor, 5 as wished", size=13, ink=FAINT)


def _line(scene: Scene, bakes: Sequence[Bake], name: str) -> None:
    ink, dash, line, half = _LINES[name]
    points = [
        (_x(place), _y(mark))
        for place, bake in enumerate(bakes)
        if (mark := getattr(bake.scores, name)) is not None
    ]
    if len(points) > 1:
        scene.stroke(*points, ink=ink, line=line, dash=dash)
    for x, y in points:
        scene.box(x - half, y - half, 2 * half, 2 * half, fill=ink, edge=ink)


def _changes(before: Bake | None, bake: Bake, knowledge: Knowledge) -> str:
    made = [] if before is None else [difference_text(d) for d in differences(before, bake)]
    if bake.followed:
        made.insert(0, change_name(bake.followed, knowledge))
    told = [shown(text, _LONGEST) for text in made[:_CHANGES_SHOWN]]
    if len(made) > _CHANGES_SHOWN:
        told.append(f"and {len(made) - _CHANGES_SHOWN} more")
    return f"{bake.number}: {', '.join(told) or ('the first' if before is None else 'nothing changed')}"
