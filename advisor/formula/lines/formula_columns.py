"""Several formulas side by side, one a column: the one that the text says was baked is read, else the first."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from advisor.formula.faults import shown
from advisor.formula.lines.table_rows import heading_kind

_BAKED = (
    r"only\s+{n}\s+(?:was\s+|is\s+)?(?:baked|made|mixed|done|used|run)|(?:baked|made|mixed|used)\s+(?:only\s+)?{n}(?:\s+only)?|"
    r"this\s+is\s+{n}|{n}\s+only|(?:keeper|main\s+one|chosen)\s*(?:=|:|is|was)\s*{n}|"
    r"{n}\s*(?:=|:|is|was)\s*(?:the\s+)?(?:keeper|main\s+one|one\s+(?:to\s+|that\s+)?(?:i\s+|we\s+)?(?:repeat|bake|make|keep|use|read)d?)|"
    r"(?:go|going|went)\s+on\s+with\s+{n}|(?:bake|read|repeat|use|take)\s+(?:only\s+|column\s+)?{n}"
)
"""How a text says which of several was baked; `{n}` is its name."""
_MAIN = re.compile(r"\b(?:main|keeper|chosen|final|baked|used|this\s+one)\b", re.IGNORECASE)
_REMARK = re.compile(r"\s*\((?P<remark>[^()]*)\)\s*$")
_MARKS = ("\t", "|", ";", ",")
_GAPS = re.compile(r"\s{2,}|\t")
_AMOUNT = re.compile(r"[~≈]?\s*[0-9.¼½¾⅓⅔⅛]")
_NOTHING = re.compile(r"[-–—\s.]*|0(?:\.0+)?\s*(?:g|ml)?|none|nil|no|n/?a", re.IGNORECASE)
_UNIT_OF_NAME = re.compile(
    r"(?P<name>.*?)[\s,(\[]*\b(?P<unit>g|gr|gm|grams?|kg|ml|oz|lb|°?\s?[CF]|min(?:ute)?s?|h|hrs?|hours?|sec|cm|mm|in|inch|%)[)\]]?",
)
_SIDE_BY_SIDE = re.compile(r"(?P<name>[^\W\d][^0-9/]*?)[\s:=–-]*(?P<amounts>[0-9][^/]*(?:/[^/]*[0-9][^/]*)+)")
_ONE_AMOUNT = re.compile(r"\s*(?P<n>[0-9]+(?:\.[0-9]+)?)\s*(?P<unit>[^\W\d]*)\s*")
_LEAST_ROWS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Where the formulas of a text stand: the line of their names, and each line's name with a cell for each."""

    head: int
    names: tuple[str, ...]
    rows: dict[int, tuple[str, tuple[str, ...]]]

    def lines_of(self, at: int) -> dict[int, str]:
        """Give each line with what it says of one formula; one that it goes without is a comment."""
        return {n: _line(name, cells[at]) for n, (name, cells) in self.rows.items()}


def columns_in(text: str) -> Columns | None:
    """Find formulas side by side: a table with a column of amounts for each, or rows like "gluten 120 / 140 / 160"."""
    lines = re.split(r"\r\n|\r|\n", text.lstrip("\ufeff"))
    for at, line in enumerate(lines):
        for mark in _MARKS if any(m in line for m in _MARKS) else ():
            if mark in line and (found := _table(lines, at, mark)):
                return found
        if _GAPS.search(line.strip()) and (found := _table(lines, at, "  ")):
            return found
    return _by_slashes(lines)


def with_one_column(text: str) -> tuple[str, str]:
    """Give a text with one of its formulas side by side, line for line, and what is said of the others."""
    found = columns_in(text) if text.count("\n") >= _LEAST_ROWS else None
    if found is None:
        return text, ""
    lines = re.split(r"\r\n|\r|\n", text)
    told = "\n".join(line for n, line in enumerate(lines) if n not in found.rows and n != found.head)
    chosen = [n for n, name in enumerate(found.names) if _is_told(name, told)]
    at = chosen[0] if len(chosen) == 1 else 0
    own = found.lines_of(at)
    kept = [own.get(n, "#" if n == found.head else line) for n, line in enumerate(lines)]
    names = [f"'{shown(name)}'" for name in found.names]
    rest = ", ".join(names[:at] + names[at + 1 :])
    why = "as the text says" if len(chosen) == 1 else "as the first"
    another = _REMARK.sub("", found.names[1 if at == 0 else 0])
    said = (
        f"{len(names)} formulas stand side by side: {names[at]} is read, {why}; left aside: {rest}. "
        f"To read another, write in the text: 'only {shown(another)} was baked'"
    )
    return "\n".join(kept), said


