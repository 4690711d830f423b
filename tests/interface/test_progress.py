"""What takes more than a moment is said on a terminal's standard error, and nowhere else."""

from __future__ import annotations

import io
import sys
import time

import pytest

from advisor.interface.desk import progress as module
from advisor.interface.desk.progress import progress


class Screen(io.StringIO):
    """Standard error on a terminal, or not."""

    def __init__(self, *, terminal: bool) -> None:
        super().__init__()
        self.terminal = terminal

    def isatty(self) -> bool:
        return self.terminal


@pytest.fixture
def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_QUIET_S", 0.01)


def shown(monkeypatch: pytest.MonkeyPatch, seconds: float, *, terminal: bool = True) -> str:
    screen = Screen(terminal=terminal)
    monkeypatch.setattr(sys, "stderr", screen)
    with progress("reading"):
        time.sleep(seconds)
    return screen.getvalue()


@pytest.mark.usefixtures("at_once")
def test_slow_work_is_said_and_the_line_is_taken_away(monkeypatch: pytest.MonkeyPatch) -> None:
    said = shown(monkeypatch, 0.2)
    assert said.startswith("reading ...")
    assert said.endswith("\r" + " " * len("reading ...") + "\r")


def test_quick_work_needs_no_word(monkeypatch: pytest.MonkeyPatch) -> None:
    assert "" == shown(monkeypatch, 0.0)


@pytest.mark.usefixtures("at_once")
def test_a_pipe_gets_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    assert "" == shown(monkeypatch, 0.1, terminal=False)


@pytest.mark.usefixtures("at_once")
def test_the_line_is_taken_away_when_the_work_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    screen = Screen(terminal=True)
    monkeypatch.setattr(sys, "stderr", screen)
    with pytest.raises(RuntimeError), progress("reading"):
        time.sleep(0.2)
        raise RuntimeError
    assert screen.getvalue().endswith("\r")
