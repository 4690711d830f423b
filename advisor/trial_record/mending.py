"""A damaged record written anew: every bake of which something can be read, under its number, and what was lost."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import closing, suppress
from dataclasses import dataclass, replace
from math import isfinite
from pathlib import Path
from typing import Any

from advisor.trial_record.bake import LONGEST, Bake, is_plain, sound
from advisor.trial_record.damage import DamagedBake
from advisor.trial_record.faults import BakeFault, RecordFault, told_plainly
from advisor.trial_record.opening import bring_up, one_change, opened, watched
from advisor.trial_record.plain_form import KEYS, from_plain, to_plain
from advisor.trial_record.rows import TEXTS, Rows, changed_formulas, insert, rows_of, select
from advisor.trial_record.schema import LATEST

_UNREAD = "\ufffd"
"""Stands where a letter could not be read."""
_AT_LEAST = {"date": "1970-01-01", "formula": "name not readable", "text": "text not readable"}
"""What no bake can be without."""
_KEY_OF = {"formula_text": "text", "symptoms": "not"}
_MOST_NUMBERS = 100_000
"""Numbers of bakes that are looked for one by one, where the tables do not tell which there are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended:
    """How many bakes the new file holds, which of them lack something, and which are lost."""

    kept: int
    lacking: tuple[DamagedBake, ...]
    lost: tuple[DamagedBake, ...]


def mend(path: Path, new: Path) -> Mended:
    """Write what can be read of a record into a new file; the record itself stays as it is.

    Raises:
        RecordFault: there is no record, the new file stands already or cannot be written, or nothing can be read.
    """
    if not path.is_file():
        raise RecordFault(str(path), "there is no trial record", "'advisor record add' begins one")
    if new.exists():
        raise RecordFault(str(new), "this file stands already", "name a new one")
    with tempfile.TemporaryDirectory() as folder, told_plainly(path):
        # A copy is read, since even looking into a file may write what its log holds into it.
        copy = Path(folder) / "copy"
        shutil.copyfile(path, copy)
        with suppress(FileNotFoundError):
            shutil.copyfile(f"{path}-wal", f"{copy}-wal")
        with closing(watched(str(copy))) as old:
            _refuse_what_is_no_table(old, path)
            salvage = _Salvage(old)
            bakes = list(salvage.bakes())
    if not bakes:
        raise RecordFault(
            str(path), "nothing of the trial record can be read", "take a copy or the last export"
        )
    try:
        with opened(new, to_write=True) as (fresh, _), told_plainly(new), one_change(fresh):
            kept = sum(salvage.write(fresh, bake) for bake in bakes)
    except BaseException:
        new.unlink(missing_ok=True)
        raise
    return Mended(kept=kept, lacking=tuple(salvage.lacking), lost=tuple(salvage.lost))


def _refuse_what_is_no_table(old: sqlite3.Connection, path: Path) -> None:
    """Bring the copy to this version; a view, or a column that is worked out, could run what its writer wished."""
    if 0 < old.execute("PRAGMA user_version").fetchone()[0] < LATEST:
        bring_up(old)
    kinds = dict(old.execute("SELECT name, type || (sql LIKE 'CREATE VIRTUAL%') FROM sqlite_schema"))
    for name in TEXTS:
        hidden = old.execute("SELECT max(hidden) FROM pragma_table_xinfo(?)", (name,)).fetchone()
        if kinds.get(name) != "table0" or hidden != (0,):
            raise RecordFault(
                str(path), f"there is no table '{name}' to read", "take a copy or the last export"
            )


