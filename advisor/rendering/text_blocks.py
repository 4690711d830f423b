"""Blocks as text for a terminal or a file, at any width from 34 columns up.

On a terminal headings and the verdict are bold and what emphasises a change is underlined; in a pipe there are letters
only, and nothing is said by looks alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from advisor.explanation.blocks import (
    Block,
    Chain,
    Command,
    Emphasis,
    Figure,
    Heading,
    Item,
    Meaning,
    Paragraph,
    Quantity,
    Row,
    Runs,
    Table,
    Timeline,
)
from advisor.explanation.quantities import runs_of
from advisor.knowledge_base.escaping import shown
from advisor.rendering.quantities import Units, quantity_text
from advisor.rendering.timeline_text import timeline_key, timeline_lines

NARROWEST, WIDEST_PROSE = 34, 80
_BOLD, _UNDERLINE, _PLAIN = "\x1b[1m", "\x1b[4m", "\x1b[0m"
_LOOKS: dict[Meaning, str] = {
    "verdict": _BOLD, "name": _BOLD, "risk": _BOLD, "change": _UNDERLINE, "caution": _BOLD
}  # fmt: skip
_TIED = "\u00a0"
"""Keeps a number and its unit on one line; a plain space when it is written."""
_LEAST_COLUMN = 10
Word = tuple[str, str]
"""A word and the look it has."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TextStyle:
    """How text is laid out: columns, the baker's units, and whether the terminal shows bold and underlined letters."""

    width: int = 80
    indent: int = 0
    """Columns left free at the left, except before headings."""
    units: Units = "metric"
    emphasised: bool = False


def text_of(blocks: Sequence[Block], style: TextStyle | None = None) -> str:
    """Write a page of blocks, ending in a line break."""
    writer = _Writer(style or TextStyle())
    for block in blocks:
        writer.block(block, writer.style.indent)
    return "\n".join(writer.lines).strip("\n") + "\n"


class _Writer:
    def __init__(self, style: TextStyle) -> None:
        self.style = style
        self.width = max(style.width, NARROWEST)
        self.prose = min(self.width, WIDEST_PROSE)
        self.lines: list[str] = []
        self._after: type[object] | None = None

    def block(self, block: Block, indent: int) -> None:
        match block:
            case Heading():
                self._gap()
                level = block.text.upper() if block.level < 3 else block.text
                self._wrapped(((Emphasis(meaning="name", runs=(level,))),), 0, 0)
            case Paragraph():
                if self._after is Row:
                    self._gap()
                self._wrapped(block.runs, indent, indent)
            case Item():
                self._item(block, indent)
            case Row():
                self._gap()
                self._row(block)
            case Table():
                self._table(block, indent)
            case Chain():
                self._wrapped((" -> ".join(block.steps),), indent, indent + 2)
            case Command():
                self.lines.append(f"{' ' * (indent + 2)}{shown(block.text, 4000)}")
            case Timeline():
                self.lines += timeline_lines(block, self.width)
                self._wrapped((timeline_key(block),), 2, 2)
            case Figure():
                return
        self._after = type(block)

    def _gap(self) -> None:
        if self.lines and self.lines[-1]:
            self.lines.append("")

    def _item(self, item: Item, indent: int) -> None:
        if not item.label:
            self._gap()
        hang = indent + len(item.label) + 1 if item.label else indent
        self._wrapped((f"{item.label} ", *item.runs), indent, min(hang, indent + 8))
        for block in item.under:
            self.block(block, min(hang, indent + 8))
        self._after = Item

    def _row(self, row: Row) -> None:
        left, right = (self._plain(runs) for runs in (row.left, row.right))
        gap = self.prose - len(left) - len(right)
        first = self._looking(self._words(row.left))
        second = self._looking(self._words(row.right))
        if gap >= 2:
            self.lines.append((first + " " * gap + second).rstrip())
        else:
            self._wrapped(row.left, 0, 2 if right else 0)
            if right:
                self._wrapped(row.right, 2, 2)

    def _table(self, table: Table, indent: int) -> None:
        indent = max(indent, 2)
        cells = [[self._words(cell) for cell in row] for row in table.rows]
        natural = [max([len(head), *(_length(row[n]) for row in cells)]) for n, head in enumerate(table.head)]
        widths = self._fitted(natural, table.figures, self.width - indent)
        if widths is None:
            self._stacked(table, indent)
            return
        if any(table.head):
            heads: list[list[Word]] = [[(head, "")] if head else [] for head in table.head]
            self._table_row(heads, widths, table.figures, indent)
        for row in cells:
            self._table_row(row, widths, table.figures, indent)

    def _fitted(self, natural: list[int], figures: frozenset[int], room: int) -> list[int] | None:
        """Widths of the columns; the widest words wrap first. `None` where a narrow page has no room for columns."""
        widths, gaps = list(natural), 2 * (len(natural) - 1)
        while sum(widths) + gaps > room:
            soft = [n for n in range(len(widths)) if n not in figures and widths[n] > _LEAST_COLUMN]
            if not soft:
                return None
            widths[max(soft, key=lambda n: widths[n])] -= 1
        return widths

    def _table_row(
        self, row: Sequence[list[Word]], widths: list[int], figures: frozenset[int], indent: int
    ) -> None:
        columns = [_wrap(cell, width, width) for cell, width in zip(row, widths, strict=True)]
        for n in range(max(map(len, columns))):
            parts = []
            for place, (lines, width) in enumerate(zip(columns, widths, strict=True)):
                line = lines[n] if n < len(lines) else []
                pad = " " * max(width - _length(line), 0)
                text = self._looking(line)
                parts.append(pad + text if place in figures else text + pad)
            self.lines.append((" " * indent + "  ".join(parts)).rstrip())

    def _stacked(self, table: Table, indent: int) -> None:
        for row in table.rows:
            self._wrapped(row[0], indent, indent + 2)
            rest: list[object] = []
            for head, cell in zip(table.head[1:], row[1:], strict=True):
                if self._plain(cell).strip():
                    rest += ["; " if rest else "", f"{head}: " if head else "", *cell]
            self._wrapped(tuple(rest), indent + 2, indent + 4)  # type: ignore[arg-type]  # parts of Runs

    def _wrapped(self, runs: Runs, indent: int, hang: int) -> None:
        lines = _wrap(self._words(runs), self.prose - indent, self.prose - hang)
        for place, line in enumerate(lines or [[]]):
            self.lines.append((" " * (hang if place else indent) + self._looking(line)).rstrip())

    def _words(self, runs: Runs) -> list[Word]:
        """Words with their looks; parts that touch without a space make one word."""
        out: list[Word] = []
        touching = False
        for text, look in _flat(runs, "", self.style.units):
            parts = text.split(" ")
            for place, part in enumerate(parts):
                if place:
                    touching = False
                if not part:
                    continue
                if touching and out:
                    out[-1] = _joined(out[-1], (part, look))
                else:
                    out.append((part, look))
                touching = True
        return out

    def _plain(self, runs: Runs) -> str:
        return " ".join(word for word, _ in self._words(runs)).replace(_TIED, " ")

    def _looking(self, words: Sequence[Word]) -> str:
        """One line; a look goes on over the spaces between words that share it."""
        out, now = "", ""
        for place, (word, look) in enumerate(words):
            if not self.style.emphasised:
                look = ""
            space = " " if place else ""
            if look != now:
                out += (_PLAIN if now else "") + space + look + word
            else:
                out += space + word
            now = look
        return (out + (_PLAIN if now else "")).replace(_TIED, " ")


