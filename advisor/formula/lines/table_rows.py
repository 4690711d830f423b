"""Rows pasted from a spreadsheet or a page's table: cells in columns, with or without a row of headings."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass, field

from advisor.formula.lines.weighed_pairs import weighed_pairs
from advisor.formula.text_lines import TextLine, without_comment

_NAMES = frozenset(
    {
        "ingredient", "ingredients", "ingr", "ingr.", "ingred",
        "item",
        "name",
        "material",
        "what",
        "food",
        "component",
        "raw material",
        "process",
        "parameter",
        "setting",
        "zutat",
        "zutaten",
        "ingrédient",
        "ingrediente",
    }
)  # fmt: skip
_STAGES = frozenset(["stage", "phase", "part", "step", "mix", "build", "section"])
_AMOUNTS = frozenset(
    {"amount", "amounts", "quantity", "qty", "weight", "wt", "mass", "how much", "measure", "number", "amt", "quant",
     "value", "values", "menge", "quantité", "cantidad"}
)  # fmt: skip
_TOTALS = frozenset(
    {"total", "totals", "grand total", "sum", "subtotal", "sub total", "sub-total", "total dough",
     "dough total", "dry total", "blend total", "total dry", "flour total", "total weight",
     "total flour", "total mass", "all", "yield"}
)  # fmt: skip
"""Names of rows that add up others."""
_UNITS = frozenset({"unit", "units", "uom", "einheit", "unité"})
_NOTES = frozenset({"note", "notes", "remark", "remarks", "comment", "state", "preparation", "prep"})
_IN_UNIT = {
    "g": "g", "gram": "g", "grams": "g", "grammes": "g", "gr": "g", "kg": "kg", "ml": "ml", "oz": "oz", "lb": "lb",
}  # fmt: skip
_SHARE_OF = re.compile(r"(?:%|per\s?cent|pct)\s*(?:on|of)\s+.{1,20}|.{1,20}\s%")
_SHARE = frozenset(
    {"%", "baker's percent", "bakers percent", "bakers percentage", "% of total", "% total", "% flour", "% of flour",
     "percent", "percentage", "baker's %", "bakers %", "baker's percentage", "share", "bp", "bakers pct", "baker's pct",
     "pct", "b%", "% b", "baker %", "bakers' %"}
)  # fmt: skip
_UNIT_IN_BRACKETS = re.compile(r"(?P<word>.*?)\s*[(\[](?P<unit>[^)\]]+)[)\]]")
_WEIGHED = re.compile(
    r"(?:[0-9]+\s*(?:x\s*)?|one\s+|per\s+|a\s+|each\s+)?(?:loaf|loaves|batch(?:es)?|tins?|pieces?|rolls?|dough|recipe)\b"
    r"[^,()0-9]{0,12}[,\s(]+(?P<unit>g|grams?|kg|oz|lb)\)?"
)
"""A heading that says of how much dough a column has the weights: "1 loaf, g", "20 loaves (kg)"."""
_PERCENT_CELL = re.compile(r"[0-9.,]+\s?%")
_RULE_CELL = re.compile(r":?-{2,}:?")
_GAP = "  "
_GAPS = re.compile(r"\s{2,}")
"""Columns that are set apart by nothing but room."""
_AMOUNT_CELL = re.compile(
    r"[~≈]?\s*[0-9½¼¾⅓⅔⅛][0-9½¼¾⅓⅔⅛.,/ –-]*\s*(?:%|(?:kg|g|gr|gm|grams?|mg|ml|cl|dl|l|oz|fl oz|lbs?|cups?|tsp|tbsp|tbs|"
    r"pinch|pcs?|pieces?|large|medium|small|eggs?|sachets?|packets?|stk|scoops?|sticks?|el|tl)\b\.?.{0,30})?|[^0-9]{1,20}",
    re.IGNORECASE,
)
_LEAST_INSET = 6
"""Blanks in front of headings from which they stand over the columns behind the names."""
_ROW_NUMBER = re.compile(r"[0-9]{1,2}[.)]?")
_NAMED_AMOUNT = re.compile(r"(?=[^\d]*\d)(?=.*[^\W\d]{4}).{8,}")
_LEAST_NAMED = 2
"""Cells with a name and an amount in each from which a row with semicolons is a list."""
_BARE_NUMBER = re.compile(r"[~≈]?[0-9][0-9.,/ ]*")


@dataclass(slots=True)
class TableColumns:
    """What the columns of the table hold that is being read; empty where there is no row of headings."""

    mark: str = ""
    kinds: tuple[str, ...] = ()
    units: dict[int, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row: the line that says the same in words, or nothing where it is a row of headings or a rule."""

    text: str = ""
    unused: tuple[str, ...] = ()


