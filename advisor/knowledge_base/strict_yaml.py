"""One strict YAML reader: what YAML would guess in silence is refused, and every line number is kept.

Refused: duplicate keys, bare on/off/yes/no, sexagesimal numbers (12:30), dates, ``1e3`` (YAML 1.1 reads
it as text), custom tags, aliases, nesting deeper than 12, files over 2 MB.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias, TypeGuard

from advisor.knowledge_base.faults import Finding, KnowledgeFault

if TYPE_CHECKING:
    import yaml

Plain: TypeAlias = "bool | int | float | str | list[Plain] | dict[str, Plain] | None"

_MAX_BYTES = 2_000_000
_MAX_DEPTH = 12
_PLAIN_TAGS = ("tag:yaml.org,2002:map", "tag:yaml.org,2002:seq")
_EXPONENT = re.compile(r"[-+]?[0-9][0-9_]*(\.[0-9]*)?[eE][0-9]+|[-+]?[0-9]+[eE][-+]?[0-9]+")
_TRUE_FALSE = {"true": True, "false": False}


@dataclass(frozen=True, slots=True)
class Document:
    """Plain data of one file, with the line on which each path of keys and indices stands."""

    data: Plain
    lines: dict[tuple[str | int, ...], int] = field(default_factory=dict)

    def line_of(self, path: tuple[str | int, ...]) -> int:
        """Give the line of a path, or of its nearest ancestor that has one."""
        for length in range(len(path), -1, -1):
            if (line := self.lines.get(path[:length])) is not None:
                return line
        return 1


def _kind(node: yaml.Node) -> str:
    """What a node calls itself: scalar, sequence or mapping."""
    return str(getattr(node, "id", ""))


def _is_scalar(node: yaml.Node) -> TypeGuard[yaml.ScalarNode]:
    return _kind(node) == "scalar"


class _Walk:
    """Turns one node tree into plain data, gathering line numbers and faults on the way."""

    def __init__(self, shown: str) -> None:
        self.shown = shown
        self.lines: dict[tuple[str | int, ...], int] = {}
        self.faults: list[Finding] = []

    def fault(self, node: yaml.Node, message: str) -> None:
        self.faults.append(
            Finding(file=self.shown, line=node.start_mark.line + 1, check="yaml", message=message)
        )

    def plain(self, node: yaml.Node, path: tuple[str | int, ...]) -> Plain:
        self.lines[path] = node.start_mark.line + 1
        if not _is_scalar(node) and node.tag not in _PLAIN_TAGS:
            self.fault(node, f"the tag '{node.tag}' is refused: write plain keys and lists")
            return None
        if len(path) > _MAX_DEPTH:
            self.fault(node, f"nested deeper than {_MAX_DEPTH} levels: flatten it")
            return None
        if _is_scalar(node):
            return self.scalar(node)
        if _kind(node) == "sequence":
            return [self.plain(child, (*path, index)) for index, child in enumerate(node.value)]
        return self.mapping(node, path)

    def mapping(self, node: yaml.Node, path: tuple[str | int, ...]) -> Plain:
        out: dict[str, Plain] = {}
        for key_node, value_node in node.value:
            key = str(key_node.value) if _is_scalar(key_node) else ""
            if not key or key == "<<":
                self.fault(key_node, "a key must be a plain word")
            elif key in out:
                self.fault(key_node, f"the key '{key}' stands twice: keep one")
            else:
                out[key] = self.plain(value_node, (*path, key))
                self.lines[(*path, key)] = key_node.start_mark.line + 1
        return out

    def scalar(self, node: yaml.ScalarNode) -> Plain:
        tag, text = node.tag.rpartition(":")[2], str(node.value)
        if tag == "str":
            # A plain scalar has the style None from one loader and "" from the other.
            if not node.style and _EXPONENT.fullmatch(text):
                self.fault(node, f"'{text}' would be read as text: write the number out")
            return text
        if tag == "null":
            return None
        if tag == "bool":
            if text not in _TRUE_FALSE:
                self.fault(node, f"write true or false, or put quotes around '{text}'")
            return _TRUE_FALSE.get(text, False)
        if tag in ("int", "float") and not re.search(r"[:_xXoO]|nan|inf|^0[0-9]", text, re.IGNORECASE):
            number = _number(text, tag)
            if number is not None:
                return number
        self.fault(
            node, f"'{text}' would be guessed to be a {tag}: put quotes around it or write a plain number"
        )
        return None


def _number(text: str, tag: str) -> int | float | None:
    """A finite number, or `None` where a tag claims one that the text is not, or one too long to hold."""
    try:
        number = int(text) if tag == "int" else float(text)
        return number if math.isfinite(number) else None
    except (ValueError, OverflowError):
        return None


def _refused_letter(error: yaml.YAMLError, text: str, shown: str) -> Finding:
    """Say which letter no YAML may hold; the library's own message has two lines and no line number."""
    place, letter = getattr(error, "position", 0), getattr(error, "character", None)
    # One loader counts bytes and the other letters; the first letter of that kind is the one that was met.
    at = text.find(chr(letter)) if isinstance(letter, int) else place
    what = f"it holds the character U+{letter:04X}" if isinstance(letter, int) else str(error).splitlines()[0]
    line = text.count("\n", 0, max(at, 0)) + 1
    return Finding(file=shown, line=line, check="yaml", message=f"is not YAML: {what}")


def read_yaml(path: Path, shown: str) -> Document:
    """Read one YAML file strictly.

    Raises:
        KnowledgeFault: unreadable, not YAML, or anything in the module's list of refusals.
    """
    try:
        with path.open("rb") as file:
            raw = file.read(_MAX_BYTES + 1)
        text = raw.decode("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise KnowledgeFault(
            (Finding(file=shown, line=1, check="yaml", message=f"cannot be read: {error}"),)
        ) from None
    if len(raw) > _MAX_BYTES:
        raise KnowledgeFault(
            (Finding(file=shown, line=1, check="yaml", message="over 2 MB: split the file"),)
        )
    return parse_yaml(text, shown)


def parse_yaml(text: str, shown: str) -> Document:
    """Read YAML text strictly; the same refusals as `read_yaml`.

    Raises:
        KnowledgeFault: not YAML, or anything in the module's list of refusals.
    """
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        message = "holds half a surrogate pair, which is no letter"
        raise KnowledgeFault((Finding(file=shown, line=1, check="yaml", message=message),)) from None
    import yaml  # here, since a formula in plain lines and knowledge from the cache need none

    loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    try:
        # The extra pass is only worth its time where a file could hold an alias at all.
        for event in yaml.parse(text, Loader=loader) if "&" in text else ():
            if isinstance(event, yaml.AliasEvent):
                line = event.start_mark.line + 1 if event.start_mark else 1
                raise KnowledgeFault(
                    (
                        Finding(
                            file=shown, line=line, check="yaml", message="aliases are refused: write it out"
                        ),
                    )
                )
        node = yaml.compose(text, Loader=loader)
    except yaml.MarkedYAMLError as error:
        line = error.problem_mark.line + 1 if error.problem_mark else 1
        message = f"is not YAML: {error.problem}"
        raise KnowledgeFault((Finding(file=shown, line=line, check="yaml", message=message),)) from None
    except yaml.YAMLError as error:
        raise KnowledgeFault((_refused_letter(error, text, shown),)) from None
    if node is None:
        raise KnowledgeFault((Finding(file=shown, line=1, check="yaml", message="is empty"),))
    walk = _Walk(shown)
    data = walk.plain(node, ())
    if walk.faults:
        raise KnowledgeFault(tuple(walk.faults))
    return Document(data, walk.lines)
