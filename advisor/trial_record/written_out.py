"""The record as YAML or CSV, and either of them back into the same bakes."""

from __future__ import annotations

import csv
import io
import json
import unicodedata
from collections.abc import Iterable
from decimal import Decimal

from advisor.knowledge_base.faults import KnowledgeFault
from advisor.knowledge_base.strict_yaml import Plain, parse_yaml
from advisor.trial_record.bake import Bake
from advisor.trial_record.faults import BakeFault, RecordFault
from advisor.trial_record.plain_form import KEYS, from_plain, to_plain

_NESTED = frozenset({"saw", "not", "lots", "amounts", "steps", "foreseen", "risk"})
_STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r", "'")
"""Spreadsheets run cells that begin so; an apostrophe before it keeps it a text, and is taken off again."""
_HIDDEN = frozenset({"Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp"})
_PLAIN_TEXT = frozenset(KEYS) - _NESTED
_NUMBERS = frozenset({"volume", "crumb", "slice", "taste", "height_cm", "weight_g", "volume_ml", "core_c"})


def to_yaml(bakes: Iterable[Bake]) -> str:
    """Write bakes as a YAML list; every value as JSON writes it, which is YAML too."""
    out = []
    for bake in bakes:
        lines = [f"{key}: {_json(value)}" for key, value in to_plain(bake).items()]
        out.append("- " + "\n  ".join(lines) + "\n")
    return "".join(out) or "[]\n"


def from_yaml(text: str, shown: str) -> tuple[Bake, ...]:
    """Read what `to_yaml` wrote.

    Raises:
        RecordFault: what is wrong, with its line.
    """
    try:
        document = parse_yaml(text, shown)
    except KnowledgeFault as fault:
        first = fault.findings[0]
        raise RecordFault(f"{shown}:{first.line}", first.message, "nothing was taken in") from None
    if not isinstance(document.data, list):
        raise RecordFault(f"{shown}:1", "this is no list of bakes", "give what 'advisor record export' wrote")
    out = []
    for place, one in enumerate(document.data):
        out.append(_read(one, f"{shown}:{document.line_of((place,))}"))
    return tuple(out)


def to_csv(bakes: Iterable[Bake]) -> str:
    """Write bakes as CSV (RFC 4180) with a heading, a row a bake; lists and pairs as JSON in their cell."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(KEYS)
    for bake in bakes:
        plain = to_plain(bake)
        writer.writerow([_cell(key, plain[key]) if key in plain else "" for key in KEYS])
    return stream.getvalue()


def from_csv(text: str, shown: str) -> tuple[Bake, ...]:
    """Read what `to_csv` wrote; columns may stand in any order, and empty cells are left out.

    Raises:
        RecordFault: what is wrong, with its line.
    """
    csv.field_size_limit(10_000_000)
    rows = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True)
    out = []
    try:
        heading = next(rows, [])
        if unknown := sorted(set(heading) - set(KEYS)) or len(set(heading)) != len(heading):
            what = (
                f"no column '{unknown[0]}' is known" if isinstance(unknown, list) else "a column stands twice"
            )
            raise RecordFault(f"{shown}:1", what, f"known are {', '.join(KEYS)}")
        while True:
            line = rows.line_num + 1
            if (row := next(rows, None)) is None:
                break
            if len(row) != len(heading):
                raise RecordFault(
                    f"{shown}:{line}",
                    f"{len(row)} cells under {len(heading)} columns",
                    "nothing was taken in",
                )
            cells = {key: cell for key, cell in zip(heading, row, strict=True) if cell}
            where = f"{shown}:{line}"
            out.append(_read({key: _value(key, cell, where) for key, cell in cells.items()}, where))
    except csv.Error as error:
        raise RecordFault(
            f"{shown}:{rows.line_num}", f"is not CSV: {error}", "nothing was taken in"
        ) from None
    return tuple(out)


def _read(plain: Plain, where: str) -> Bake:
    if not isinstance(plain, dict):
        raise RecordFault(where, "this is no bake", "give what 'advisor record export' wrote")
    try:
        return from_plain(plain)
    except BakeFault as fault:
        raise RecordFault(where, f"{fault.field} {fault.what}", fault.do) from None


def _json(value: Plain) -> str:
    """Write what is JSON and strict YAML alike: no exponents, and no letter bare that YAML would not print."""
    if isinstance(value, list):
        return f"[{', '.join(_json(one) for one in value)}]"
    if isinstance(value, dict):
        return f"{{{', '.join(f'{_json(key)}: {_json(one)}' for key, one in value.items())}}}"
    if isinstance(value, float):
        return format(Decimal(repr(value)), "f") if value != int(value) else f"{value:.1f}"
    if not isinstance(value, str):
        return json.dumps(value)
    return "".join(_letter(letter) for letter in json.dumps(value, ensure_ascii=False))


def _letter(letter: str) -> str:
    hidden = ord(letter) < 0x10000 and unicodedata.category(letter) in _HIDDEN
    return f"\\u{ord(letter):04x}" if hidden else letter


def _cell(key: str, value: Plain) -> str:
    if key in _NESTED or not isinstance(value, str):
        return _json(value)
    return "'" + value if value.startswith(_STARTS_A_FORMULA) else value


def _value(key: str, cell: str, where: str) -> Plain:
    if key in _PLAIN_TEXT - _NUMBERS:
        return cell[1:] if cell.startswith("'") else cell
    try:
        value: Plain = json.loads(cell)
    except (ValueError, RecursionError):
        raise RecordFault(
            where, f"the cell under {key} cannot be read", "give what was written there"
        ) from None
    return value
