"""Bakes into rows and rows into bakes."""

from __future__ import annotations

import hashlib
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any, TypeAlias

from advisor.trial_record.bake import MEASURED, SCORES, Amount, Bake, CameOut, Foreseen, Scores

_FORESEEN = (
    "cause", "cause_probability", "efficacy", "single", "core_c", "height_cm", "volume_ml", "oven_offset_c",
    "powder_strength",
)  # fmt: skip
_KEPT = (*SCORES, *MEASURED, "photo", "notes")
_COLUMNS = ", ".join(
    ("bake.id", "bake.key", "bake.version", "version.name", "version.text", "bake.baked_on", "bake.followed",
     "earlier.key", *(f"bake.{name}" for name in _KEPT))
)  # fmt: skip
FROM = (
    "FROM bake JOIN version ON version.id = bake.version LEFT JOIN bake earlier ON earlier.id = bake.follows"
)
_AT_ONCE = 500
_DIGEST_LETTERS = 64
"""A digest of another length tells nothing: such a row was not written by this program."""
TEXTS = {
    "version": ("digest", "name", "text"),
    "amount": ("ingredient", "name"),
    "step": ("line", "value"),
    "bake": ("key", "baked_on", "photo", "notes", "followed"),
    "symptom": ("symptom",),
    "lot": ("ingredient", "lot"),
    "foreseen": ("cause",),
    "foreseen_risk": ("symptom",),
}
"""The tables, with those of their columns that hold text."""
Rows: TypeAlias = Iterable[Sequence[Any]]
"""What stands in a damaged file may be of any kind; `fault_in` tells whether it is of the right one."""
Asking: TypeAlias = Callable[[sqlite3.Connection, str, str, Sequence[object], str], Rows]
"""Reads columns of a table for some bakes or formulas, in an order."""


def insert(connection: sqlite3.Connection, bake: Bake, number: int | None = None) -> int:
    """Write a bake's rows inside a transaction, under a number or the next one; give its number.

    Raises:
        KeyError: the bake that it follows is not in the record.
    """
    follows = None
    if bake.follows is not None:
        row = connection.execute("SELECT id FROM bake WHERE key = ?", (bake.follows,)).fetchone()
        if row is None:
            raise KeyError(bake.follows)
        follows = row[0]
    values = [getattr(bake.scores, name) for name in SCORES]
    values += [getattr(bake.came_out, name) for name in MEASURED]
    number = connection.execute(
        f"INSERT INTO bake (id, key, version, baked_on, followed, follows, {', '.join(_KEPT)})"
        f" VALUES ({', '.join('?' * (6 + len(_KEPT)))})",
        (
            number,
            bake.key,
            _version(connection, bake),
            bake.baked_on,
            bake.followed,
            follows,
            *values,
            bake.photo,
            bake.notes,
        ),
    ).lastrowid
    assert number is not None
    told = [(number, s, 1) for s in bake.seen] + [(number, s, 0) for s in bake.absent]
    connection.executemany("INSERT INTO symptom VALUES (?, ?, ?)", told)
    connection.executemany(
        "INSERT INTO lot VALUES (?, ?, ?)", [(number, *item) for item in bake.lots.items()]
    )
    if (foreseen := bake.foreseen) is not None:
        row = tuple(getattr(foreseen, name) for name in _FORESEEN)
        connection.execute(f"INSERT INTO foreseen VALUES (?{', ?' * len(_FORESEEN)})", (number, *row))
        risks = [(number, symptom, *pair) for symptom, pair in foreseen.risk.items()]
        connection.executemany("INSERT INTO foreseen_risk VALUES (?, ?, ?, ?)", risks)
    return number


def _version(connection: sqlite3.Connection, bake: Bake) -> int:
    """Give the formula's row; the same formula baked again is kept once."""
    amounts = [(a.ingredient, a.name, float(a.grams)) for a in bake.amounts]
    digest = _digest(bake.formula, bake.formula_text, amounts, bake.steps)
    row = connection.execute("SELECT id FROM version WHERE digest = ?", (digest,)).fetchone()
    if row is not None:
        return int(row[0])
    number = connection.execute(
        "INSERT INTO version (digest, name, text) VALUES (?, ?, ?)", (digest, bake.formula, bake.formula_text)
    ).lastrowid
    assert number is not None
    connection.executemany(
        "INSERT INTO amount VALUES (?, ?, ?, ?, ?)", [(number, place, *a) for place, a in enumerate(amounts)]
    )
    connection.executemany(
        "INSERT INTO step VALUES (?, ?, ?, ?)",
        [(number, n, *item) for n, item in enumerate(bake.steps.items())],
    )
    return number


def _digest(name: object, text: object, amounts: object, steps: Mapping[str, str]) -> str:
    whole = repr((name, text, amounts, list(steps.items())))
    return hashlib.sha256(whole.encode(errors="surrogatepass")).hexdigest()