def _joined(one: Word, other: Word) -> Word:
    """Two parts of a word; a full stop behind what is emphasised looks like it."""
    return one[0] + other[0], one[1] or other[1]


def _flat(runs: Runs, look: str, units: Units) -> list[tuple[str, str]]:
    out: list[tuple[str, str]] = []
    for run in runs:
        match run:
            case Emphasis():
                out += _flat(run.runs, _LOOKS[run.meaning], units)
            case Quantity():
                out.append((_tied(quantity_text(run, units)), look))
            case _:
                # Fields that still stand in a text of the knowledge are written here too, as on every face.
                for part in runs_of(run):
                    out += [(_harmless(part), look)] if isinstance(part, str) else _flat((part,), look, units)
    return out


def _harmless(text: str) -> str:
    """What makes a text harmless takes the spaces at its ends, which part it from its neighbours."""
    first, last = (" " if edge.isspace() else "" for edge in (text[:1], text[-1:]))
    return first + shown(text, 4000) + last


def _tied(text: str) -> str:
    number, _, rest = text.partition(" ")
    unit, bracket, more = rest.partition(" (")
    tied = f"{number}{_TIED}{unit}" if rest and " " not in unit else text
    return f"{tied} ({more}" if bracket and tied != text else tied


def _length(words: Sequence[Word]) -> int:
    return sum(len(word) for word, _ in words) + max(len(words) - 1, 0)


def _wrap(words: Sequence[Word], first: int, rest: int) -> list[list[Word]]:
    """Words in lines; one that is longer than a line is cut."""
    lines: list[list[Word]] = []
    line: list[Word] = []
    for word in words:
        for part in _cut(word, max(min(first, rest), 4)):
            room = rest if lines else first
            if line and _length(line) + 1 + len(part[0]) > room:
                lines.append(line)
                line = []
            line.append(part)
    return [*lines, line] if line else lines


def _cut(word: Word, most: int) -> list[Word]:
    text, look = word
    return [(text[n : n + most], look) for n in range(0, len(text), most)] or [word]
