"""What leaves the program on standard output, and how names given on the command line are refused."""

from __future__ import annotations

import json
import os
import sys
import unicodedata
from collections.abc import Iterable
from typing import TYPE_CHECKING, TextIO

from advisor.formula.faults import shown
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.likeness import nearest
from advisor.rendering.quantities import in_metric

if TYPE_CHECKING:
    from advisor.rendering.documents.shape import Document

_PLAIN = {"…": "...", "→": "->", "–": "-", "—": "-", "−": "-", "×": "x", "°": "deg ", "½": "1/2", "⁄": "/"}
_PLAIN_LOCALES = ("C", "POSIX")


def fitted(text: str, stream: TextIO) -> str:
    """Put a text into letters that a stream can show; what has no near letter becomes a question mark."""
    encoding = "ascii" if _plain_locale() else (getattr(stream, "encoding", None) or "utf-8")
    try:
        text.encode(encoding)
        return text
    except (UnicodeEncodeError, LookupError):
        known = "".join(_PLAIN.get(letter, letter) for letter in text)
        bare = "".join(c for c in unicodedata.normalize("NFKD", known) if not unicodedata.combining(c))
        return bare.encode("ascii", errors="replace").decode("ascii")


def _plain_locale() -> bool:
    """The locale C has ASCII letters only; Python may write UTF-8 in it all the same and says so in LC_CTYPE."""
    if (over_all := os.environ.get("LC_ALL")) is not None and over_all:
        return over_all in _PLAIN_LOCALES
    letters = os.environ.get("LC_CTYPE", "")
    if letters in ("", "C.UTF-8", "C.utf8"):
        return os.environ.get("LANG", "") in _PLAIN_LOCALES
    return letters in _PLAIN_LOCALES


def write_page(text: str) -> None:
    """Write a page to standard output."""
    sys.stdout.write(fitted(text, sys.stdout))


def write_document(document: Document, *, as_written: bool = False) -> None:
    """Write a document as JSON to standard output, its texts as `write_json` does."""
    from advisor.rendering.documents.writing import plain

    write_json(plain(document), as_written=as_written)


def write_json(value: object, *, one_line: bool = False, as_written: bool = False) -> None:
    """Write one JSON document to standard output, its texts in metric units; `as_written` leaves them as they are.

    Raises:
        ValueError: a number that JSON does not know (infinite or none), which would be a fault of ours.
    """
    indent = None if one_line else 2
    value = value if as_written else in_metric(value)
    text = json.dumps(value, indent=indent, ensure_ascii=False, allow_nan=False)
    if fitted(text, sys.stdout) != text:
        text = json.dumps(value, indent=indent, allow_nan=False)
    sys.stdout.write(text + "\n")


def check_names(names: Iterable[str], known: Iterable[str], what: str) -> None:
    """Refuse a name that is not known and offer what is near.

    Raises:
        InputFault: naming the first unknown name and the nearest three.
    """
    known = list(known)
    for name in names:
        if name not in known:
            near = nearest(name, known, least=40)
            hint = f"did you mean {' or '.join(near)}?" if near else f"known: {', '.join(known[:8])} ..."
            raise InputFault(f"advisor: no {what} '{shown(name)}'; {hint}")
