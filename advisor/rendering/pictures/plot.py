"""A scene to a file: SVG as it is written here, PNG drawn by the plotting library, whose one door this is."""

from __future__ import annotations

import io
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.whole_file import write_whole
from advisor.rendering.picture_file import refuse_other_endings
from advisor.rendering.pictures.scene import Box, Scene, Stroke, Words
from advisor.rendering.pictures.svg import svg_text

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_HATCH = {"plain": None, "lines": "//", "dots": "..", "cross": "xx"}
_DASH: dict[str, tuple[float, tuple[float, ...]] | str] = {
    "solid": "-", "dashed": (0.0, (5.0, 3.0)), "dotted": (0.0, (1.0, 2.5)),
}  # fmt: skip
_PIXELS_PER_INCH, _POINTS_PER_PIXEL, _DOTS_PER_INCH = 96.0, 0.75, 150
_ANCHOR = {"start": "left", "middle": "center", "end": "right"}


def write_scene(scene: Scene, path: Path) -> None:
    """Write a scene as SVG or PNG, by the file's ending.

    Raises:
        InputFault: another ending, no library for a PNG, or the file cannot be written; no half file is left.
    """
    refuse_other_endings(path)
    write_whole(path, svg_text(scene, alone=True) if path.suffix.lower() == ".svg" else _png(scene))


def _png(scene: Scene) -> bytes:
    import matplotlib as mpl
    from matplotlib.figure import Figure

    inches = (scene.width / _PIXELS_PER_INCH, scene.height / _PIXELS_PER_INCH)
    out = io.BytesIO()
    with mpl.rc_context({"font.size": 10}):
        figure = Figure(figsize=inches)
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        axes.set_xlim(0, scene.width)
        axes.set_ylim(scene.height, 0)
        axes.set_axis_off()
        for depth, part in enumerate(scene.parts):
            _put(part, axes, depth)
        # No word of the program in it: the same picture is the same file each time.
        figure.savefig(out, format="png", dpi=_DOTS_PER_INCH, metadata={"Software": None})
    return out.getvalue()


def _put(part: Box | Stroke | Words, axes: Axes, depth: int) -> None:
    if isinstance(part, Box):
        x, y, right, bottom = part.x, part.y, part.x + part.width, part.y + part.height
        axes.fill(
            (x, right, right, x), (y, y, bottom, bottom), facecolor=part.fill, zorder=depth,
            edgecolor=part.edge if part.line else part.fill, linewidth=part.line * _POINTS_PER_PIXEL,
            hatch=_HATCH[part.pattern], linestyle=_DASH[part.dash],
        )  # fmt: skip
    elif isinstance(part, Stroke):
        width = part.line * _POINTS_PER_PIXEL
        xs, ys = zip(*part.points, strict=True)
        if part.fill:
            axes.fill(xs, ys, facecolor=part.fill, linewidth=0, zorder=depth)
        axes.plot(
            xs, ys, color=part.ink, linewidth=width, linestyle=_DASH[part.dash], zorder=depth,
            solid_capstyle="butt",
        )  # fmt: skip
        if part.arrow:
            axes.annotate(
                "", xy=part.points[-1], xytext=part.points[-2], zorder=depth,
                arrowprops={
                    "arrowstyle": "-|>", "color": part.ink, "linewidth": width, "shrinkA": 0, "shrinkB": 0,
                    "mutation_scale": 11,
                },
            )  # fmt: skip
    else:
        # A dollar sign begins a formula in this library: a text that a person typed is none.
        axes.text(
            part.x, part.y, shown(part.text, 300).replace("$", r"\$"), fontsize=part.size * _POINTS_PER_PIXEL,
            ha=_ANCHOR[part.anchor], va="baseline", color=part.ink, zorder=depth,
            fontweight="bold" if part.bold else "normal",
        )  # fmt: skip
