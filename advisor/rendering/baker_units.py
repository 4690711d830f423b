"""The units in which this run writes for its reader: set once by the command, read by whatever writes a page.

They are the reader's, as the width of the terminal is; nothing is computed from them.
"""

from __future__ import annotations

from contextvars import ContextVar

from advisor.rendering.quantities import Units, said

_IN_USE: ContextVar[Units] = ContextVar("units_in_use", default="metric")


def use_units(units: Units) -> None:
    """Write in these units from now on."""
    _IN_USE.set(units)


def units_in_use() -> Units:
    """The units that pages are written in: metric until a command says otherwise."""
    return _IN_USE.get()


def for_reader(text: str) -> str:
    """A text of the knowledge with its quantities in the reader's units."""
    return said(text, units_in_use())