def changed_formulas(connection: sqlite3.Connection) -> frozenset[object]:
    """Give the formulas whose name, text, amounts or process are no longer those of which the digest was kept."""
    rows = connection.execute("SELECT id, name, text, digest FROM version").fetchall()
    out = set[object]()
    for some in _in_parts(rows):
        amounts, steps = _formulas(connection, [row[0] for row in some], rows_of)
        for number, name, text, kept in some:
            plain = [(a.ingredient, a.name, a.grams) for a in amounts[number]]
            foreign = str(kept).isalnum() and len(str(kept)) != _DIGEST_LETTERS
            if not foreign and _digest(name, text, plain, steps[number]) != kept:
                out.add(number)
    return frozenset(out)


def _in_parts(rows: Sequence[Sequence[Any]]) -> Iterator[Sequence[Sequence[Any]]]:
    for start in range(0, len(rows), _AT_ONCE):
        yield rows[start : start + _AT_ONCE]


def select(
    connection: sqlite3.Connection, rest: str, values: Sequence[object] = (), of: Asking | None = None
) -> tuple[Bake, ...]:
    """Read bakes; `rest` is what follows the tables: where, order and limit; `of` reads their parts."""
    rows = connection.execute(f"SELECT {_COLUMNS} {FROM} {rest}", tuple(values)).fetchall()
    return tuple(bake for some in _in_parts(rows) for bake in _with_parts(connection, some, of or rows_of))


def _formulas(
    connection: sqlite3.Connection, versions: Sequence[object], of: Asking
) -> tuple[Mapping[object, Sequence[Amount]], Mapping[object, dict[str, str]]]:
    amounts, steps = defaultdict[object, list[Amount]](list), defaultdict[object, dict[str, str]](dict)
    for version, ingredient, name, grams in of(
        connection, "version, ingredient, name, grams", "amount", versions, "version, place"
    ):
        amounts[version].append(Amount(ingredient=ingredient, name=name, grams=grams))
    for version, line, value in of(connection, "version, line, value", "step", versions, "version, place"):
        steps[version][line] = value
    return amounts, steps


def _with_parts(connection: sqlite3.Connection, rows: Sequence[Sequence[Any]], of: Asking) -> Iterable[Bake]:
    bakes = [row[0] for row in rows]
    amounts, steps = _formulas(connection, list({row[2] for row in rows}), of)
    symptoms = defaultdict[object, tuple[list[str], list[str]]](lambda: ([], []))
    for bake, symptom, seen in of(connection, "bake, symptom, seen", "symptom", bakes, "bake, symptom"):
        symptoms[bake][0 if seen else 1].append(symptom)
    lots = defaultdict[object, dict[str, str]](dict)
    for bake, ingredient, lot in of(connection, "bake, ingredient, lot", "lot", bakes, "bake, ingredient"):
        lots[bake][ingredient] = lot
    foreseen = _foreseen(connection, bakes, of)
    for row in rows:
        number, key, version, name, text, baked_on, followed, follows, *kept = row
        plain = dict(zip(_KEPT, kept, strict=True))
        yield Bake(
            formula=name,
            formula_text=text,
            baked_on=baked_on,
            amounts=tuple(amounts[version]),
            steps=dict(steps[version]),
            seen=tuple(symptoms[number][0]),
            absent=tuple(symptoms[number][1]),
            scores=Scores(**{n: plain[n] for n in SCORES}),
            came_out=CameOut(**{n: plain[n] for n in MEASURED}),
            photo=plain["photo"],
            lots=lots[number],
            notes=plain["notes"],
            followed=followed,
            follows=follows,
            foreseen=foreseen.get(number),
            key=key,
            number=number,
        )


def _foreseen(connection: sqlite3.Connection, bakes: Sequence[object], of: Asking) -> dict[object, Foreseen]:
    risks = defaultdict[object, dict[str, tuple[float | None, float]]](dict)
    found = of(connection, "bake, symptom, before, after", "foreseen_risk", bakes, "bake, symptom")
    for bake, symptom, before, after in found:
        risks[bake][symptom] = (before, after)
    out: dict[object, Foreseen] = {}
    for bake, *values in of(connection, f"bake, {', '.join(_FORESEEN)}", "foreseen", bakes, "bake"):
        plain = dict(zip(_FORESEEN, values, strict=True)) | {"single": bool(values[3])}
        out[bake] = Foreseen(risk=risks[bake], **plain)
    return out


def rows_of(
    connection: sqlite3.Connection, columns: str, table: str, ids: Sequence[object], order: str
) -> sqlite3.Cursor:
    """Read columns of a table for some bakes, or of one for some formulas."""
    owner = "version" if table in ("amount", "step") else "bake"
    marks = ", ".join("?" * len(ids))
    return connection.execute(
        f"SELECT {columns} FROM {table} WHERE {owner} IN ({marks}) ORDER BY {order}", tuple(ids)
    )
