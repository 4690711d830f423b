"""The units in which this run writes for its reader: set once by the command, read by whatever writes a page.

Where the reader has not chosen, a formula that gives its heats in F is answered in F.

They are the reader's, as the width of the terminal is; nothing is computed from them.
"""

from __future__ import annotations

from contextvars import ContextVar

from advisor.formula.method.scale_of_text import is_fahrenheit
from advisor.rendering.quantities import Units, said

_IN_USE: ContextVar[Units] = ContextVar("units_in_use", default="metric")
_CHOSEN: ContextVar[bool] = ContextVar("units_chosen", default=True)


def use_units(units: Units, *, chosen: bool = True) -> None:
    """Write in these units from now on; where they are not `chosen`, until a formula is read that has others."""
    _IN_USE.set(units)
    _CHOSEN.set(chosen)


def follow(formula_text: str) -> None:
    """Write in the units of a formula that was read, unless the reader has chosen others."""
    if not _CHOSEN.get() and is_fahrenheit(formula_text):
        _IN_USE.set("us")


def units_in_use() -> Units:
    """The units that pages are written in: metric until a command says otherwise."""
    return _IN_USE.get()


def for_reader(text: str) -> str:
    """A text of the knowledge with its quantities in the reader's units."""
    return said(text, units_in_use())
