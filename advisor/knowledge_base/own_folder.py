"""A folder of one's own rules, causes, levers, lessons, symptoms and ingredients, laid over what is shipped.

Its files are named as those of knowledge/ (causes.yaml, levers.yaml, ingredients/*.yaml, lessons/*.yaml ...), its rules
stand in rules/. An entry with the id of a shipped one takes its place. The folder may be anyone's: it is looked through
within limits before a byte of it is read.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from pathlib import Path

from advisor.knowledge_base.faults import Finding, KnowledgeFault
from advisor.knowledge_base.knowledge import Knowledge, band_key, link_key, read_knowledge
from advisor.knowledge_base.places import Places

MOST_ENTRIES = 2000
"""Files and folders that such a folder may hold, whatever they are."""
MOST_FILE_BYTES = 1_000_000
MOST_BYTES = 2_000_000
DEEPEST = 3
_ENDINGS = (".yaml", ".txt")
_FOLDERS = frozenset({"ingredients", "lessons", "influences", "formulas", "rules"})


class OwnFolderFault(KnowledgeFault):
    """Raised when a folder of one's own cannot be used; findings name file and line."""


def own_places(folder: Path) -> Places:
    """Give where the parts of such a folder are."""
    return Places(knowledge=folder, rules=folder / "rules")


def looked_through(folder: Path) -> tuple[Path, ...]:
    """Give the files of a folder, in order, after a look at what they are.

    Raises:
        OwnFolderFault: no folder, too much in it, or something in it that is no plain file or folder.
    """
    try:
        if not stat.S_ISDIR(folder.stat().st_mode):
            raise _fault(folder, "is no folder")
        files = tuple(_files(folder))
    except OSError as error:
        raise _fault(folder, f"cannot be read: {(error.strerror or 'unknown reason').lower()}") from None
    except ValueError:
        raise _fault(folder, "is no name of a folder") from None
    if not files:
        raise _fault(folder, "holds none of the files that knowledge is made of, such as causes.yaml")
    return tuple(sorted(files))


def _files(folder: Path) -> Iterator[Path]:
    """Go through a folder without following links; whatever is odd ends it at once."""
    waiting, seen, size = [(folder, 0)], 0, 0
    while waiting:
        here, depth = waiting.pop()
        with os.scandir(here) as entries:
            for entry in entries:
                seen += 1
                if seen > MOST_ENTRIES:
                    raise _fault(folder, f"holds more than {MOST_ENTRIES} files and folders")
                path = Path(entry.path)
                status = entry.stat(follow_symlinks=False)
                if stat.S_ISDIR(status.st_mode):
                    if depth + 1 > DEEPEST:
                        raise _fault(path, f"lies more than {DEEPEST} folders deep")
                    if depth or entry.name in _FOLDERS:
                        waiting.append((path, depth + 1))
                    continue
                if path.suffix not in _ENDINGS or entry.name.startswith("."):
                    continue
                if not stat.S_ISREG(status.st_mode):
                    raise _fault(path, "is no plain file: links, pipes and devices are not read")
                size += status.st_size
                if status.st_size > MOST_FILE_BYTES or size > MOST_BYTES:
                    raise _fault(path, f"makes it more than {MOST_BYTES // 1_000_000} MB: give less at once")
                yield path


def laid_over(shipped: Knowledge, folder: Path) -> Knowledge:
    """Lay a folder over the shipped knowledge, which stays as it is; it is not linted here.

    Raises:
        OwnFolderFault: the folder cannot be used, or a file does not hold what it should.
    """
    looked_through(folder)
    try:
        own = read_knowledge(own_places(folder), whole=False)
    except KnowledgeFault as fault:
        raise OwnFolderFault(fault.findings) from None
    merged: dict[str, object] = {}
    for field in fields(Knowledge):
        old, new = getattr(shipped, field.name), getattr(own, field.name)
        if field.name in ("bands", "links"):
            key = band_key if field.name == "bands" else link_key
            merged[field.name] = tuple({**{key(e): e for e in old}, **{key(e): e for e in new}}.values())
        elif isinstance(old, Mapping):
            merged[field.name] = {**old, **new}
        else:
            merged[field.name] = old | new
    _no_circle_of_causes(own, merged)
    return replace(shipped, **merged)  # type: ignore[arg-type]  # fields of the same kinds


def _no_circle_of_causes(own: Knowledge, merged: Mapping[str, object]) -> None:
    """Refuse causes that refine each other in a circle, before anything follows them."""
    causes = merged["causes"]
    assert isinstance(causes, dict)
    for name in own.causes:
        path = [name]
        while (above := causes[path[-1]].refines) in causes:
            if above in path:
                file, line = own.origin.get(("cause", name), ("?", 0))
                message = f"refines in a circle: {' > '.join([*path, above])}"
                raise OwnFolderFault((Finding(file=file, line=line, check="graph", message=message),))
            path.append(above)


def _fault(path: Path, message: str) -> OwnFolderFault:
    return OwnFolderFault((Finding(file=str(path), line=1, check="folder", message=message),))
