"""Prices and own compositions from a sheet: a row an ingredient, its columns headed as in the user's own file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from pydantic import ValidationError

from advisor.knowledge_base.faults import Finding
from advisor.knowledge_base.likeness import nearest
from advisor.knowledge_base.own_entry import OwnFile, OwnIngredient
from advisor.knowledge_base.own_file import OwnFileFault
from advisor.knowledge_base.panel import EuPanel, UsPanel

_NAMES = {"ingredient": "name", "price": "price_per_kg", "price_a_kg": "price_per_kg", "fiber": "fibre"}
"""Other headings for the same."""
_LISTS = ("also", "roles", "allergens", "traits")
"""Cells that hold several words, parted by semicolons."""
_OWN = ("name", "id", "like", "water", "ash", "alcohol", "family", "gives_water", "dough_uptake", "holds_when_baked",
        "price_per_kg", "note", *_LISTS)  # fmt: skip
_WORDS = ("name", "id", "like", "family", "note")
_EU, _US = frozenset(EuPanel.model_fields), frozenset(UsPanel.model_fields)
_NUMBER = re.compile(r"-?[0-9]+(?:[.,][0-9]+)?")
Row = Mapping[str, str]


def own_from_sheet(rows: Sequence[Sequence[str]], shown: str) -> OwnFile:
    """Read a sheet; a row with figures of a panel is an ingredient, a row with a price alone prices a known one.

    Figures are per 100 g, or for `per_g` grams; the panel is that of the United States where a column is headed
    calories, total_fat or another of its terms, else that of the European Union.

    Raises:
        OwnFileFault: with every heading and row that cannot be used, by line.
    """
    if len(rows) < 2:
        raise _fault(shown, 1, "a sheet has a row of headings and a row an ingredient")
    heads = [_NAMES.get(name, name) for name in (_key(cell) for cell in rows[0])]
    _known_heads(heads, shown)
    ingredients: list[OwnIngredient] = []
    prices: dict[str, float] = {}
    faults: list[Finding] = []
    for line, cells in enumerate(rows[1:], 2):
        row = {head: cell.strip() for head, cell in zip(heads, cells, strict=False) if head and cell.strip()}
        if not row:
            continue
        try:
            if any(head in (_EU | _US) - {"per_g"} for head in row):
                ingredients.append(OwnIngredient.model_validate(_entry(row)))
            elif "name" in row and "price_per_kg" in row:
                prices[row["name"]] = _number(row["price_per_kg"], "price_per_kg")
            else:
                raise ValueError("a row needs a name with a price, or with the figures of a panel")
        except ValidationError as error:
            first = error.errors(include_url=False, include_context=False, include_input=False)[0]
            where = ".".join(str(part) for part in first["loc"])
            faults.append(_finding(shown, line, f"{where}: {first['msg']}".removeprefix(": ")))
        except ValueError as error:
            faults.append(_finding(shown, line, str(error)))
    if faults:
        raise OwnFileFault(tuple(faults))
    try:
        return OwnFile(ingredients=tuple(ingredients), prices=prices)
    except ValidationError as error:
        raise _fault(shown, 1, error.errors()[0]["msg"]) from None


def _known_heads(heads: Sequence[str], shown: str) -> None:
    known = (*_OWN, *_EU, *_US)
    if "name" not in heads:
        raise _fault(shown, 1, "no column is headed 'name' or 'ingredient'")
    for head in heads:
        if head and head not in known:
            near = nearest(head, (*known, *_NAMES), 1, least=60)
            hint = f"; did you mean '{near[0]}'?" if near else ""
            raise _fault(shown, 1, f"no column can be headed '{head[:40]}'{hint}")
    twice = next((head for head in heads if head and heads.count(head) > 1), None)
    if twice:
        raise _fault(shown, 1, f"two columns are headed '{twice}'")


def _entry(row: Row) -> dict[str, object]:
    american = any(head in _US - _EU for head in row)
    panel, name = (_US, "us_panel") if american else (_EU, "eu_panel")
    mixed = [head for head in row if head in (_EU | _US) - panel and head not in _OWN]
    if mixed:
        raise ValueError(f"'{mixed[0]}' is of the other layout: give the figures of one panel")
    fields = dict(_fields(row, panel))
    return {**fields, name: {head: _number(row[head], head) for head in row if head in panel}}


def _fields(row: Row, panel: frozenset[str]) -> Iterator[tuple[str, object]]:
    for head, cell in row.items():
        if head in panel:
            continue
        if head in _LISTS:
            yield head, tuple(part.strip() for part in cell.split(";") if part.strip() and cell != "none")
        else:
            yield head, cell if head in _WORDS else _number(cell, head)


def _number(cell: str, head: str) -> float:
    if not _NUMBER.fullmatch(cell):
        raise ValueError(f"{head}: '{cell[:20]}' is no number")
    return float(cell.replace(",", "."))


def _key(cell: str) -> str:
    return "_".join(re.findall("[a-z0-9]+", cell.strip().lower()))


def _finding(shown: str, line: int, message: str) -> Finding:
    return Finding(file=shown, line=line, check="own", message=message)


def _fault(shown: str, line: int, message: str) -> OwnFileFault:
    return OwnFileFault((_finding(shown, line, message),))
