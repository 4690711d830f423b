"""A table that holds several formulas: a column that names them, or a column of amounts for each."""

from __future__ import annotations

import contextlib
import csv
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from advisor.formula.faults import FormulaFault, Problem, shown
from advisor.formula.lines.formula_columns import columns_in
from advisor.formula.lines.table_rows import heading_kind

_FORMULA = frozenset(
    {
        "formula",
        "recipe",
        "loaf",
        "batch",
        "trial",
        "variant",
        "version",
        "bread",
        "formula name",
        "recipe name",
        "test",
    }
)
_HEADED_WITHIN = 6
"""Lines from the top among which the headings stand; a title and a remark may come before."""
_MARKS = ("\t", ";", ",", "|")


@dataclass(frozen=True, slots=True, kw_only=True)
class TablePart:
    """One formula of a table: its name, and its rows as a text of its own."""

    name: str
    text: str


def formulas_in_table(text: str) -> tuple[TablePart, ...]:
    """Take a table apart, one text a formula, in the order in which they come; empty where it holds one or is none."""
    lines = [line for line in text.lstrip("\ufeff").splitlines() if line.strip()]
    if not lines or not (mark := next((m for m in _MARKS if m in lines[0]), "")):
        return ()
    rows = [row for row in _rows(lines, mark) if not all(set(cell) <= set("-: ") for cell in row)]
    if len(rows) < 2:
        return ()
    heads = [cell.strip().lower() for cell in rows[0]]
    kinds = [heading_kind(head) for head in heads]
    at = next((i for i, head in enumerate(heads) if head in _FORMULA), None)
    parts = _by_name(rows, at) if at is not None and "name" in kinds else _by_column(text)
    return parts if len(parts) > 1 else ()


def has_headings(text: str) -> bool:
    """Say whether a row near the top of a table heads a column of ingredients and one of amounts."""
    for line in [line for line in text.lstrip("\ufeff").splitlines() if line.strip()][:_HEADED_WITHIN]:
        for mark in _MARKS:
            kinds = {heading_kind(cell) for row in _rows([line], mark) for cell in row}
            if "name" in kinds and kinds & {"amount", "share"}:
                return True
    return bool(formulas_in_table(text))


def _rows(lines: Sequence[str], mark: str) -> Iterator[list[str]]:
    if mark == "|":
        for line in lines:
            yield [cell.strip() for cell in line.strip().strip("|").split("|")]
        return
    with contextlib.suppress(csv.Error):  # quotation marks that never close, or a cell without end: no table
        for row in csv.reader(lines, delimiter=mark):
            yield [" ".join(cell.split()) for cell in row]


def _by_name(rows: Sequence[Sequence[str]], at: int) -> tuple[TablePart, ...]:
    """Part the rows by the column that names the formula; an empty cell goes on with the one above."""
    held: dict[str, list[str]] = {}
    name = ""
    for row in rows[1:]:
        name = row[at] if len(row) > at and row[at] else name
        if name:
            held.setdefault(name, []).append("\t".join([*row[:at], *row[at + 1 :]]))
    head = "\t".join([*rows[0][:at], *rows[0][at + 1 :]])
    return tuple(TablePart(name=n, text="\n".join([n, head, *some])) for n, some in held.items())


def _by_column(text: str) -> tuple[TablePart, ...]:
    """Read a column of amounts for each formula, where no column is headed as the amounts of one."""
    found = columns_in(text)
    if found is None:
        return ()
    return tuple(
        TablePart(name=name, text="\n".join([name, *found.lines_of(at).values()]))
        for at, name in enumerate(found.names)
    )


def _repeated_title(text: str) -> tuple[str, int] | None:
    """Give a first line that stands again further down over more lines, and where: two formulas in one text."""
    lines = [(n, line.strip()) for n, line in enumerate(text.splitlines(), 1) if line.strip()]
    if len(lines) < 4 or any(c.isdigit() for c in lines[0][1]) or lines[0][1].endswith(":"):
        return None
    title = lines[0][1].casefold()
    again = [
        n
        for place, (n, line) in enumerate(lines[1:], 1)
        if line.casefold() == title and 1 < place < len(lines) - 1
    ]
    return (lines[0][1], again[0]) if again else None


def _several(text: str) -> Problem | None:
    """Find several formulas in one text, which added up would be none of them."""
    if parts := formulas_in_table(text):
        names = ", ".join(f"'{shown(part.name)}'" for part in parts[:6]) + (" ..." if len(parts) > 6 else "")
        do = f"save the table as a .csv or .tsv file and name one of them behind '#', such as FILE.csv#{parts[0].name}"
        return Problem(line=1, column=1, what=f"the table holds {len(parts)} formulas: {names}", do=do)
    if (again := _repeated_title(text)) is not None:
        what = f"the title '{shown(again[0])}' stands here again: two formulas in one text"
        return Problem(line=again[1], column=1, what=what, do="give each its own text, or take the title out")
    return None


def refuse_several(text: str, name: str) -> None:
    """Let through a text of one formula.

    Raises:
        FormulaFault: it holds several, with their names; `name` stands in the message.
    """
    if (problem := _several(text)) is not None:
        raise FormulaFault(name, (problem,))
