"""The user's file of own ingredients: reading it with line numbers, writing it whole or not at all."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from pathlib import Path

from advisor.knowledge_base.faults import Finding, KnowledgeFault
from advisor.knowledge_base.own_entry import OwnFile, OwnIngredient
from advisor.knowledge_base.reading import read_entry
from advisor.knowledge_base.strict_yaml import Document, parse_yaml, read_yaml
from advisor.knowledge_base.whole_file import write_whole

_HEAD = (
    "# Your own ingredients, from the panels of their packets, and prices per kilogram.\n"
    "# It may be edited by hand; 'advisor ingredients' rewrites it whole, without comments of yours.\n"
)
_PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9_-]*(?: [A-Za-z0-9_-]+)*")
_NOT_PLAIN = frozenset({"yes", "no", "on", "off", "true", "false", "null", "y", "n"})


class OwnFileFault(KnowledgeFault):
    """Raised when the user's own file, or an entry meant for it, cannot be used; findings name file and line."""


def read_own_file(path: Path) -> tuple[OwnFile, Document]:
    """Read the user's file, or another in its shape; a file that is not there holds nothing.

    Raises:
        OwnFileFault: it cannot be read, or does not hold what it should.
    """
    try:
        nothing = not path.exists() or not path.read_bytes().strip()
    except OSError:
        nothing = False  # what is wrong with it is said below
    if nothing:
        return OwnFile(), Document({})
    try:
        document = read_yaml(path, str(path))
        return read_entry(document, str(path), OwnFile), document
    except KnowledgeFault as fault:
        raise OwnFileFault(fault.findings) from None


def parse_own_file(text: str, shown: str) -> OwnFile:
    """Read the text of a file in the shape of the user's; the same refusals.

    Raises:
        OwnFileFault: it does not hold what it should.
    """
    try:
        return read_entry(parse_yaml(text, shown), shown, OwnFile)
    except KnowledgeFault as fault:
        raise OwnFileFault(fault.findings) from None


def parse_own_entry(text: str, shown: str) -> OwnIngredient:
    """Read one own ingredient as YAML.

    Raises:
        OwnFileFault: it does not hold what it should.
    """
    try:
        document = parse_yaml(text, shown)
        if isinstance(document.data, dict) and "ingredients" in document.data:
            message = "this is a whole file, not one ingredient: use --import"
            raise KnowledgeFault((Finding(file=shown, line=1, check="shape", message=message),))
        return read_entry(document, shown, OwnIngredient)
    except KnowledgeFault as fault:
        raise OwnFileFault(fault.findings) from None


def own_yaml(own: OwnFile) -> str:
    """Write a file as YAML that reads back as the same."""
    lines: list[str] = []
    if own.ingredients:
        lines.append("ingredients:")
        for entry in own.ingredients:
            fields = entry.model_dump(mode="json", exclude_none=True, exclude_defaults=True)
            first, *rest = _lines(fields, "    ")
            lines += [f"  - {first.strip()}", *rest]
    if own.prices:
        lines += ["prices:", *_lines(own.prices, "  ")]
    return _HEAD + "\n".join(lines or ["ingredients: []"]) + "\n"


def entry_yaml(fields: Mapping[str, object]) -> str:
    """Write the fields of one own ingredient as YAML, whether or not they make one yet."""
    return "\n".join(_lines(fields, "")) + "\n"


def _lines(fields: Mapping[str, object], indent: str) -> Iterator[str]:
    for key, value in fields.items():
        if isinstance(value, Mapping):
            yield f"{indent}{_scalar(key)}:" if value else f"{indent}{_scalar(key)}: {{}}"
            yield from _lines(value, indent + "  ")
        elif isinstance(value, list | tuple):
            yield f"{indent}{_scalar(key)}: [{', '.join(map(_scalar, value))}]"
        else:
            yield f"{indent}{_scalar(key)}: {_scalar(value)}"


def _scalar(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float):
        text = format(Decimal(repr(value)), "f")
        return text.rstrip("0").rstrip(".") if "." in text else text
    text = str(value)
    if _PLAIN.fullmatch(text) and text.lower() not in _NOT_PLAIN:
        return text
    return json.dumps(text, ensure_ascii=not text.isprintable())


def write_own_file(path: Path, own: OwnFile) -> None:
    """Write the file whole, in a folder that is made where there is none.

    Raises:
        InputFault: the folder cannot be made or written.
    """
    write_whole(path, own_yaml(own), make_folder=True)
