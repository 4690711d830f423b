"""What can go wrong with the trial record, in sentences: what, where, and what to do."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from advisor.knowledge_base.escaping import shown

_MOST_WHERE, _MOST_WHAT = 400, 240
"""Letters of a path and of a reason in a message; a reason may hold what stands in a damaged file."""
_DAMAGED = frozenset({"SQLITE_CORRUPT", "SQLITE_NOTADB", "SQLITE_TOOBIG"})
_BUSY = frozenset({"SQLITE_BUSY", "SQLITE_LOCKED", "SQLITE_PROTOCOL"})
_SHUT = frozenset({"SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM", "SQLITE_AUTH"})
_FULL = frozenset({"SQLITE_FULL", "SQLITE_IOERR", "SQLITE_NOMEM"})


class RecordFault(Exception):
    """Raised when the trial record cannot do what was asked; nothing was changed, the message is complete."""

    def __init__(self, where: str, what: str, do: str) -> None:
        self.where = shown(where, _MOST_WHERE)
        self.what = shown(what, _MOST_WHAT)
        self.do = shown(do, _MOST_WHAT)
        super().__init__(self.where, self.what, self.do)

    def __str__(self) -> str:
        """Give one line: ``WHERE: what; what to do``."""
        return f"{self.where}: {self.what}; {self.do}"


class BakeFault(Exception):
    """Raised when a bake holds what cannot be; `field` is the part of it that is wrong."""

    def __init__(self, field: str, what: str, do: str) -> None:
        self.field = shown(field, _MOST_WHAT)
        self.what = shown(what, _MOST_WHAT)
        self.do = shown(do, _MOST_WHAT)
        super().__init__(self.field, self.what, self.do)

    def __str__(self) -> str:
        """Give one line: ``field: what; what to do``."""
        return f"{self.field}: {self.what}; {self.do}"


MEND = "'advisor record mend NEW' writes what can be read of it into a new file"


def damaged(path: Path, reason: str) -> RecordFault:
    """Say that a file is damaged, and what is left to do."""
    return RecordFault(
        str(path),
        f"the trial record is damaged ({reason})",
        MEND,
    )


def fault_of(path: Path, error: sqlite3.Error) -> RecordFault:
    """Put an error of the database into a sentence that a baker can act on."""
    full_name = getattr(error, "sqlite_errorname", None) or ""
    name = "_".join(full_name.split("_")[:2])
    if name == "SQLITE_INTERRUPT":
        return damaged(path, "a question to it found no end")
    if name in _DAMAGED:
        return damaged(path, str(error))
    if name in _BUSY:
        return RecordFault(
            str(path), "another program is writing to the trial record", "run this again when it is done"
        )
    if name in _SHUT:
        return RecordFault(
            str(path),
            "the trial record cannot be written here (file or folder is shut or read-only)",
            "give another with --record FILE",
        )
    if name in _FULL:
        return RecordFault(
            str(path),
            f"the disk took no more ({error}); nothing was changed, earlier bakes are kept",
            "make room and run this again",
        )
    return RecordFault(
        str(path), f"the trial record cannot be used ({error})", "give another with --record FILE"
    )


@contextmanager
def told_plainly(path: Path) -> Iterator[None]:
    """Let no error of the database or the disk through but as a `RecordFault`.

    Raises:
        RecordFault: whatever goes wrong in the block.
    """
    try:
        yield
    except sqlite3.IntegrityError as error:
        raise RecordFault(
            str(path), f"the trial record does not take this ({error})", "give whole, known values"
        ) from error
    except UnicodeDecodeError as error:  # of the database's own message, which names what stands in the file
        raise damaged(path, "the names of its tables are no text") from error
    except UnicodeEncodeError as error:
        raise RecordFault(
            str(path), "what was given holds half a letter, which no bake can hold", "give it as plain text"
        ) from error
    except sqlite3.Error as error:
        raise fault_of(path, error) from error
    except OSError as error:
        reason = (error.strerror or type(error).__name__).lower()
        raise RecordFault(
            str(path), f"the trial record cannot be opened ({reason})", "give another with --record FILE"
        ) from error
