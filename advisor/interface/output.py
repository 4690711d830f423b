"""What leaves the program on standard output, and how names given on the command line are refused."""

from __future__ import annotations

import difflib
import json
import sys
from collections.abc import Iterable

from advisor.interface.formula_choice import InputFault


def write_page(text: str) -> None:
    """Write a page to standard output."""
    sys.stdout.write(text)


def write_json(value: object, *, one_line: bool = False) -> None:
    """Write one JSON document to standard output.

    Raises:
        ValueError: a number that JSON does not know (infinite or none), which would be a fault of ours.
    """
    indent = None if one_line else 2
    sys.stdout.write(json.dumps(value, indent=indent, ensure_ascii=False, allow_nan=False) + "\n")


def check_names(names: Iterable[str], known: Iterable[str], what: str) -> None:
    """Refuse a name that is not known and offer what is near.

    Raises:
        InputFault: naming the first unknown name and the nearest three.
    """
    known = list(known)
    for name in names:
        if name not in known:
            near = difflib.get_close_matches(name, known, n=3, cutoff=0.4)
            hint = f"did you mean {' or '.join(near)}?" if near else f"known: {', '.join(known[:8])} ..."
            raise InputFault(f"advisor: no {what} '{name}'; {hint}")
