"""What a picture is made of, whichever way it is drawn: boxes, lines and words on a plane.

Lengths are in pixels of a plane with its origin at the top left. Whatever colours say is said by a pattern, a dash, a
weight or a word as well, and neighbours differ in lightness.
"""

from __future__ import annotations

import textwrap
from dataclasses import dataclass, field
from typing import Literal

INK, FAINT, PAPER = "#1a1a1a", "#6b6b6b", "#ffffff"
DARK, MIDDLE, LIGHT, PALE = "#1f4e66", "#7fa6b8", "#d9c9a8", "#efefec"
"""From dark to pale: apart in grey as well, and for eyes that see fewer colours."""
Pattern = Literal["plain", "lines", "dots", "cross"]
Dash = Literal["solid", "dashed", "dotted"]
Anchor = Literal["start", "middle", "end"]
LETTER = 0.56
"""Width of a letter over its height, on the average of plain fonts without serifs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A rectangle."""

    x: float
    y: float
    width: float
    height: float
    fill: str = PAPER
    pattern: Pattern = "plain"
    edge: str = INK
    line: float = 1.0
    dash: Dash = "solid"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line through points, with an arrow at its end where it has one."""

    points: tuple[tuple[float, float], ...]
    ink: str = INK
    line: float = 1.5
    dash: Dash = "solid"
    arrow: bool = False
    fill: str = ""
    """What the ground between the points is filled with; empty where it is a line alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """One line of text; `y` is its base line."""

    x: float
    y: float
    text: str
    size: float = 15
    anchor: Anchor = "start"
    bold: bool = False
    ink: str = INK


@dataclass(slots=True, kw_only=True)
class Scene:
    """A picture with its title and, for who cannot see it, what it says."""

    id: str
    title: str
    says: str
    width: float
    height: float
    parts: list[Box | Stroke | Words] = field(default_factory=list)

    def box(
        self, x: float, y: float, width: float, height: float, *, fill: str = PAPER, pattern: Pattern = "plain",
        edge: str = INK, line: float = 1.0, dash: Dash = "solid",
    ) -> None:  # fmt: skip
        """Put a rectangle."""
        self.parts.append(
            Box(
                x=x,
                y=y,
                width=width,
                height=height,
                fill=fill,
                pattern=pattern,
                edge=edge,
                line=line,
                dash=dash,
            )
        )

    def stroke(
        self, *points: tuple[float, float], ink: str = INK, line: float = 1.5, dash: Dash = "solid",
        arrow: bool = False, fill: str = "",
    ) -> None:  # fmt: skip
        """Put a line, or the ground that it goes around."""
        self.parts.append(Stroke(points=points, ink=ink, line=line, dash=dash, arrow=arrow, fill=fill))

    def words(
        self, x: float, y: float, text: str, *, size: float = 15, anchor: Anchor = "start", bold: bool = False,
        ink: str = INK,
    ) -> None:  # fmt: skip
        """Put a line of text."""
        self.parts.append(Words(x=x, y=y, text=text, size=size, anchor=anchor, bold=bold, ink=ink))

    def paragraph(
        self, x: float, y: float, text: str, width: float, *, size: float = 15, anchor: Anchor = "start",
        bold: bool = False, most: int = 4,
    ) -> float:  # fmt: skip
        """Put lines of text that fit `width`, downwards from base line `y`; give the base line after the last."""
        for line in wrapped(text, width, size, most):
            self.words(x, y, line, size=size, anchor=anchor, bold=bold)
            y += size * 1.25
        return y


def wrapped(text: str, width: float, size: float, most: int = 4) -> list[str]:
    """Lines of text that fit a width, at most so many."""
    letters = max(int(width / (size * LETTER)), 4)
    return textwrap.wrap(text, letters, max_lines=most, placeholder=" …", break_on_hyphens=False) or [""]


def text_width(text: str, size: float) -> float:
    """About how wide a line of text is."""
    return len(text) * size * LETTER