def row_of(line: TextLine, columns: TableColumns) -> Row | None:
    """Read a line as a row of a table, keeping its headings in `columns`; `None` where it is none."""
    mark = _mark_of(line, columns)
    if mark is None:
        pairs = weighed_pairs(line.raw)
        return Row(text=pairs) if pairs else None
    source = without_comment(line.raw.lstrip("\ufeff")).strip() if mark in ("\t", _GAP) else line.text
    parts = _cells_by_gaps(line.raw) if mark == _GAP else list(_split(source.strip("\n\r"), mark))
    cells = tuple(" ".join(cell.split()) for cell in parts)
    if mark == "|":
        cells = cells[1 if not cells[0] else 0 : len(cells) - 1 if not cells[-1] else len(cells)]
    filled = [cell for cell in cells if cell]
    if all(_RULE_CELL.fullmatch(cell) for cell in filled):
        return Row()
    if kinds := _headings(cells):
        columns.mark = mark
        columns.kinds = tuple(kind for kind, _ in kinds)
        columns.units = {i: unit for i, (_, unit) in enumerate(kinds) if unit}
        return Row()
    if len(filled) == 1:
        return Row(text=filled[0])
    if columns.kinds and len(cells) <= len(columns.kinds) and columns.mark == mark:
        return _by_headings(cells, columns)
    return _by_content(filled)


def _mark_of(line: TextLine, columns: TableColumns) -> str | None:
    if "\t" in line.raw.strip():
        return "\t"
    parts = _cells_by_gaps(line.raw) if columns.mark in ("", _GAP) else []
    if len(parts) > 1 and (columns.mark or _headings(tuple(parts))):
        return _GAP
    text = line.text
    if text.count("|") > 1 or (text.startswith("|") and "|" in text[1:]):
        return "|"
    if "|" in text and (columns.mark == "|" or _headings(tuple(text.split("|")))):
        return "|"
    several = text.count(";") > 1 and (
        columns.kinds or sum(map(bool, map(_NAMED_AMOUNT.match, text.split(";")))) < _LEAST_NAMED
    )  # "4 eggs, separated; 110 g cream cheese; pinch salt" is a list
    if ";" in text and (columns.mark == ";" or several or _headings(_split(text, ";"))):
        return ";"
    if "," in text and (columns.mark == "," or _headings(_split(text, ","))):
        return ","
    return None


def _cells_by_gaps(raw: str) -> list[str]:
    """Part a row where it leaves room; headings that begin far in leave the column of the names without one."""
    cells = _GAPS.split(raw.strip())
    inset = len(raw) - len(raw.lstrip(" ")) >= _LEAST_INSET and all(_heading(c.lower())[0] for c in cells)
    return ["", *cells] if inset else cells


def _split(text: str, mark: str) -> tuple[str, ...]:
    """Part a row at its marks; one inside quotation marks parts nothing."""
    if '"' not in text or mark == "|":
        return tuple(text.split(mark))
    try:
        return tuple(next(csv.reader([text], delimiter=mark, skipinitialspace=True)))
    except csv.Error:  # a quotation mark that parts nothing, as in 9" pan
        return tuple(text.split(mark))


def heading_kind(cell: str) -> str:
    """Tell what a column holds by its heading: name, amount, unit, share or note; empty where that is not known."""
    return _heading(cell.strip().lower())[0]


def has_column_of_shares(text: str) -> bool:
    """Tell whether a row of headings names a column of per cents."""
    rows = (
        line.split("\t" if "\t" in line else "|") for line in text.splitlines() if "\t" in line or "|" in line
    )
    return any("share" in [kind for kind, _ in _headings(tuple(row))] for row in rows)


def _headings(cells: tuple[str, ...]) -> list[tuple[str, str]]:
    found = [_heading(cell.strip().lower()) for cell in cells]
    kinds = [kind for kind, _ in found]
    blank = [i for i, cell in enumerate(cells) if not cell.strip()]
    if (
        "name" not in kinds
        and len(blank) == 1
        and {"amount", "share"} & {*kinds}
        and all(kind or not cell.strip() for kind, cell in zip(kinds, cells, strict=True))
    ):
        found[blank[0]], kinds[blank[0]] = ("name", ""), "name"  # the column of names has no heading
    if "name" not in kinds and "stage" in kinds:
        at = kinds.index("stage")
        found[at], kinds[at] = ("name", ""), "name"
    if "name" not in kinds and kinds[:1] == [""] and {"amount", "share"} <= {*kinds} and cells[0].strip():
        found[0], kinds[0] = ("name", ""), "name"  # "Dry blend | g | %"
    known = "name" in kinds and ("amount" in kinds or "share" in kinds)
    return found if known and len(cells) > 1 else []


