"""Blocks as Markdown: letters that mean something there are escaped in every text, whoever wrote it.

Beyond plain Markdown it uses tables with bars and boxes to tick; a reader that knows neither shows them as text.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from advisor.explanation.blocks import (
    Block,
    Chain,
    Command,
    Emphasis,
    Figure,
    Heading,
    Item,
    Paragraph,
    Quantity,
    Row,
    Runs,
    Table,
    Timeline,
)
from advisor.knowledge_base.escaping import shown
from advisor.rendering.baker_units import for_reader, units_in_use
from advisor.rendering.quantities import Units, quantity_text
from advisor.rendering.timeline_text import timeline_key, timeline_lines

_MEANS_SOMETHING = re.compile(r"([\\`*_\[\]|~#])")
_LOOKS_LISTED = re.compile(r"^([-+])(?=\s)")
_LOOKS_NUMBERED = re.compile(r"^(\d+)([.)])(?=\s)")
_LONGEST = 2000
_WIDTH = 80
"""Columns of what is drawn with letters."""
_BOXES = ("[ ]", "[x]")


def md(words: str) -> str:
    """A text that Markdown shows as it is, on one line."""
    return _opening(_inside(words))


def markdown_of(blocks: Sequence[Block], units: Units | None = None) -> str:
    """Write a page of blocks, ending in a line break; paragraphs are not wrapped."""
    lines = _Writer(units or units_in_use()).blocks(blocks)
    return "\n".join(lines).strip("\n") + "\n"


def _inside(words: str) -> str:
    """A text within a line: what means something anywhere is escaped."""
    plain = " ".join(shown(for_reader(words), _LONGEST).split())
    plain = _MEANS_SOMETHING.sub(r"\\\1", plain)
    return plain.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _opening(line: str) -> str:
    """A paragraph's start: a dash or a number there would make a list of it."""
    return _LOOKS_NUMBERED.sub(r"\1\\\2", _LOOKS_LISTED.sub(r"\\\1", line))


class _Writer:
    def __init__(self, units: Units) -> None:
        self.units = units

    def blocks(self, blocks: Sequence[Block]) -> list[str]:
        """Lines of some blocks: an empty line between two, but none between short entries of a list."""
        out: list[str] = []
        before: Block | None = None
        for block in blocks:
            lines = list(self.block(block))
            if not lines:
                continue
            if out and not (_is_short(before) and _is_short(block)):
                out.append("")
            out += lines
            before = block
        return out

    def block(self, block: Block) -> Iterator[str]:
        match block:
            case Heading():
                yield f"{'#' * block.level} {_inside(block.text)}"
            case Paragraph():
                yield _opening(self.runs(block.runs))
            case Item():
                yield from self._item(block)
            case Row():
                yield _opening(" ".join(part for part in map(self.runs, (block.left, block.right)) if part))
            case Table():
                yield from self._table(block)
            case Chain():
                yield _opening(" → ".join(map(_inside, block.steps)))
            case Command():
                yield from ("```", block.text, "```")
            case Timeline():
                yield from ("```", *timeline_lines(block, _WIDTH), "```", "", md(timeline_key(block)))
            case Figure():
                return

    def _item(self, item: Item) -> Iterator[str]:
        said = self.runs(item.runs)
        if not item.label:
            yield _opening(said)
            hang = ""
        elif item.label in _BOXES:
            yield f"- {item.label} {said}"
            hang = "  "
        else:
            numbered = item.label.rstrip(".").isdecimal()
            label = item.label if numbered or item.label == "-" else f"- {_inside(item.label)}"
            yield f"{label} {said if numbered else _opening(said)}"
            hang = " " * (len(item.label) + 1 if numbered else 2)
        if item.under:
            yield ""
            yield from (hang + line if line else "" for line in self.blocks(item.under))

    def _table(self, table: Table) -> Iterator[str]:
        if table.captioned:
            yield from (f"**{_inside(table.caption)}**", "")
        rules = ("---:" if n in table.figures else "---" for n in range(len(table.head)))
        yield _barred(map(_inside, table.head))
        yield f"|{'|'.join(rules)}|"
        for row in table.rows:
            yield _barred(map(self.runs, row))

    def runs(self, runs: Runs) -> str:
        """Runs on one line; what matters is bold, whatever it means."""
        return self._joined(runs).strip()

    def _joined(self, runs: Runs) -> str:
        out = ""
        for run in runs:
            match run:
                case Quantity():
                    out += _inside(quantity_text(run, self.units))
                case Emphasis():
                    out += _bold(self._joined(run.runs))
                case _:
                    first, last = (" " if edge.isspace() else "" for edge in (run[:1], run[-1:]))
                    out += first + _inside(run) + last
        return out


def _bold(text: str) -> str:
    """Bold once, however deep it stands; spaces at its ends stay outside, where Markdown wants them."""
    inner = text.replace("**", "").strip()
    first, last = (" " if edge.isspace() else "" for edge in (text[:1], text[-1:]))
    return f"{first}**{inner}**{last}" if inner else first


def _barred(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cells)} |"


def _is_short(block: Block | None) -> bool:
    return isinstance(block, Item) and not block.under and bool(block.label)