class _Salvage:
    """Reads bake after bake, part after part, and notes what could not be read."""

    def __init__(self, old: sqlite3.Connection) -> None:
        self.old = old
        self.lacking: list[DamagedBake] = []
        self.lost: list[DamagedBake] = []
        self._taken_back = set[int]()
        self._keys = set[str]()

    def _rows(self, sql: str, values: Sequence[object] = ()) -> Iterator[Any]:
        """Read rows as far as they can be read; the library looks one row ahead, so the last one may be missing."""
        with suppress(sqlite3.DatabaseError):
            yield from self.old.execute(sql, tuple(values))

    def bakes(self) -> Iterator[Bake]:
        """Give every bake of which something can be read."""
        try:
            changed = changed_formulas(self.old)
        except sqlite3.DatabaseError:
            changed = frozenset()  # which formulas are whole is told by their parts then
        for number in self._numbers():
            lacks: list[str] = []
            row = next(self._rows("SELECT version, taken_back FROM bake WHERE id = ?", (number,)), None)
            try:
                read = select(self.old, "WHERE bake.id = ?", (number,), self._asking(lacks))
            except sqlite3.DatabaseError:
                read = ()
            bake = _tidied(read[0], lacks) if read else None
            if row is not None and row[0] in changed:
                lacks.append("formula as it was kept")
            if row is not None and row[1] == 1:
                self._taken_back.add(number)
            if bake is not None:
                yield bake
                if lacks:
                    self._note(self.lacking, number, f"without its {', '.join(dict.fromkeys(lacks))}")
            else:
                self._note(self.lost, number, "cannot be read")

    def _numbers(self) -> Sequence[int]:
        """Give the numbers of the bakes; where their table is torn, all up to the last that was given."""
        with suppress(sqlite3.DatabaseError):
            return [
                row[0] for row in self.old.execute("SELECT id FROM bake NOT INDEXED ORDER BY id").fetchall()
            ]
        found = {row[0] for row in self._rows("SELECT id FROM bake INDEXED BY bake_by_day")}
        last = next(self._rows("SELECT seq FROM sqlite_sequence WHERE name = 'bake'"), (0,))[0]
        if isinstance(last, int) and last <= _MOST_NUMBERS:
            found |= set(range(1, last + 1))
        return sorted(n for n in found if isinstance(n, int) and n > 0)

    def _asking(self, lacks: list[str]) -> Any:
        def asked(
            old: sqlite3.Connection, columns: str, table: str, ids: Sequence[object], order: str
        ) -> Rows:
            try:
                yield from rows_of(old, columns, table, ids, order)
            except sqlite3.DatabaseError:
                lacks.append(f"{table.replace('_', ' ')}s")

        return asked

    def _note(self, where: list[DamagedBake], number: int, what: str) -> None:
        where.append(DamagedBake(number=number, what=what))

    def write(self, fresh: sqlite3.Connection, bake: Bake) -> bool:
        """Write one bake under its number, without what the tables refuse; tell whether it is kept."""
        if bake.follows is not None and bake.follows not in self._keys:
            self._note(self.lacking, bake.number, "without what it follows")
            bake = replace(bake, follows=None)
        fresh.execute("SAVEPOINT one")
        try:
            insert(fresh, bake, bake.number)
        except (sqlite3.IntegrityError, sqlite3.DataError):
            fresh.execute("ROLLBACK TO one")
            self._note(self.lost, bake.number, "holds what no bake can hold")
            return False
        taken = bake.number in self._taken_back
        fresh.execute("UPDATE bake SET taken_back = ? WHERE id = ?", (int(taken), bake.number))
        self._keys.add(bake.key)
        return True


def _tidied(bake: Bake, lacks: list[str]) -> Bake | None:
    """Give a bake without what cannot be; `None` where nothing is left of it."""
    read = to_plain(bake)
    plain = {key: _cleaned(value) for key, value in read.items()}
    if "amounts" in plain:
        plain["amounts"] = [one for one in plain["amounts"] if _is_amount(one)]
    lacks += (key for key, value in plain.items() if value != read[key])
    for _ in KEYS:
        try:
            return replace(sound(from_plain(plain)), number=bake.number)
        except BakeFault as fault:
            key = _KEY_OF.get(fault.field, fault.field)
            holders = [
                k
                for k in ("steps", "lots", "not")
                if isinstance(plain.get(k), dict | list) and key in plain[k]
            ]
            key = holders[0] if key not in KEYS and holders else key
            if key == "key":
                plain["key"] = bake.keyed(bake.number).key
            elif key in _AT_LEAST:
                plain[key] = _AT_LEAST[key]
            elif plain.pop(key, None) is None:
                return None
            lacks.append(key)
    return None


def _cleaned(value: Any) -> Any:
    if isinstance(value, bytes):
        value = value.decode("utf-8", "replace")
    if isinstance(value, str):
        return value if is_plain(value) else "".join(map(_letter, value[:LONGEST]))
    if isinstance(value, list):
        return [_cleaned(one) for one in value]
    if isinstance(value, dict):
        return {_cleaned(key): _cleaned(one) for key, one in value.items()}
    return value


def _letter(letter: str) -> str:
    return _UNREAD if letter == "\0" or "\ud800" <= letter <= "\udfff" else letter


def _is_amount(one: Any) -> bool:
    name, grams = one[:2], one[2]
    return (
        all(isinstance(n, str) for n in name) and isinstance(grams, float) and isfinite(grams) and grams > 0
    )
