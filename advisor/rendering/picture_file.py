"""Which files a picture can be written to: the kind by its ending, and PNG only where its library is there."""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path

from advisor.knowledge_base.faults import InputFault

KINDS = (".svg", ".png")
DRAWS_PNG = "matplotlib"


def refuse_other_endings(path: Path) -> None:
    """Say before the work which endings a picture can have, and what a PNG needs.

    Raises:
        InputFault: another ending, or a PNG where the library that draws it is not installed.
    """
    kind = path.suffix.lower()
    if kind not in KINDS:
        raise InputFault(f"{path}: a picture ends in .svg or .png; name the file so")
    if kind == ".png" and find_spec(DRAWS_PNG) is None:
        raise InputFault(
            f"{path}: PNG pictures need one more package: pip install 'dough-advisor[png]' (or write an .svg)"
        )
