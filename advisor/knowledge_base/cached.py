"""Knowledge, and what is built of it, from a cache when no file has changed: reading it takes longest of all."""

from __future__ import annotations

import contextlib
import hashlib
import os
import pickle
import sys
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import TypeVar

from advisor.knowledge_base.knowledge import Knowledge, read_knowledge
from advisor.knowledge_base.places import Places

T = TypeVar("T")
_KEPT = 4


@lru_cache(maxsize=4)
def _digest(places: Places) -> str:
    """Content hash of every data file and of the code that gives them their shape."""
    digest = hashlib.blake2b(sys.version.encode(), digest_size=16)
    code = sorted(Path(__file__).parent.glob("*.py")) + sorted(
        (Path(__file__).parent.parent / "diagnosis").glob("*.py")
    )
    data = sorted(places.knowledge.rglob("*.yaml")) + sorted(places.rules.rglob("*.yaml"))
    for path in (*code, *data, *sorted(places.knowledge.rglob("*.txt"))):
        digest.update(str(path).encode() + b"\0")
        digest.update(path.read_bytes() + b"\0")
    return digest.hexdigest()


def _cache_folder() -> Path:
    base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "dough-advisor"


def load(places: Places) -> Knowledge:
    """Read the knowledge, from the cache of this user where it holds the same content.

    Raises:
        KnowledgeFault: the files themselves are at fault.
    """
    return remembered("knowledge", places, Knowledge, lambda: read_knowledge(places))


def remembered(name: str, places: Places, kind: type[T], build: Callable[[], T]) -> T:
    """Give what `build` makes of the knowledge, from the cache where knowledge and code are the same as then.

    Only files that this user owns and nobody else may write are trusted, since a pickle runs code. A cache that
    cannot be read or written is no fault: the thing is built instead. Whatever `build` raises comes through.
    """
    try:
        path = _cache_folder() / f"{name}-{_digest(places)}.pickle"
    except (OSError, RuntimeError):
        return build()
    with contextlib.suppress(Exception):
        status = path.stat()
        mine = not hasattr(os, "getuid") or (status.st_uid == os.getuid() and not status.st_mode & 0o022)
        if mine and isinstance(found := pickle.loads(path.read_bytes()), kind):
            return found
    made = build()
    with contextlib.suppress(Exception):
        _store(path, name, made)
    return made


def _store(path: Path, name: str, made: object) -> None:
    import tempfile

    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    # A few are kept, so that two Pythons or two checkouts do not take turns in throwing out each other's.
    by_age = sorted(path.parent.glob(f"{name}-*.pickle"), key=lambda p: p.stat().st_mtime, reverse=True)
    for old in by_age[_KEPT - 1 :]:
        old.unlink(missing_ok=True)
    with tempfile.NamedTemporaryFile(dir=path.parent, delete=False) as temporary:
        temporary.write(pickle.dumps(made, protocol=pickle.HIGHEST_PROTOCOL))
    Path(temporary.name).replace(path)
