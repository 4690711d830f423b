"""The timeline as text: gas and set in tenths on one axis, with what happens when."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.explanation.blocks import Timeline

_STAGE_LETTER = {"mixing": "m", "rest": "r", "proof": "p", "oven": "o"}
_MARK_LETTER = {
    "core set": "S", "core done": "D", "door": "O", "probe": "P", "pull": "X", "leave shut until": "|",
}  # fmt: skip
_WAITS = 24
"""Columns for what comes before the oven, where that is so long that it would crowd the bake."""


def timeline_lines(line: Timeline, width: int) -> list[str]:
    """Rows of minutes, stages, gas and set, one character a step; then what the letters mean.

    Gas and set are written in tenths of their whole: 0 under a tenth, 9 nine tenths, # all.
    """
    room = max(width - 10, 24)
    columns = _columns(line, room)
    gas = line.gas
    most = max(gas[-1], 1e-9)
    rows = [
        ("minute", _ruler(columns, len(columns))),
        ("stage", "".join(_stage_at(line, m) for m in columns)),
        ("gas", "".join(_tenth(_at(line.minutes, gas, m) / most) for m in columns)),
        ("set", "".join(_tenth(_at(line.minutes, line.set_share, m)) for m in columns)),
    ]
    marked = _mark_row(line, columns)
    if marked.strip():
        rows.append(("", marked))
    return [f"  {name:<7}{row}".rstrip() for name, row in rows]


def timeline_key(line: Timeline) -> str:
    """Say what the letters of the rows mean, with their minutes in the oven."""
    stages = ", ".join(f"{_STAGE_LETTER[s.name]} {s.name} {s.end - s.start:.0f} min" for s in line.stages)
    marks = ", ".join(
        f"{_MARK_LETTER[m.name]} {m.name} {m.oven_min:.0f}"
        for m in line.marks
        if m.name != "leave shut until"
    )
    scales = " What comes before the oven has a scale of its own." if _two_scales(line) else ""
    said = f"{stages}.{scales} Gas ({line.gas[-1]:.0f} mL in 100 g) and set in tenths, # all."
    return said + (f" Minutes in the oven: {marks}." if marks else "")


def _columns(line: Timeline, room: int) -> list[float]:
    """Minute that each column stands for; a long wait before the oven gets a scale of its own."""
    end = line.minutes[-1]
    if not _two_scales(line):
        return [end * n / (room - 1) for n in range(room)]
    oven = line.stages[-1]
    hot = room - _WAITS
    return [
        *(oven.start * n / _WAITS for n in range(_WAITS)),
        *(oven.start + (end - oven.start) * n / (hot - 1) for n in range(hot)),
    ]


def _two_scales(line: Timeline) -> bool:
    oven = line.stages[-1]
    return oven.name == "oven" and oven.start > 1.5 * (oven.end - oven.start)


def _at(minutes: Sequence[float], values: Sequence[float], minute: float) -> float:
    import numpy as np

    return float(np.interp(minute, minutes, values))


def _tenth(share: float) -> str:
    return "#" if share >= 0.995 else str(min(max(int(share * 10 + 1e-9), 0), 9))


def _stage_at(line: Timeline, minute: float) -> str:
    for stage in line.stages:
        if minute < stage.end - 1e-9:
            return _STAGE_LETTER[stage.name]
    return _STAGE_LETTER[line.stages[-1].name]


def _ruler(columns: list[float], room: int) -> str:
    """Minutes since the bowl, about every twelve columns."""
    row = [" "] * room
    at = 0
    while at < room - 4:
        word = f"{columns[at]:.0f}"
        row[at : at + len(word)] = word
        at += 12
    return "".join(row[:room])


def _mark_row(line: Timeline, columns: list[float]) -> str:
    row = [" "] * len(columns)
    for mark in line.marks:
        if mark.name == "leave shut until" or mark.minute > columns[-1] + 1e-6:
            continue
        place = min(range(len(columns)), key=lambda n: abs(columns[n] - mark.minute))
        while place < len(row) - 1 and row[place] != " ":
            place += 1
        row[place] = _MARK_LETTER[mark.name]
    return "".join(row)
