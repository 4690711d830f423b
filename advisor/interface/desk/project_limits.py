"""The limits of a project: advisor.toml or tool.advisor in pyproject.toml, looked for from the folder upwards."""

from __future__ import annotations

import argparse
import re
import sys
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from advisor import load_knowledge
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.remedy.avoided import avoided_in, ingredients_in
from advisor.remedy.constraints import LIMITS

if TYPE_CHECKING:
    from advisor.knowledge_base.written_limits import WrittenLimits

OWN, SHARED, NONE = "advisor.toml", "pyproject.toml", "none"
_LONGEST = 1_000_000
_TABLE = re.compile(r"\s*\[\s*tool\s*\.\s*advisor\s*\]")
_PLACE = re.compile(r"\(at line (\d+), column \d+\)|\(at end of document\)")


def take_project_limits(options: argparse.Namespace) -> None:
    """Give the options the limits of the project where the command line has none, and say which file was used.

    What is to be avoided is added up: an allergen of the project is not let in by naming another.

    Raises:
        InputFault: the file cannot be read, or holds a key, a value or a name that is none.
    """
    if options.limits == NONE:
        return
    path = Path(options.limits) if options.limits else _found()
    if path is None:
        return
    limits = _read(path)
    for limit in LIMITS:
        if getattr(options, limit.name) is None:
            setattr(options, limit.name, getattr(limits, limit.name))
    options.avoid = [*options.avoid, *limits.avoid]
    if limits.on_hand is not None and options.on_hand is None:
        options.on_hand = list(limits.on_hand)
    if getattr(options, "risk", 0) is None:
        options.risk = limits.risk
    sys.stderr.write(f"advisor: limits of {shown(str(path), 1000)}: {_told(limits)}\n")


def _found() -> Path | None:
    here = Path.cwd()
    for folder in (here, *here.parents):
        for path in (folder / OWN, folder / SHARED):
            if path.is_file() and (path.name == OWN or _has_table(path)):
                return path
    return None


def _has_table(path: Path) -> bool:
    # Somebody else's file: what is wrong with it is no business of ours.
    try:
        return any(_TABLE.match(line) for line in path.read_text("utf-8", "replace").splitlines())
    except OSError:
        return False


def _read(path: Path) -> WrittenLimits:
    from advisor.knowledge_base.written_limits import LimitFault, WrittenLimits, limits_in

    try:
        text = path.read_bytes()[:_LONGEST].decode("utf-8-sig")
        held = tomllib.loads(text)
    except OSError as error:
        _fault(
            path, 1, f"cannot be read ({error.strerror})", "give another file with --limits, or --limits none"
        )
    except UnicodeDecodeError:
        _fault(path, 1, "is no text in UTF-8", "write it as plain text")
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        place = _PLACE.search(str(error))
        line = int(place[1]) if place and place[1] else text.count("\n") + 1
        what = _PLACE.sub("", str(error)).strip().rstrip(".").lower()
        _fault(path, line, f"this is no TOML ({what})", "write a limit a line, such as net_carb_max = 3")
    table = held.get("tool", {}).get("advisor", {}) if path.name == SHARED else held
    if not isinstance(table, Mapping):
        _fault(path, 1, "tool.advisor is no table", "write [tool.advisor] and the limits below it")
    try:
        limits = limits_in(table)
    except LimitFault as fault:
        line = _line_of(text, fault.key, path)
        if fault.unknown:
            _fault(
                path,
                line,
                f"no limit '{fault.key[:40]}'",
                f"there are {', '.join(WrittenLimits.model_fields)}",
            )
        _fault(path, line, f"{fault.key}: {fault}", _HOW.get(fault.key, f"write it such as {fault.key} = 3"))
    knowledge = load_knowledge()
    for key, names, read in (
        ("avoid", limits.avoid, avoided_in),
        ("on_hand", limits.on_hand or (), ingredients_in),
    ):
        try:
            read(names, knowledge)
        except InputFault as fault:
            what, _, do = str(fault).removeprefix("advisor: ").partition("; ")
            _fault(path, _line_of(text, key, path), f"{key}: {what}", do)
    return limits


_HOW = {
    "risk": "write a share from 0 to 1, such as risk = 0.35",
    "avoid": 'write a list of names, such as avoid = ["milk", "tree nuts"]',
    "on_hand": 'write a list of names, such as on_hand = ["eggs", "psyllium husk powder"]',
}


def _line_of(text: str, key: str, path: Path) -> int:
    """The line of a key, in the table where there is one; TOML readers do not tell it."""
    inside = path.name != SHARED
    wanted = re.compile(rf"""\s*["']?{re.escape(key)}["']?\s*[=.\]]""")
    for number, line in enumerate(text.splitlines(), 1):
        if path.name == SHARED and line.lstrip().startswith("["):
            inside = _TABLE.match(line) is not None
        elif inside and wanted.match(line.lstrip("[ ")):
            return number
    return 1


def _fault(path: Path, line: int, what: str, do: str) -> NoReturn:
    raise InputFault(f"{shown(str(path), 1000)}:{line}: {shown(what, 300)}; {do}")


def _told(limits: WrittenLimits) -> str:
    return "; ".join(_parts(limits)) or "none in it"


def _parts(limits: WrittenLimits) -> Iterator[str]:
    for limit in LIMITS:
        if (value := getattr(limits, limit.name)) is not None:
            side = "at most" if limit.sign > 0 else "at least"
            yield f"{limit.noun} in a slice {side} {value:g} {limit.unit}".rstrip()
    if limits.avoid:
        yield f"without {', '.join(limits.avoid)}"
    if limits.on_hand is not None:
        yield f"on hand {', '.join(limits.on_hand) or 'nothing'}"
    if limits.risk is not None:
        yield f"risk below {limits.risk:g}"
