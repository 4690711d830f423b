"""The trial record: bakes put in, looked up, taken back. Each change is whole or not made at all."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from advisor.trial_record.bake import SCORES, Bake, is_plain, sound
from advisor.trial_record.damage import DamagedBake, damage_fault, damaged_bakes
from advisor.trial_record.faults import RecordFault, told_plainly
from advisor.trial_record.opening import one_change, opened
from advisor.trial_record.rows import FROM, insert, select

_GIVEN = " + ".join(f"(bake.{name} IS NOT NULL)" for name in SCORES)
_MEAN = f"({' + '.join(f'coalesce(bake.{name}, 0)' for name in SCORES)}) * 1.0 / ({_GIVEN})"
_TEACHING = 200
"""Bakes that teach: a kitchen of years ago had another oven and other powder."""
_LATEST_FIRST = "ORDER BY bake.baked_on DESC, bake.id DESC"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What to look for: every word somewhere in a bake, every symptom seen, and days from and to (inclusive)."""

    words: tuple[str, ...] = ()
    saw: tuple[str, ...] = ()
    followed: str | None = None
    since: str | None = None
    until: str | None = None


class TrialRecord:
    """An open record; made by `open_record`."""

    def __init__(
        self, connection: sqlite3.Connection, path: Path, damaged: tuple[DamagedBake, ...] = ()
    ) -> None:
        self._connection = connection
        self.path = path
        self.damaged = damaged
        """Bakes that hold what cannot be; nothing that is read here holds them."""
        left_out = ", ".join(str(one.number) for one in damaged)
        self._here = "WHERE bake.taken_back = 0" + (f" AND bake.id NOT IN ({left_out})" if damaged else "")

    @property
    def damage(self) -> RecordFault | None:
        """What there is to say of damaged bakes, in one line; `None` where all are whole."""
        return damage_fault(self.path, self.damaged) if self.damaged else None

    def add(self, bake: Bake) -> Bake:
        """Keep one bake; give it with its key and number once it is on the disk.

        Raises:
            BakeFault: it holds what cannot be.
            RecordFault: it cannot be written.
        """
        clean = sound(bake)
        with told_plainly(self.path), one_change(self._connection):
            again, keyed = 0, clean.keyed()
            while self._with_key(keyed.key) is not None:
                again += 1
                keyed = clean.keyed(again)
            number = self._inserted(keyed)
        return replace(keyed, number=number)

    def add_all(self, bakes: Iterable[Bake]) -> tuple[int, int]:
        """Keep bakes that have keys, all or none; give how many were new, and how many were there already.

        Raises:
            BakeFault: one holds what cannot be.
            RecordFault: one has the key of another, or they cannot be written.
        """
        new = known = 0
        with told_plainly(self.path), one_change(self._connection):
            for bake in bakes:
                clean = sound(bake)
                there = self._with_key(clean.key)
                if there is not None and clean.follows is None:
                    # An export leaves out what a bake follows where that was taken back.
                    clean = replace(clean, follows=there.follows)
                if there is None:
                    self._inserted(clean)
                    new += 1
                elif there.same_as(replace(clean, notes=there.notes)):  # notes are edited; a bake is not
                    known += 1
                else:
                    raise RecordFault(
                        str(self.path),
                        f"the bake {clean.key} is here already and differs",
                        "nothing was taken in",
                    )
        return new, known

    def _inserted(self, bake: Bake) -> int:
        try:
            return insert(self._connection, bake)
        except KeyError as error:
            raise RecordFault(
                str(self.path),
                f"the bake {error.args[0]}, which another one follows, is not here",
                "add it first",
            ) from None

    def _with_key(self, key: str) -> Bake | None:
        return next(iter(select(self._connection, "WHERE bake.key = ?", (key,))), None)

    def take_back(self, number: int | None = None, *, back: bool = True) -> Bake | None:
        """Take a bake out of all that is shown and learnt (the one put in last, without a number).

        It stays in the file; `back=False` puts it in again. `None` where there is no such bake.

        Raises:
            RecordFault: it cannot be written.
        """
        with told_plainly(self.path), one_change(self._connection):
            which = "AND bake.id = ?" if number is not None else "ORDER BY bake.id DESC LIMIT 1"
            found = select(
                self._connection,
                f"WHERE bake.taken_back = {0 if back else 1} {which}",
                () if number is None else (_as_bound(number),),
            )
            for bake in found:
                self._connection.execute(
                    "UPDATE bake SET taken_back = ? WHERE id = ?", (int(back), bake.number)
                )
        return found[0] if found else None

    def note(self, number: int, notes: str) -> Bake | None:
        """Put other notes to a bake; all else of it stays. `None` where there is no such bake.

        Raises:
            BakeFault: notes that cannot be kept.
            RecordFault: it cannot be written.
        """
        if (found := self.bake(number)) is None:
            return None
        clean = sound(replace(found, notes=notes))
        with told_plainly(self.path), one_change(self._connection):
            self._connection.execute("UPDATE bake SET notes = ? WHERE id = ?", (clean.notes, found.number))
        return clean

    def bake(self, number: int) -> Bake | None:
        """Give the bake with a number."""
        return next(iter(self._select("AND bake.id = ?", (_as_bound(number),))), None)

    def with_key(self, key: str) -> Bake | None:
        """Give the bake with a key."""
        return next(iter(self._select("AND bake.key = ?", (key,))), None)

    def latest(self, at_most: int, *, formula: str | None = None) -> tuple[Bake, ...]:
        """Give the bakes of the last days, of all formulas or one, latest first."""
        named = "" if formula is None else "AND version.name = ?"
        values: tuple[object, ...] = (at_most,) if formula is None else (formula, at_most)
        return self._select(f"{named} {_LATEST_FIRST} LIMIT ?", values)

    def best(self, formula: str) -> Bake | None:
        """Give the bake of a formula with the highest mean mark, the later one where two are alike."""
        order = f"ORDER BY round({_MEAN}, 9) DESC, bake.baked_on DESC, bake.id DESC LIMIT 1"
        return next(iter(self._select(f"AND version.name = ? AND {_GIVEN} > 0 {order}", (formula,))), None)

    def count(self, formula: str | None = None) -> int:
        """Count the bakes of all formulas, or of one."""
        named = "" if formula is None else "AND version.name = ?"
        values = () if formula is None else (formula,)
        with told_plainly(self.path):
            found = self._connection.execute(
                f"SELECT count(*) {FROM} {self._here} {named}", values
            ).fetchone()
        return int(found[0])

    def formulas(self) -> tuple[tuple[str, int], ...]:
        """Give the names of the formulas baked, each with its number of bakes, most first."""
        with told_plainly(self.path):
            rows = self._connection.execute(
                f"SELECT version.name, count(*) {FROM} {self._here} GROUP BY version.name ORDER BY 2 DESC, 1"
            ).fetchall()
        return tuple((str(name), int(count)) for name, count in rows)

    def find(self, wanted: Wanted, at_most: int) -> tuple[Bake, ...]:
        """Give the bakes that hold all that is wanted, latest first."""
        parts: list[str] = []
        values: list[object] = []
        for word in wanted.words:
            like = "%" + word.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_") + "%"
            plain = "%" + like[1:-1].replace(" ", "\\_").replace("-", "\\_") + "%"
            parts.append(
                "(version.name LIKE ? ESCAPE '\\' OR bake.notes LIKE ? ESCAPE '\\' OR bake.baked_on LIKE ? ESCAPE '\\'"
                " OR bake.followed LIKE ? ESCAPE '\\'"
                " OR bake.version IN (SELECT version FROM amount WHERE name LIKE ? ESCAPE '\\')"
                " OR bake.id IN (SELECT bake FROM symptom WHERE seen = 1 AND symptom LIKE ? ESCAPE '\\')"
                " OR bake.id IN (SELECT bake FROM lot WHERE lot LIKE ? ESCAPE '\\'))"
            )
            values += [like, like, like, like, like, plain, like]
        for symptom in wanted.saw:
            parts.append("bake.id IN (SELECT bake FROM symptom WHERE seen = 1 AND symptom = ?)")
            values.append(symptom)
        for column, sign, value in (("followed", "=", wanted.followed), ("baked_on", ">=", wanted.since)):
            if value is not None:
                parts.append(f"bake.{column} {sign} ?")
                values.append(value)
        if wanted.until is not None:
            # A day holds its hours: T follows every digit of a day.
            parts.append("bake.baked_on < ? || 'U'")
            values.append(wanted.until)
        where = "".join(f" AND {part}" for part in parts)
        return self._select(f"{where} {_LATEST_FIRST} LIMIT ?", (*values, at_most))

    def everything(self) -> tuple[Bake, ...]:
        """Give all bakes that were not taken back, in the order in which they were put in.

        What a bake follows is left out where that was taken back.
        """
        bakes = self._select("ORDER BY bake.id")
        keys = {bake.key for bake in bakes}
        return tuple(b if b.follows in keys else replace(b, follows=None) for b in bakes)

    def teaching(self) -> tuple[tuple[Bake, Bake | None], ...]:
        """Give the latest bakes that something can be learnt from, oldest first, each with the one that it follows."""
        bakes = self._select(
            "AND (bake.followed IS NOT NULL OR bake.id IN (SELECT bake FROM foreseen WHERE oven_offset_c IS NOT NULL"
            f" OR powder_strength IS NOT NULL)) {_LATEST_FIRST} LIMIT ?",
            (_TEACHING,),
        )
        keys = [bake.follows for bake in bakes if bake.follows is not None]
        earlier = {b.key: b for b in self._select(f"AND bake.key IN ({', '.join('?' * len(keys))})", keys)}
        return tuple((bake, earlier.get(bake.follows or "")) for bake in reversed(bakes))

    def _select(self, rest: str, values: Sequence[object] = ()) -> tuple[Bake, ...]:
        with told_plainly(self.path):
            found = select(self._connection, f"{self._here} {rest}", values)
        if not self.damaged:
            return found
        return tuple(b if is_plain(b.follows or "") else replace(b, follows=None) for b in found)


def _as_bound(number: int) -> str:
    """Give a number as text: the database compares it as a number, also where it is too long for one of its own."""
    return str(number)


@contextmanager
def open_record(path: Path, *, to_write: bool) -> Iterator[TrialRecord]:
    """Open the record in a file, and make it where there is none and it is to be written.

    One in which single bakes are damaged is read without them (`TrialRecord.damaged`), and not written.

    Raises:
        RecordFault: missing, damaged, not ours, of a later version, or a place that is shut.
    """
    with opened(path, to_write=to_write) as (connection, doubted):
        with told_plainly(path):
            damaged = damaged_bakes(connection, doubted=doubted)
        if damaged and to_write:
            raise damage_fault(path, damaged)
        yield TrialRecord(connection, path, damaged)
