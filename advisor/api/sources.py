"""Which formulas a batch reads: folders and all below them, files, demo formulas, in a fixed order."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from advisor.formula.files import TABLES, file_and_part, is_formula_table, parts_of_file
from advisor.formula.text_lines import MOST_BYTES
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge

ENDINGS = (".txt", ".yaml", ".yml", ".md", *TABLES)
"""Files of a folder that are taken for formulas."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One formula to come: its name in every message, its file, and why it is not read, if it is not."""

    name: str
    path: Path
    problem: str = ""
    part: str = ""
    """Which formula of a table that holds several; empty where it is all of the file."""


def is_folder(word: str) -> bool:
    """Say whether a word of the command line names a folder."""
    try:
        return Path(word).is_dir()
    except (OSError, ValueError):
        return False


def sources_of(words: Iterable[str], knowledge: Knowledge) -> list[Source]:
    """Give every formula that the words name, each once, in the order of the words and by name within a folder.

    Raises:
        InputFault: standard input, or a folder that holds no formula.
    """
    found: dict[str, Source] = {}
    for word in words:
        if word == "-":
            raise InputFault("advisor: standard input (-) is one formula; name it alone, not with many")
        some = list(_in_folder(Path(word))) if is_folder(word) else [_alone(word, knowledge)]
        some = [part for source in some for part in _parts(source)]
        if not some:
            endings = ", ".join(ENDINGS)
            raise InputFault(
                f"{shown(word, 1000)}: this is a folder without formulas; it would read {endings}"
            )
        for source in some:
            found.setdefault(source.name, source)
    return list(found.values())


def holds_several(word: str) -> bool:
    """Say whether a word of the command line names a table of several formulas."""
    try:
        return bool(parts_of_file(Path(word)))
    except (OSError, ValueError):
        return False


def _parts(source: Source) -> list[Source]:
    names = () if source.problem or source.part else parts_of_file(source.path)
    return [replace(source, name=f"{source.name}#{name}", part=name) for name in names] or [source]


def content_of(source: Source) -> str:
    """Give the hash of a file's content; empty where it cannot be read, so that it is never taken for known."""
    try:
        with source.path.open("rb") as file:
            # One byte past what a formula may have tells that it has more; no more is looked at.
            return hashlib.blake2b(file.read(MOST_BYTES + 1), digest_size=16).hexdigest()
    except (OSError, ValueError):
        return ""


def _alone(word: str, knowledge: Knowledge) -> Source:
    path, part = Path(word), ""
    try:
        path, part = file_and_part(word)
        exists, plain = path.exists(), path.is_file()
    except (OSError, ValueError):
        exists, plain = False, False
    if exists and not plain:
        return Source(name=word, path=path, problem=_said(word, "no plain file; name a file with a formula"))
    if not exists and word in knowledge.formulas:
        return Source(name=word, path=knowledge.formulas[word])
    return Source(name=word, path=path, part=part)


def _in_folder(folder: Path) -> Iterator[Source]:
    top = folder.resolve()
    for here, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in folders:
            path = Path(here, name)
            # Links to folders are never followed; one that stays inside would only be read twice.
            if path.is_symlink() and (why := _leads_out(path, top)):
                yield Source(name=str(path), path=path, problem=_said(str(path), why))
        for name in sorted(files):
            if not name.startswith(".") and Path(name).suffix.lower() in ENDINGS:
                found = _file(Path(here, name), top)
                table = not found.problem and found.path.suffix.lower() in TABLES
                if not table or is_formula_table(found.path):
                    yield found


def _file(path: Path, top: Path) -> Source:
    why = _leads_out(path, top) if path.is_symlink() else ""
    if not why and not path.is_file():
        why = "no plain file; left out"
    return Source(name=str(path), path=path, problem=_said(str(path), why) if why else "")


def _leads_out(link: Path, top: Path) -> str:
    try:
        inside = link.resolve(strict=True).is_relative_to(top)
    except (OSError, RuntimeError):
        return "a link that leads nowhere; left out"
    return "" if inside else "a link out of the folder; left out, name its file itself"


def _said(name: str, why: str) -> str:
    return f"{shown(name, 1000)}:1:1: {why}"