def _is_told(name: str, told: str) -> bool:
    remark = _REMARK.search(name)
    if remark and _MAIN.search(remark["remark"]):
        return True
    plain = re.escape(_REMARK.sub("", name))
    own = plain if len(plain) == 1 else f"(?i:{plain})"  # "use a" does not speak of A
    return re.search(rf"(?<!\w)(?i:{_BAKED.replace('{n}', f'(?-i:{own})')})(?!\w)", told) is not None


def _cells(line: str, mark: str) -> list[str]:
    if mark == "  ":
        cells = _GAPS.split(line.strip())
        return ["", *cells] if line[:1].isspace() else cells
    inside = line.strip().removeprefix("|").removesuffix("|") if mark == "|" else line
    cells = inside.split("|") if mark == "|" else _parted(line, mark)
    return [" ".join(cell.replace("**", "").split()) for cell in cells]


def _parted(line: str, mark: str) -> list[str]:
    try:
        return next(csv.reader([line], delimiter=mark))
    except (csv.Error, StopIteration):  # a quotation mark that parts nothing
        return line.split(mark)


def _table(lines: Sequence[str], at: int, mark: str) -> Columns | None:
    """Read the table whose headings stand in a line: no column is headed as the amounts of one formula."""
    heads = _cells(lines[at], mark)
    kinds = [heading_kind(head) for head in heads]
    if "name" not in kinds and not (len(heads) > 2 and (mark in "\t|" or not heads[0])):
        return None
    place = kinds.index("name") if "name" in kinds else 0
    named = [head for i, head in enumerate(heads) if head and i != place]
    counted = named == [str(n) for n in range(1, len(named) + 1)]
    if {"amount", "share", "unit"} & {*kinds} or not (counted or all(head[0].isalpha() for head in named)):
        return None
    rows = dict(_rows(lines, at + 1, mark, len(heads)))
    columns = [i for i, kind in enumerate(kinds) if i != place and not kind and heads[i]]
    columns = [i for i in columns if _is_of_amounts([row[i] for row in rows.values()])]
    if len(columns) < 2 or len(rows) < 2:
        return None
    return Columns(
        head=at,
        names=tuple(heads[i] for i in columns),
        rows={n: (row[place], tuple(row[i] for i in columns)) for n, row in rows.items()},
    )


def _rows(lines: Sequence[str], at: int, mark: str, width: int) -> Iterator[tuple[int, list[str]]]:
    """Give the rows of a table as far as they go; a rule or an empty line within it is none."""
    for n in range(at, len(lines)):
        if not any(c.isalnum() for c in lines[n]):
            continue
        cells = _cells(lines[n], mark)
        if len(cells) < 2:
            return
        yield n, (cells + [""] * width)[:width]


def _is_of_amounts(cells: Sequence[str]) -> bool:
    filled = [cell for cell in cells if not _NOTHING.fullmatch(cell)]
    return bool(filled) and sum(_AMOUNT.match(cell) is not None for cell in filled) > len(filled) / 2


def _line(name: str, cell: str) -> str:
    """Write a name and its cell as a line; a unit that stands with the name goes to its number."""
    if _NOTHING.fullmatch(cell):
        return f"# {name}"
    inside = _UNIT_OF_NAME.fullmatch(name)
    if inside and cell[-1].isalnum() and not cell[-1].isalpha():
        name, cell = inside["name"], f"{cell} {inside['unit']}"
    return f"{name}\t{cell}" if cell[:1].isnumeric() and name else f"{name}: {cell}".strip(" :")


def _by_slashes(lines: Sequence[str]) -> Columns | None:
    """Read rows with one amount for each formula between slashes; two units for one amount are none."""
    rows: dict[int, tuple[str, tuple[str, ...]]] = {}
    for n, line in enumerate(lines):
        found = _SIDE_BY_SIDE.fullmatch(line.strip().lstrip("-•*· "))
        amounts = [_ONE_AMOUNT.fullmatch(part) for part in found["amounts"].split("/")] if found else []
        if found is None or not all(amounts) or (len(amounts) == 2 and " / " not in line):
            continue
        units = {one["unit"] for one in amounts if one and one["unit"]}
        if len(units) > 1:
            continue
        unit = f" {next(iter(units))}" if units else ""
        rows[n] = (found["name"], tuple(f"{one['n']}{unit}" for one in amounts if one))
    count = Counter(len(cells) for _, cells in rows.values()).most_common(1)
    if not count or count[0][1] < _LEAST_ROWS:
        return None
    width = count[0][0]
    rows = {n: row for n, row in rows.items() if len(row[1]) == width}
    heads = ((n, [part.strip() for part in line.split("/")]) for n, line in enumerate(lines) if n not in rows)
    named = next(((n, parts) for n, parts in heads if len(parts) == width and all(parts)), None)
    names = named[1] if named else [f"number {n}" for n in range(1, width + 1)]
    return Columns(head=named[0] if named else -1, names=tuple(names), rows=rows)
