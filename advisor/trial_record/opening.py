"""Opening the file of the trial record: whole, ours, of this version, or a clear word why not.

Every change is one transaction of a write-ahead log that reaches the disk before the change counts as made, so that a
kill at any moment leaves the file with all that was told to be kept and nothing half done.
"""

from __future__ import annotations

import os
import re
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import quote

from advisor.trial_record.faults import MEND, RecordFault, damaged, told_plainly
from advisor.trial_record.schema import LATEST, OURS, STEPS

WAIT_S = 10.0
"""How long one program waits for another that is writing."""
_TRIES = 20
_COUNTED_BY = 20_000
LONGEST = 10_000
"""How long one question may take, in twenty thousand steps of the database's own machine: some ten seconds. A large
record answers in a tenth of one."""
_MOST_BYTES = 256_000_000
"""Of one value, and of the texts of a table put together: no record of a kitchen comes near."""
_MOST_FAULTS = 100
_OF_ONE_ROW = re.compile(r"(NULL|[A-Z]+|non-[A-Z]+) value in \w+\.\w+|CHECK constraint failed in \w+")
"""What the database says of a value that cannot be, where the file is whole and only what stands in it is not."""


class _Watched(sqlite3.Connection):
    """A connection on which no single question goes on for ever, and that gives text of any bytes.

    Bytes that are no UTF-8 come as halves of letters ("surrogateescape"), so that one damaged text does not keep the
    others from being read; who reads looks for them.
    """

    def __init__(self, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        self._counted = 0
        self.set_progress_handler(self._one_more, _COUNTED_BY)
        self.text_factory = lambda raw: raw.decode("utf-8", "surrogateescape")
        self.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, _MOST_BYTES)
        super().execute("PRAGMA trusted_schema = OFF")

    def execute(self, sql: str, values: Any = (), /) -> sqlite3.Cursor:
        self._counted = 0
        return super().execute(sql, values)

    def _one_more(self) -> bool:
        self._counted += 1
        return self._counted > LONGEST


@contextmanager
def opened(path: Path, *, to_write: bool) -> Iterator[tuple[sqlite3.Connection, bool]]:
    """Give a connection to a record that was looked through, and whether it holds a value that cannot be.

    A new one is made only to write.

    Raises:
        RecordFault: missing, damaged, another program's file, written by a later version, or a place that is shut.
    """
    with ExitStack() as until_closed:
        # What fails later, in the hands of whoever opened it (a pipe that was closed, say), is no fault of the record.
        with told_plainly(path):
            connection = until_closed.enter_context(closing(_connected(path, to_write)))
            _refuse_what_is_not_ours(connection, path)
            if to_write or not _is_shut(path):
                connection.execute("PRAGMA foreign_keys = ON")
                connection.execute("PRAGMA synchronous = FULL")
                _write_ahead(connection)
            doubted = _refuse_damage(connection, path)
            if _version(connection) < LATEST:
                _brought_up(connection, path)
        yield connection, doubted


