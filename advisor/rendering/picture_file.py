"""A picture to a file: the kind by its ending, whole or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.knowledge_base.faults import InputFault

if TYPE_CHECKING:
    from matplotlib.figure import Figure

KINDS = (".svg", ".png")
_DOTS_PER_INCH = 150


def refuse_other_endings(path: Path) -> None:
    """Say before the work which endings a picture can have.

    Raises:
        InputFault: another ending.
    """
    if path.suffix.lower() not in KINDS:
        raise InputFault(f"{path}: a picture ends in .svg or .png; name the file so")


@contextmanager
def drawn_to(path: Path, *, width_in: float, height_in: float) -> Iterator[Figure]:
    """Give a figure to draw on, and write it when the block ends.

    Raises:
        InputFault: the ending is neither .svg nor .png, or the file cannot be written.
    """
    refuse_other_endings(path)
    import matplotlib as mpl
    from matplotlib.figure import Figure

    # Text stays text in an SVG, and the same picture is the same file each time.
    with mpl.rc_context({"svg.fonttype": "none", "svg.hashsalt": "advisor", "font.size": 10}):
        figure = Figure(figsize=(width_in, height_in), layout="constrained")
        yield figure
        kind = path.suffix.lower()[1:]
        metadata: dict[str, str | None] = {"Date": None} if kind == "svg" else {"Software": None}
        half: str | None = None
        try:
            handle, half = tempfile.mkstemp(suffix=path.suffix, dir=path.parent or ".")
            with os.fdopen(handle, "wb") as stream:
                figure.savefig(stream, format=kind, dpi=_DOTS_PER_INCH, metadata=metadata)
            Path(half).chmod(0o644)  # a picture is for others to see; a temporary file is not
            Path(half).replace(path)
        except OSError as fault:
            if half is not None:
                Path(half).unlink(missing_ok=True)
            raise InputFault(
                f"{path}: cannot be written ({fault.strerror or fault}); choose another place"
            ) from fault
