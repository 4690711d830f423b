"""A file of answers that a batch adds to line by line, and from which a later one goes on."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.own_folder import looked_through
from advisor.knowledge_base.places import find_places, own_ingredients_path
from advisor.remedy.constraints import LIMITS
from advisor.rendering.checked import AskedOfMany, Checked, exit_of
from advisor.rendering.documents.batch import BatchDocument
from advisor.rendering.documents.shape import SCHEMA
from advisor.rendering.documents.writing import plain
from advisor.version import __version__

_OPENING = f'{{"schema": {SCHEMA}, "kind": "batch"'.encode()
_LONGEST = 16_000_000


def line_of(checked: Checked, content: str, asked_for: str) -> str:
    """Write one answer as a line of JSON, the kind `batch`, in ASCII, so that any name and stream can hold it."""
    told = plain(
        BatchDocument(
            source=checked.source,
            content=content,
            asked=asked_for,
            exit=checked.exit,
            risk=checked.risk,
            symptom=checked.symptom,
            cause=checked.cause,
            limits_broken=checked.broken,
            no_all_clear=checked.no_all_clear,
            past=checked.past,
            guesses=checked.guesses,
            problems=checked.problems,
            answer=None,
        )
    )
    line = json.dumps(told, allow_nan=False)
    # The answer is JSON already, as a worker wrote it, and is the last key.
    return f"{line.removesuffix('null}')}{checked.document or 'null'}}}\n"


def digest_of(asked: AskedOfMany) -> str:
    """Give a hash of all that an answer depends on beside the formula: limits, region, knowledge, what was learnt."""
    limits = asked.limits
    told = (
        (SCHEMA, __version__),
        [getattr(limits, limit.name) for limit in LIMITS],
        sorted(limits.avoid),
        asked.region,
        asked.documents,
        asked.shifts,
    )
    on_hand = None if limits.on_hand is None else sorted(limits.on_hand)
    digest = hashlib.blake2b(repr((told, on_hand)).encode(), digest_size=8)
    places = find_places()
    files = [path for top in (places.knowledge, places.rules) for path in sorted(top.rglob("*.yaml"))]
    own = looked_through(places.over) if places.over is not None else ()
    for path in (*files, *own, own_ingredients_path()):
        with contextlib.suppress(OSError):
            digest.update(path.name.encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()


class BatchLog:
    """An open file of answers: what it held when it was opened, and the end to which lines are added."""

    def __init__(self, descriptor: int, held: dict[tuple[str, str, str], Checked]) -> None:
        self._descriptor = descriptor
        self._held = held

    def known(self, source: str, content: str, asked_for: str) -> Checked | None:
        """Give what the file says of a formula with this very content, asked the same; else `None`."""
        return self._held.get((source, content, asked_for))

    def add(self, line: str) -> None:
        """Add a line; when this returns, the line is in the file whole, whatever happens to this process.

        Raises:
            InputFault: the file takes no more (a full disk).
        """
        rest = line.encode("ascii")
        try:
            while rest:
                rest = rest[os.write(self._descriptor, rest) :]
        except OSError as error:
            raise InputFault(f"advisor: the file of answers takes no more: {error.strerror}") from None


@contextmanager
def open_log(path: Path, asked: AskedOfMany) -> Iterator[BatchLog]:
    """Open a file of answers, new or from an earlier batch, for this process alone.

    A last line without its end (the earlier batch was killed while it wrote) is cut off.

    Raises:
        InputFault: the file holds something else, is in use by another batch, or cannot be opened.
    """
    name = shown(str(path))
    try:
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT | os.O_APPEND | os.O_NONBLOCK, 0o644)
    except (OSError, ValueError) as error:
        why = (getattr(error, "strerror", None) or "the name cannot be used").lower()
        raise InputFault(f"advisor: {name} cannot be opened: {why}") from None
    try:
        if not stat.S_ISREG(os.fstat(descriptor).st_mode):
            raise InputFault(f"advisor: {name} is no plain file; --resume adds lines to one")
        _lock(descriptor, name)
        yield BatchLog(descriptor, _read(descriptor, name, asked))
    finally:
        os.close(descriptor)


def _lock(descriptor: int, name: str) -> None:
    try:
        import fcntl
    except ImportError:  # a system without such locks: two batches on one file are then the user's to avoid
        return
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        raise InputFault(
            f"advisor: another batch is writing to {name}; wait for it, or name another"
        ) from None


def _read(descriptor: int, name: str, asked: AskedOfMany) -> dict[tuple[str, str, str], Checked]:
    held: dict[tuple[str, str, str], Checked] = {}
    end = 0
    with os.fdopen(os.dup(descriptor), "rb") as file:
        file.seek(0)
        for number, line in enumerate(iter(lambda: file.readline(_LONGEST), b""), 1):
            if not line.endswith(b"\n") and line[: len(_OPENING)] == _OPENING[: len(line)]:
                os.ftruncate(descriptor, end)
                break
            end += len(line)
            try:
                key, checked = _answer_in(line, asked)
            except (ValueError, KeyError, TypeError, RecursionError):
                raise InputFault(
                    f"{name}:{number}:1: no line of a batch; --resume takes a file that a batch wrote, or a new one"
                ) from None
            # What could not be opened, and a fault of ours, are worth another try.
            if key[1] and checked.exit != 3:
                held[key] = checked
    return held


def _answer_in(line: bytes, asked: AskedOfMany) -> tuple[tuple[str, str, str], Checked]:
    if not line.startswith(_OPENING) or not line.endswith(b"\n"):
        raise ValueError("not the kind of line")
    told = json.loads(line)
    risk = told["risk"]
    checked = Checked(
        source=str(told["source"]),
        exit=2 if told["exit"] == 2 else 3 if told["exit"] == 3 else 0,
        risk=None if risk is None else float(risk),
        symptom=told["symptom"],
        cause=told["cause"],
        broken=bool(told["limits_broken"]),
        no_all_clear=bool(told["no_all_clear"]),
        past=tuple(map(str, told.get("past", ()))),
        guesses=tuple(map(str, told.get("guesses", ()))),
        problems=tuple(map(str, told["problems"])),
    )
    again = replace(checked, exit=exit_of(checked, asked.risk_limit, strict=asked.strict))
    return (checked.source, str(told["content"]), str(told["asked"])), again
