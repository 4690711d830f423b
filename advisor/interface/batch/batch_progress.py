"""How far a batch is, on a terminal's standard error and nowhere else."""

from __future__ import annotations

import os
import shutil
import sys
import time
from types import TracebackType
from typing import Self

_EVERY_S = 0.2


class Progress:
    """A bar that is drawn over itself and leaves nothing behind; where there is no terminal it does nothing."""

    def __init__(self, whole: int) -> None:
        self._whole = whole
        self._done = 0
        self._began = time.monotonic()
        self._drawn = 0.0
        self._shown = sys.stderr.isatty() and os.environ.get("TERM", "") not in ("", "dumb")

    def __enter__(self) -> Self:
        """Begin to count."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Take the bar away."""
        self.clear()

    def step(self, *, quickly: bool = False) -> None:
        """Count one more; `quickly` for one that took no time, which would make the rest look quick as well."""
        if quickly:
            self._whole -= 1
        else:
            self._done += 1
        now = time.monotonic()
        if self._shown and now - self._drawn >= _EVERY_S:
            self._drawn = now
            columns = max(shutil.get_terminal_size().columns, 20)
            sys.stderr.write("\r" + bar(self._done, self._whole, now - self._began, columns - 1))
            sys.stderr.flush()

    def say(self, line: str) -> None:
        """Write a line to standard error, past the bar."""
        self.clear()
        sys.stderr.write(line + "\n")

    def clear(self) -> None:
        """Take the bar away, so that something else can be written."""
        if self._shown and self._drawn:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()
            self._drawn = 0.0


def bar(done: int, whole: int, seconds: float, columns: int) -> str:
    """Draw how far it is: `[####......]  12 of 40, about 3 min left`, in so many columns."""
    share = done / whole if whole else 1.0
    left = _said(seconds * (whole - done) / done) if done else "?"
    told = f" {done} of {whole}, about {left} left"
    room = min(columns - len(told) - 2, 40)
    if room < 5:
        return told.strip()[:columns].ljust(columns)
    filled = round(room * share)
    return ("[" + "#" * filled + "." * (room - filled) + "]" + told).ljust(columns)


def _said(seconds: float) -> str:
    if seconds < 90:
        return f"{seconds:.0f} s"
    return f"{seconds / 60:.0f} min" if seconds < 5400 else f"{seconds / 3600:.1f} h"