@contextmanager
def one_change(connection: sqlite3.Connection) -> Iterator[None]:
    """Make everything in the block one transaction: all of it, or nothing."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
    connection.execute("COMMIT")


def _connected(path: Path, to_write: bool) -> sqlite3.Connection:
    if path.is_dir():
        raise RecordFault(str(path), "this is a folder", "name a file in it with --record FILE")
    if to_write:
        path.parent.mkdir(parents=True, exist_ok=True)
        # What is noted of a kitchen is its owner's alone.
        os.close(os.open(path, os.O_CREAT | os.O_RDWR, 0o600))
    elif not path.exists():
        raise RecordFault(str(path), "there is no trial record", "'advisor record add' begins one")
    if _is_shut(path) and not to_write:
        return _read_only(path)
    return watched(str(path))


def _is_shut(path: Path) -> bool:
    return not os.access(path, os.W_OK) or not os.access(path.parent, os.W_OK)


def _read_only(path: Path) -> sqlite3.Connection:
    """A record on a shut disk has no room for the log of a reader: it is read as it lies."""
    left = path.with_name(path.name + "-wal")
    how = "mode=ro" if left.exists() and left.stat().st_size else "immutable=1"
    return watched(f"file:{quote(str(path.resolve()))}?{how}", uri=True)


def watched(place: str, *, uri: bool = False) -> sqlite3.Connection:
    """Connect to a file of which nothing is known yet."""
    return sqlite3.connect(place, uri=uri, timeout=WAIT_S, isolation_level=None, factory=_Watched)


def _write_ahead(connection: sqlite3.Connection) -> None:
    """Turn on the log. That waits for nobody by itself, so each try after the first waits as a writer does."""
    for attempt in range(_TRIES):
        try:
            connection.execute("PRAGMA journal_mode = WAL")
            return
        except sqlite3.OperationalError as error:
            if error.sqlite_errorname != "SQLITE_BUSY" or attempt == _TRIES - 1:
                raise
            connection.execute("BEGIN IMMEDIATE")
            connection.execute("ROLLBACK")


def _version(connection: sqlite3.Connection) -> int:
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def _refuse_what_is_not_ours(connection: sqlite3.Connection, path: Path) -> None:
    # One transaction, so that it sees one moment of a file that another program may just be making.
    connection.execute("BEGIN")
    ours = connection.execute("PRAGMA application_id").fetchone()[0]
    version = _version(connection)
    tables = connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0]
    foreign = _foreign(connection, version) if ours == OURS and 0 <= version <= LATEST else None
    connection.execute("ROLLBACK")
    if ours != OURS and (ours or version or tables):
        raise RecordFault(
            str(path), "this database is no trial record", "name another file with --record FILE"
        )
    if version > LATEST:
        raise RecordFault(
            str(path),
            f"the trial record was written by a later version of this program (its format is {version})",
            "install that version, or give another with --record FILE",
        )
    if foreign is not None:
        raise RecordFault(str(path), f"the trial record holds what no trial record has ({foreign})", MEND)


def _foreign(connection: sqlite3.Connection, version: int) -> str | None:
    """Name what stands in a file beside the tables and indexes of its version, or otherwise than there.

    A view, a trigger or a column that is worked out could run whatever its writer wished, without end too.
    """
    wanted = _made_by(version)
    there = {}
    for kind, name, sql in connection.execute("SELECT type, name, sql FROM sqlite_schema"):
        # The database's own: the last number given, statistics, and the indexes of keys.
        if not str(name).startswith("sqlite_"):
            there[kind, name] = _plain(sql)
    for kind, name in sorted(there.keys() ^ wanted.keys(), key=str):
        return f"the {kind} '{name}'" if (kind, name) in there else f"no {kind} '{name}'"
    return next(
        (f"another {kind} '{name}'" for kind, name in wanted if there[kind, name] != wanted[kind, name]), None
    )


@cache
def _made_by(version: int) -> dict[tuple[str, str], str]:
    """Give what the steps up to a version make: kind and name, and how it is made."""
    with closing(sqlite3.connect(":memory:")) as empty:
        for step in STEPS[:version]:
            for statement in step:
                empty.execute(statement)
        rows = empty.execute(
            "SELECT type, name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite!_%' ESCAPE '!'"
        )
        return {(kind, name): _plain(sql) for kind, name, sql in rows}


def _plain(sql: object) -> str:
    return " ".join(str(sql).split())


def _refuse_damage(connection: sqlite3.Connection, path: Path) -> bool:
    """Refuse a file that is not whole; tell whether it is, but a value in it cannot be."""
    rows = connection.execute(f"PRAGMA quick_check({_MOST_FAULTS})").fetchall()
    lines = [line for (found,) in rows for line in str(found).splitlines() if not line.startswith("***")]
    if torn := [line for line in lines if line != "ok" and not _OF_ONE_ROW.match(line)]:
        raise damaged(path, torn[0])
    return lines != ["ok"]


def _brought_up(connection: sqlite3.Connection, path: Path) -> None:
    """Bring the record to this version in one transaction, after a copy was put beside it."""
    if connection.execute("PRAGMA query_only").fetchone()[0]:  # pragma: no cover - never set by us
        return
    if was := _version(connection):
        copy_beside(connection, path, f"version-{was}")
    bring_up(connection)


def bring_up(connection: sqlite3.Connection) -> None:
    """Take every step to this version, in one transaction."""
    with one_change(connection):
        # Another program may have done it while this one waited.
        for step in STEPS[_version(connection) :]:
            for statement in step:
                connection.execute(statement)
        connection.execute(f"PRAGMA application_id = {OURS}")
        connection.execute(f"PRAGMA user_version = {LATEST}")


def copy_beside(connection: sqlite3.Connection, path: Path, ending: str) -> Path:
    """Put a whole copy of the record beside it, under its name with `ending`; give the copy's path."""
    place = path.with_name(f"{path.name}.{ending}")
    handle, name = tempfile.mkstemp(prefix=f"{path.name}.", suffix=".half", dir=path.parent)
    os.close(handle)
    try:
        with closing(sqlite3.connect(name)) as copy:
            connection.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")
        Path(name).replace(place)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    return place
