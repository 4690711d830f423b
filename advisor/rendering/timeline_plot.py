"""The timeline as a picture: gas and set on one axis of minutes. The one door to matplotlib for this picture."""

from __future__ import annotations

from pathlib import Path

from advisor.models.loaf.timeline import Timeline
from advisor.rendering.picture_file import drawn_to

_GAS, _SET, _CORE, _INK = "#1b4f72", "#b9560f", "#8a8a8a", "#222222"
"""Told apart by line style first, and by lightness in grey."""
_SHADES = {"mixing": "#e9e9e9", "rest": "#f5f5f5", "proof": "#ececec", "oven": "#fbf3e6"}


def plot_timeline(line: Timeline, name: str, path: Path) -> None:
    """Draw the timeline to `path`, SVG or PNG by its ending.

    Raises:
        InputFault: the ending is neither, or the file cannot be written; nothing half-written is left.
    """
    with drawn_to(path, width_in=9.0, height_in=4.8) as figure:
        gas_axis = figure.add_subplot()
        share_axis = gas_axis.twinx()
        for stage in line.stages:
            gas_axis.axvspan(stage.start, stage.end, color=_SHADES[stage.name], zorder=0, linewidth=0)
            gas_axis.text(
                (stage.start + stage.end) / 2, 1.015, stage.name if stage.end - stage.start > 4 else "",
                transform=gas_axis.get_xaxis_transform(), ha="center", va="bottom", color=_INK, fontsize=10,
            )  # fmt: skip
        gas_axis.plot(line.minutes, line.gas, color=_GAS, linewidth=2.6, label="gas let go (left)")
        hot = [n for n, m in enumerate(line.minutes) if m >= line.stages[-1].start]
        minutes = [line.minutes[n] for n in hot]
        share_axis.plot(
            minutes, [100 * line.set_share[n] for n in hot], color=_SET, linewidth=2.6, linestyle=(0, (6, 2)),
            label="loaf set, % (right)",
        )  # fmt: skip
        share_axis.plot(
            minutes, [line.core_c[n] for n in hot], color=_CORE, linewidth=1.6, linestyle=(0, (1, 1.6)),
            label="core, C (right)",
        )  # fmt: skip
        top = max(max(line.gas), 1.0) * 1.12
        for number, mark in enumerate(m for m in line.marks if m.name != "leave shut until"):
            gas_axis.axvline(mark.minute, color=_INK, linewidth=0.9, linestyle=(0, (3, 3)))
            gas_axis.text(
                mark.minute, top * (0.04 + 0.075 * (number % 4)), f"{mark.name} {mark.oven_min:.0f} min ",
                fontsize=9, color=_INK, ha="right",
                bbox={"facecolor": "white", "edgecolor": "none", "alpha": 0.85, "pad": 1.5},
            )  # fmt: skip
        gas_axis.set_xlim(0, line.minutes[-1])
        gas_axis.set_ylim(0, top)
        share_axis.set_ylim(0, 105)
        gas_axis.set_xlabel("minutes since the bowl (marks: minutes in the oven)")
        gas_axis.set_ylabel("carbon dioxide, mL in 100 g of dough")
        share_axis.set_ylabel("set, % of the loaf; core, C")
        handles = [*gas_axis.get_lines()[:1], *share_axis.get_lines()]
        gas_axis.legend(
            handles, [str(h.get_label()) for h in handles], loc="upper center",
            bbox_to_anchor=(0.5, -0.14), ncols=3, frameon=False,
        )  # fmt: skip
        gas_axis.set_title(f"{name}: gas against set", loc="left", pad=22, fontsize=12)
