"""Knowledge from a cache when no file has changed: parsing and checking every entry takes longer than the rest."""

from __future__ import annotations

import contextlib
import hashlib
import os
import pickle
import sys
import tempfile
from pathlib import Path

from advisor.knowledge_base.knowledge import Knowledge, read_knowledge
from advisor.knowledge_base.places import Places


_KEPT = 4


def _digest(places: Places) -> str:
    """Content hash of every data file and of the code that gives them their shape."""
    digest = hashlib.blake2b(sys.version.encode(), digest_size=16)
    code = sorted(Path(__file__).parent.glob("*.py"))
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

    Only files that this user owns and nobody else may write are trusted, since a pickle runs code. A cache that
    cannot be read or written is no fault: the files are read instead.

    Raises:
        KnowledgeFault: the files themselves are at fault.
    """
    try:
        path = _cache_folder() / f"{_digest(places)}.pickle"
    except (OSError, RuntimeError):
        return read_knowledge(places)
    with contextlib.suppress(Exception):
        status = path.stat()
        mine = not hasattr(os, "getuid") or (status.st_uid == os.getuid() and not status.st_mode & 0o022)
        if mine and isinstance(found := pickle.loads(path.read_bytes()), Knowledge):
            return found
    knowledge = read_knowledge(places)
    with contextlib.suppress(Exception):
        _store(path, knowledge)
    return knowledge


def _store(path: Path, knowledge: Knowledge) -> None:
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    # A few are kept, so that two Pythons or two checkouts do not take turns in throwing out each other's.
    by_age = sorted(path.parent.glob("*.pickle"), key=lambda p: p.stat().st_mtime, reverse=True)
    for old in by_age[_KEPT - 1 :]:
        old.unlink(missing_ok=True)
    with tempfile.NamedTemporaryFile(dir=path.parent, delete=False) as temporary:
        temporary.write(pickle.dumps(knowledge, protocol=pickle.HIGHEST_PROTOCOL))
    Path(temporary.name).replace(path)
