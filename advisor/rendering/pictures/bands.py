"""The numbers of a dough on one picture: where each lies, and the band in which it should."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.explanation.answer import SaidNumber
from advisor.explanation.wording import number_band, number_value
from advisor.rendering.pictures.scene import DARK, FAINT, INK, LIGHT, Scene
from advisor.rendering.quantities import Units, runs_text

WIDTH, ROW = 900.0, 34.0
_LEFT, _RIGHT, _TOP = 290.0, 300.0, 44.0
_SPAN = 3.0
"""The band takes the middle third of a row; what lies further out than its width again stands at the edge."""


def bands_picture(numbers: Sequence[SaidNumber], units: Units) -> Scene:
    """Draw them in the order in which they come: the furthest out first."""
    said = ", ".join(f"{n.name}: {n.state}" for n in numbers)
    scene = Scene(
        id="bands", title="The numbers and where they should lie", says=said + ".", width=WIDTH,
        height=_TOP + ROW * len(numbers) + 30,
    )  # fmt: skip
    scene.words(6, 24, scene.title, size=18, bold=True)
    y, across = _TOP, WIDTH - _LEFT - _RIGHT
    for one in numbers:
        scene.words(_LEFT - 14, y + 18, one.name, anchor="end", bold=one.out, size=14)
        scene.stroke((_LEFT, y + 13), (_LEFT + across, y + 13), ink="#bdbdbd", line=1)
        low, high = _band(one)
        scene.box(_LEFT + across * low, y + 5, across * (high - low), 16, fill=LIGHT, line=0.8)
        x = _LEFT + across * _place(one)
        scene.box(x - 4, y + 1, 8, 24, fill=DARK if one.out else INK, line=0)
        value, good = (runs_text(runs, units) for runs in (number_value(one), number_band(one)))
        scene.words(WIDTH - _RIGHT + 14, y + 18, f"{value} (good: {good})", size=14, bold=one.out)
        y += ROW
    scene.words(_LEFT, y + 16, "Box: where it should lie. Bar: where it lies here.", size=14, ink=FAINT)
    return scene


def _band(one: SaidNumber) -> tuple[float, float]:
    """Both ends of the box (0..1); a band without an end goes to the edge."""
    third = 1 / _SPAN
    return (0.0 if one.low is None else third, 1.0 if one.high is None else 2 * third)


def _place(one: SaidNumber) -> float:
    """Where the value stands (0..1)."""
    low, high = one.low, one.high
    if low is not None and high is not None and high > low:
        at = 1 / _SPAN + (one.value - low) / (high - low) / _SPAN
    elif high is not None and high > 0:
        at = 2 / _SPAN * one.value / high
    elif low is not None and low > 0:
        at = one.value / low / _SPAN
    else:
        at = 0.5
    return min(max(at, 0.01), 0.99)
