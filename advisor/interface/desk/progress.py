"""A line on the terminal for work that takes more than a moment: nothing in a pipe, and gone when the work is done."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager

_QUIET_S = 1.0
"""What takes less needs no word."""


@contextmanager
def progress(what: str) -> Iterator[None]:
    """Say what is going on, on standard error where that is a terminal, once it has taken a second."""
    if not sys.stderr.isatty():
        yield
        return
    done = threading.Event()
    said = threading.Thread(target=_say, args=(what, done), daemon=True)
    said.start()
    try:
        yield
    finally:
        done.set()
        said.join()


def _say(what: str, done: threading.Event) -> None:
    if done.wait(_QUIET_S):
        return
    sys.stderr.write(f"{what} ...")
    sys.stderr.flush()
    done.wait()
    sys.stderr.write("\r" + " " * (len(what) + 4) + "\r")
    sys.stderr.flush()
