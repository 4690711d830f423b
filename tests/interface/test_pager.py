"""A page goes through the reader's pager on a terminal that it does not fit, and nowhere else."""

from __future__ import annotations

import io
import os
import sys
from pathlib import Path

import pytest

from advisor.interface.desk import showing
from advisor.interface.desk.showing import show_page, shows_looks

LONG, SHORT = "line\n" * 100, "line\n"


class Screen(io.StringIO):
    """A stream that calls itself a terminal."""

    encoding = "utf-8"  # type: ignore[assignment]  # a plain attribute serves

    def isatty(self) -> bool:
        return True


@pytest.fixture
def paged(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A terminal of 24 lines whose pager keeps what it is given in a file."""
    kept = tmp_path / "kept.txt"
    pager = tmp_path / "pager"
    pager.write_text(f"#!/bin/sh\nexec cat > {kept}\n", "utf-8")
    pager.chmod(0o755)
    monkeypatch.setattr(showing.shutil, "get_terminal_size", lambda *_, **__: os.terminal_size((80, 24)))
    monkeypatch.setenv("PAGER", str(pager))
    monkeypatch.setenv("TERM", "xterm")
    return kept


def at_terminal(monkeypatch: pytest.MonkeyPatch) -> Screen:
    """Put screens in place of the streams, inside the test, since pytest puts its own in place before it."""
    screen = Screen()
    monkeypatch.setattr(sys, "stdout", screen)
    monkeypatch.setattr(sys, "stdin", Screen())
    return screen


def test_a_long_page_goes_through_the_readers_pager(paged: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    screen = at_terminal(monkeypatch)
    show_page(LONG)
    assert LONG == paged.read_text("utf-8")
    assert "" == screen.getvalue()


@pytest.mark.parametrize(
    ("text", "asked", "variable", "value"),
    [
        (SHORT, True, "TERM", "xterm"),
        (LONG, False, "TERM", "xterm"),
        (LONG, True, "TERM", "dumb"),
        (LONG, True, "PAGER", "cat"),
        (LONG, True, "PAGER", ""),
        (LONG, True, "PAGER", "no-such-pager-anywhere"),
    ],
)
def test_otherwise_it_is_written_straight(
    paged: Path, monkeypatch: pytest.MonkeyPatch, text: str, asked: bool, variable: str, value: str
) -> None:
    monkeypatch.setenv(variable, value)
    screen = at_terminal(monkeypatch)
    show_page(text, pager=asked)
    assert not paged.exists()
    assert text == screen.getvalue()


def test_a_pipe_gets_no_pager(paged: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    at_terminal(monkeypatch)
    monkeypatch.setattr(sys, "stdout", io.StringIO())
    show_page(LONG)
    assert not paged.exists()


@pytest.mark.usefixtures("paged")
@pytest.mark.parametrize(
    ("variable", "value"), [("NO_COLOR", "1"), ("CLICOLOR", "0"), ("TERM", "dumb"), ("TERM", "xterm")]
)
def test_looks_can_be_wished_away(monkeypatch: pytest.MonkeyPatch, variable: str, value: str) -> None:
    at_terminal(monkeypatch)
    for name in ("NO_COLOR", "CLICOLOR"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv(variable, value)
    assert ((variable, value) == ("TERM", "xterm")) == shows_looks()
