"""Opening the file of the trial record: whole, ours, of this version, or a clear word why not.

Every change is one transaction of a write-ahead log that reaches the disk before the change counts as made, so that a
kill at any moment leaves the file with all that was told to be kept and nothing half done.
"""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from pathlib import Path
from urllib.parse import quote

from advisor.trial_record.faults import RecordFault, damaged, told_plainly
from advisor.trial_record.schema import LATEST, OURS, STEPS

WAIT_S = 10.0
"""How long one program waits for another that is writing."""
_TRIES = 20


@contextmanager
def opened(path: Path, *, to_write: bool) -> Iterator[sqlite3.Connection]:
    """Give a connection to a record that was looked through; a new one is made only to write.

    Raises:
        RecordFault: missing, damaged, another program's file, written by a later version, or a place that is shut.
    """
    with ExitStack() as until_closed:
        # What fails later, in the hands of whoever opened it (a pipe that was closed, say), is no fault of the record.
        with told_plainly(path):
            connection = until_closed.enter_context(closing(_connected(path, to_write)))
            if to_write or not _is_shut(path):
                connection.execute("PRAGMA foreign_keys = ON")
                connection.execute("PRAGMA synchronous = FULL")
                _write_ahead(connection)
            _refuse_what_is_not_ours(connection, path)
            _refuse_damage(connection, path)
            if _version(connection) < LATEST:
                _brought_up(connection, path)
        yield connection


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
    return sqlite3.connect(path, timeout=WAIT_S, isolation_level=None)


def _is_shut(path: Path) -> bool:
    return not os.access(path, os.W_OK) or not os.access(path.parent, os.W_OK)


def _read_only(path: Path) -> sqlite3.Connection:
    """A record on a shut disk has no room for the log of a reader: it is read as it lies."""
    left = path.with_name(path.name + "-wal")
    how = "mode=ro" if left.exists() and left.stat().st_size else "immutable=1"
    return sqlite3.connect(
        f"file:{quote(str(path.resolve()))}?{how}", uri=True, timeout=WAIT_S, isolation_level=None
    )


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
    # One statement, so that it sees one moment of a file that another program may just be making.
    ours, version, tables = connection.execute(
        "SELECT (SELECT application_id FROM pragma_application_id), (SELECT user_version FROM pragma_user_version),"
        " (SELECT count(*) FROM sqlite_schema)"
    ).fetchone()
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


def _refuse_damage(connection: sqlite3.Connection, path: Path) -> None:
    found = str(connection.execute("PRAGMA quick_check(1)").fetchone()[0])
    if found != "ok":
        raise damaged(path, found.splitlines()[0])


def _brought_up(connection: sqlite3.Connection, path: Path) -> None:
    """Bring the record to this version in one transaction, after a copy was put beside it."""
    if connection.execute("PRAGMA query_only").fetchone()[0]:  # pragma: no cover - never set by us
        return
    if was := _version(connection):
        copy_beside(connection, path, f"version-{was}")
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
