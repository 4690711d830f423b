"""Knowledge, and what is built of it, from a cache when no file has changed: reading it takes longest of all."""

from __future__ import annotations

import contextlib
import gc
import hashlib
import os
import pickle
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TypeVar

import pydantic

from advisor.knowledge_base.knowledge import Knowledge, read_knowledge
from advisor.knowledge_base.own_folder import looked_through
from advisor.knowledge_base.places import Places

T = TypeVar("T")
_KEPT = 4
_CHECK_BYTES = 16
"""A file begins with a check sum of the rest: of a disk's faults some would still be read, as other figures."""


def _digest(places: Places) -> str:
    """Content hash of every data file, and of the code and library that give them their shape."""
    digest = hashlib.blake2b(f"{sys.version} {pydantic.VERSION}".encode(), digest_size=16)
    package = Path(__file__).parent.parent
    code = sorted((package / "knowledge_base").glob("*.py")) + sorted((package / "diagnosis").glob("*.py"))
    data = sorted(places.knowledge.rglob("*.yaml")) + sorted(places.rules.rglob("*.yaml"))
    own = looked_through(places.over) if places.over is not None else ()
    for path in (*code, *data, *sorted(places.knowledge.rglob("*.txt")), *own):
        digest.update(str(path).encode() + b"\0")
        digest.update(path.read_bytes() + b"\0")
    return digest.hexdigest()


def _cache_folder() -> Path:
    base = os.environ.get("XDG_CACHE_HOME", "")
    return (Path(base) if base.startswith("/") else Path.home() / ".cache") / "dough-advisor"


def load(places: Places) -> Knowledge:
    """Read the knowledge, from the cache of this user where it holds the same content.

    Raises:
        KnowledgeFault: the files themselves are at fault.
    """
    return remembered("knowledge", places, Knowledge, lambda: read_knowledge(places))


def remembered(name: str, places: Places, kind: type[T], build: Callable[[], T]) -> T:
    """Give what `build` makes of the knowledge, from the cache where knowledge and code are the same as then.

    A pickle runs code: only a plain file that this user owns, in a folder of this user's, both closed to writing by
    others, is trusted; where the system does not tell, there is no cache. A cache that is damaged, or cannot be read or
    written, is no fault: the thing is built instead. Whatever `build` raises comes through.
    """
    if not hasattr(os, "getuid"):
        return build()
    try:
        before = _digest(places)
        path = _cache_folder() / f"{name}-{before}.pickle"
    except (OSError, RuntimeError):
        return build()
    with contextlib.suppress(Exception):
        with _nothing_collected():
            found = pickle.loads(_trusted(path))
        if isinstance(found, kind):
            return found
    made = build()
    with contextlib.suppress(Exception):
        # A file edited while it was being read must not be kept under the name of what stood there before.
        if _digest(places) == before:
            _store(path, name, made)
    return made


@contextlib.contextmanager
def _nothing_collected() -> Iterator[None]:
    """Pause the collector: of tens of thousands of objects that all stay it finds nothing, at half of the time."""
    at_work = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if at_work:
            gc.enable()


def _own(status: os.stat_result) -> bool:
    return status.st_uid == os.getuid() and not status.st_mode & 0o022


def _trusted(path: Path) -> bytes:
    if not _own(path.parent.lstat()):
        raise PermissionError(path.parent)
    descriptor = os.open(path, os.O_RDONLY | os.O_NOFOLLOW)
    with os.fdopen(descriptor, "rb") as file:
        if not _own(os.fstat(descriptor)):
            raise PermissionError(path)
        check, data = file.read(_CHECK_BYTES), file.read()
    if check != _check_sum(data):
        raise ValueError(f"{path} is damaged")
    return data


def _check_sum(data: bytes) -> bytes:
    return hashlib.blake2b(data, digest_size=_CHECK_BYTES).digest()


def _store(path: Path, name: str, made: object) -> None:
    import tempfile

    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    # A few are kept, so that two Pythons or two checkouts do not take turns in throwing out each other's.
    by_age = sorted(path.parent.glob(f"{name}-*.pickle"), key=lambda p: p.stat().st_mtime, reverse=True)
    for old in by_age[_KEPT - 1 :]:
        old.unlink(missing_ok=True)
    data = pickle.dumps(made, protocol=pickle.HIGHEST_PROTOCOL)
    with tempfile.NamedTemporaryFile(dir=path.parent, delete=False) as temporary:
        written = Path(temporary.name)
        try:
            temporary.write(_check_sum(data) + data)
            temporary.flush()
            written.replace(path)
        except BaseException:
            written.unlink(missing_ok=True)
            raise
