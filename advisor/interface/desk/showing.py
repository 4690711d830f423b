"""How a page reaches the reader: the width and the looks of the terminal, and a pager where the page is too long."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterable, Sequence
from dataclasses import replace

from advisor.explanation.blocks import Block, Paragraph
from advisor.explanation.quantities import runs_of
from advisor.interface.desk.output import fitted, write_page
from advisor.rendering.baker_units import units_in_use
from advisor.rendering.quantities import Units
from advisor.rendering.text_blocks import NARROWEST, WIDEST_PROSE, TextStyle, text_of

_USUAL = (80, 24)
_PAGER = "less"
_LESS = "FRX"
"""Options of less where the reader has set none: leave at once if it fits, show bold, keep the screen."""


def shows_looks() -> bool:
    """Whether bold and underlined letters may be written: on a terminal that knows them, unless it is wished away."""
    if os.environ.get("NO_COLOR") or os.environ.get("CLICOLOR") == "0":
        return False
    return sys.stdout.isatty() and os.environ.get("TERM", "dumb") != "dumb"


def style_here(units: Units | None = None) -> TextStyle:
    """The style of the terminal, or of a pipe: its columns, and whether emphasis is shown."""
    columns = shutil.get_terminal_size(_USUAL).columns
    return TextStyle(width=columns, units=units or units_in_use(), emphasised=shows_looks())


def page_text(blocks: Sequence[Block], units: Units | None = None) -> str:
    """A page of blocks as text for where it is written."""
    return text_of(blocks, style_here(units))


def plain_text(blocks: Sequence[Block]) -> str:
    """A page of blocks as text for a file: without looks, at the usual width."""
    return text_of(blocks, TextStyle(units=units_in_use()))


def plain_lines(blocks: Iterable[Block], indent: int = 0) -> list[str]:
    """Lines of a talk at the terminal, as wide as that is; without looks, since a talk is also kept in a file."""
    return text_of(tuple(blocks), replace(style_here(), indent=indent, emphasised=False)).splitlines()


def wrapped(text: str) -> str:
    """A text of the knowledge as a paragraph of a talk, without a line break at its end."""
    return "\n".join(plain_lines((Paragraph(runs=runs_of(text)),)))


def prose_width() -> int:
    """Columns of a paragraph: those of the terminal, between 34 and 80; 80 where there is none."""
    return max(min(style_here().width, WIDEST_PROSE), NARROWEST)


def show_page(text: str, *, pager: bool = True) -> None:
    """Write a page; on a terminal that it does not fit, through the reader's pager."""
    rows = shutil.get_terminal_size(_USUAL).lines
    if pager and sys.stdin.isatty() and sys.stdout.isatty() and text.count("\n") >= rows and _paged(text):
        return
    write_page(text)


def _paged(text: str) -> bool:
    """Whether a pager took the page; `cat` or an empty PAGER means none, and so does a terminal without looks."""
    words = shlex.split(os.environ.get("PAGER", _PAGER))
    if not words or words[0] == "cat" or os.environ.get("TERM", "dumb") == "dumb":
        return False
    if (program := shutil.which(words[0])) is None:
        return False
    environment = {"LESS": _LESS} | dict(os.environ)
    try:
        with subprocess.Popen([program, *words[1:]], stdin=subprocess.PIPE, env=environment) as pager:
            # A reader who leaves early closes the pipe; the page was shown all the same.
            pager.communicate(fitted(text, sys.stdout).encode("utf-8", "replace"))
    except OSError:
        return False
    return True
