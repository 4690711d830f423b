"""What a page is made of: a small closed set of blocks, and the runs of text, quantities and emphasis inside them.

Blocks hold no layout, no colour and no unit system: a renderer decides those. A quantity stands in metric units, and a
renderer writes it in the baker's.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

Unit = Literal["g", "C", "min", "cm", "mL", "share"]
"""Grams, degrees Celsius, minutes, centimetres, millilitres, and a share 0..1 that is written in per cent."""
Meaning = Literal["verdict", "name", "risk", "change", "caution"]
"""What an emphasis says; how it looks is up to the renderer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """An ingredient that is counted: grams in one piece, and what one and several are called."""

    each_g: float
    one: str
    many: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A number with its unit. `upto` makes a range of it; `difference` is a step (10 C more), not a point (175 C).

    `g_per_ml` is what a millilitre of the ingredient weighs as it is spooned, so that a renderer can say spoons and
    cups; `pieces` is for what is counted. `decimals` overrides the digits that a kitchen weighs or a clock shows.
    """

    value: float
    unit: Unit
    upto: float | None = None
    difference: bool = False
    g_per_ml: float | None = None
    pieces: Pieces | None = None
    decimals: int | None = None
    ounces: bool = False
    """Whether ounces are written beside a weight where a kitchen thinks in them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Emphasis:
    """A part of a text that matters, by what it means."""

    meaning: Meaning
    runs: Runs


Run: TypeAlias = str | Quantity | Emphasis
Runs: TypeAlias = tuple[Run, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading; level 1 is the page's own, 2 a section's, 3 a part's. `ident` names the place for links."""

    text: str
    level: int = 2
    ident: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """A paragraph; `meaning` is for one that matters as a whole, such as the verdict."""

    runs: Runs
    meaning: Meaning | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """An entry of a list: its label ("1.", "-"), its text, and what stands under it.

    `folded`: what stands under it is opened on wish where a page can do that. `key` names what it is about, for a page
    on which something can be done with it.
    """

    label: str
    runs: Runs
    under: tuple[Block, ...] = ()
    folded: bool = False
    key: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Two texts that stand at the left and the right edge of one line where there is room."""

    left: Runs
    right: Runs


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table: head and rows of cells, all of one length; `figures` are the columns that hold numbers (from 0)."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[Runs, ...], ...]
    figures: frozenset[int] = frozenset()
    captioned: bool = False
    """Whether the caption is written; otherwise it only names the table to who cannot see it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """What leads to what, first to last."""

    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """What is to be typed as it stands: on a line of its own, never broken."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A stage on a time axis, minutes from its start."""

    name: str
    start: float
    end: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """Something that happens at a minute of a time axis; `oven_min` is the same since loading."""

    name: str
    minute: float
    oven_min: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Timeline:
    """Gas given off (mL per 100 g of dough, summed) and share set (0..1) over minutes since the bowl, of one length."""

    minutes: tuple[float, ...]
    gas: tuple[float, ...]
    set_share: tuple[float, ...]
    stages: tuple[Span, ...]
    marks: tuple[Moment, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A picture by its name; a renderer that has pictures shows it, another leaves it out."""

    id: str
    caption: str


Block: TypeAlias = Heading | Paragraph | Item | Row | Table | Chain | Command | Timeline | Figure
Page: TypeAlias = tuple[Block, ...]
