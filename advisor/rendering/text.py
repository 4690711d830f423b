"""A page of plain text: headings, wrapped paragraphs and columns that fit the terminal."""

from __future__ import annotations

import shutil
import textwrap
from collections.abc import Sequence

from advisor.knowledge_base.escaping import shown
from advisor.rendering.baker_units import for_reader

WIDEST = 80
NARROWEST = 34


def page_width() -> int:
    """Columns to write: those of the terminal, at most 80; 80 where there is none."""
    return max(min(shutil.get_terminal_size((WIDEST, 24)).columns, WIDEST), NARROWEST)


class Page:
    """Gathers lines; knows nothing of formulas."""

    def __init__(self, width: int | None = None) -> None:
        self.width = width or page_width()
        self.lines: list[str] = []

    def heading(self, text: str) -> None:
        """A heading with a blank line above it."""
        if self.lines:
            self.lines.append("")
        self.paragraph(text.upper())

    def paragraph(self, text: str, indent: int = 0, hang: int | None = None) -> None:
        """A paragraph, wrapped; following lines hang by `hang` columns (default: like the first)."""
        first = " " * indent
        rest = " " * (indent if hang is None else hang)
        wrapped = textwrap.wrap(
            shown(for_reader(text), 2000),
            self.width,
            initial_indent=first,
            subsequent_indent=rest,
            break_on_hyphens=False,
        )
        self.lines += wrapped or [""]

    def item(self, label: str, text: str, indent: int = 0) -> None:
        """A labelled item whose text hangs past the label."""
        self.paragraph(f"{label} {text}", indent, min(indent + len(label) + 1, 8))

    def row(self, left: str, right: str) -> None:
        """Two texts, one at each edge; on two lines where they do not fit beside each other."""
        left, right = shown(for_reader(left)), shown(for_reader(right))
        gap = self.width - len(left) - len(right)
        self.lines += [left + " " * gap + right] if gap >= 2 else [left, "  " + right]

    def columns(self, rows: Sequence[Sequence[str]], indent: int = 2) -> None:
        """A table: first column left, the others right aligned; on a narrow page a row becomes two lines."""
        rows = [[for_reader(cell) for cell in row] for row in rows]
        count = max(len(row) for row in rows)
        widths = [max(len(row[n]) for row in rows if n < len(row)) for n in range(count)]
        rest = sum(w + 2 for w in widths[1:])
        wide = indent + widths[0] + rest <= self.width
        for row in rows:
            cells = [cell.rjust(widths[n + 1]) for n, cell in enumerate(row[1:])]
            # The last column holds words, which read from the left.
            cells[-1] = row[-1]
            tail = "  ".join(cells).rstrip()
            if wide:
                self.lines.append((" " * indent + row[0].ljust(widths[0]) + "  " + tail).rstrip())
            else:
                if row[0]:
                    self.lines.append(" " * indent + shown(row[0])[: self.width - indent])
                self.lines.append(" " * (indent + 2) + "  ".join(row[1:]).rstrip()[: self.width - indent - 2])

    def blank(self) -> None:
        """An empty line, never two in a row."""
        if self.lines and self.lines[-1]:
            self.lines.append("")

    def text(self) -> str:
        """The whole page, ending in a line break."""
        return "\n".join(self.lines) + "\n"