def _heading(cell: str) -> tuple[str, str]:
    unit = ""
    if weighed := _WEIGHED.fullmatch(cell):
        return "amount", _IN_UNIT[weighed["unit"]]
    if inside := _UNIT_IN_BRACKETS.fullmatch(cell):
        cell, unit = inside["word"], _IN_UNIT.get(inside["unit"].strip(), "")
    if cell in _NAMES:
        return "name", ""
    if cell in _STAGES:
        return "stage", ""
    if cell in _IN_UNIT:
        return "amount", _IN_UNIT[cell]
    if cell in _AMOUNTS:
        return "amount", unit
    if cell in _UNITS:
        return "unit", ""
    if cell in _SHARE or _SHARE_OF.fullmatch(cell):
        return "share", ""
    return ("note", "") if cell in _NOTES or cell.split()[-1:] in (["notes"], ["remarks"]) else ("", "")


def _by_headings(cells: tuple[str, ...], columns: TableColumns) -> Row:
    named = list(zip(columns.kinds, cells, strict=False))
    name = " ".join(cell for kind, cell in named if kind == "name" and cell)
    at = next((i for i, (kind, cell) in enumerate(named) if kind == "amount" and cell), None)
    unit = next((cell for kind, cell in named if kind == "unit" and cell), "")
    notes = [cell for kind, cell in named if kind == "note" and cell]
    unused = [cell for kind, cell in named if kind == "" and cell]
    shares = [cell for kind, cell in named if kind == "share" and cell]
    if at is None and name.strip(" :*").lower() in _TOTALS:
        return Row(unused=tuple(cell for cell in cells if cell))
    if at is None and shares:
        if not _AMOUNT_CELL.fullmatch(shares[0]):  # a row of the process below the list: "MIX   4 min low"
            return Row(text=", ".join([f"{name}: {shares[0]}", *shares[1:], *notes]), unused=tuple(unused))
        share = shares[0] if "%" in shares[0] else f"{shares[0]} %"
        return Row(text=", ".join([f"{share} {name}", *notes]), unused=tuple(unused))
    unused += shares
    if at is None:
        return Row(text=", ".join([name, *notes]), unused=tuple(unused))
    amount = cells[at]
    if not _AMOUNT_CELL.fullmatch(amount):
        said = ", ".join(cell for i, cell in enumerate(cells) if cell and columns.kinds[i] != "name")
        return Row(text=f"{name}: {said}")
    if name.strip(" :*").lower() in _TOTALS:
        unit = unit or (columns.units.get(at, "g") if _BARE_NUMBER.fullmatch(amount) else "")
        return Row(text=f"total {amount} {unit}".strip(), unused=tuple(unused))
    if not unit and _BARE_NUMBER.fullmatch(amount):
        unit = columns.units.get(at, "")
    inside = f" ({'; '.join(notes)})" if any(c.isdigit() for note in notes for c in note) else ""
    if inside:  # a note with a number is no second ingredient: "egg,110,,2 eggs"
        return Row(text=f"{amount} {unit} {name}{inside}".replace("  ", " "), unused=tuple(unused))
    return Row(text=", ".join([f"{amount} {unit} {name}".replace("  ", " "), *notes]), unused=tuple(unused))


def _by_content(cells: list[str]) -> Row:
    """Without headings the cells are read as one line; a share beside a weight is left aside, and a row's number."""
    if (
        len(cells) > 2
        and _ROW_NUMBER.fullmatch(cells[0])
        and cells[1][:1].isalpha()
        and cells[2][:1].isnumeric()
    ):
        cells = cells[1:]
    numbers, names = cells[1::2], cells[::2]
    bare = all(map(_BARE_NUMBER.fullmatch, numbers))
    if len(cells) == 4 and bare and not any(c[:1].isdigit() for c in names):  # two lists side by side
        return Row(text=f"{cells[1]} g {cells[0]}, {cells[3]} g {cells[2]}")
    shares = [cell for cell in cells if _PERCENT_CELL.fullmatch(cell)]
    rest = [cell for cell in cells if cell not in shares]
    if not shares or not any(cell[0].isdigit() for cell in rest):
        return Row(text=" ".join(cells))
    return Row(text=" ".join(rest), unused=tuple(shares))
