"""`advisor` alone, a command mistyped, and the demo formulas."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from advisor import load_knowledge
from advisor.interface.commands import start
from advisor.interface.commands.command_line import main
from advisor.interface.desk.prompting import Left, Prompter


def test_without_a_terminal_it_says_where_to_start(capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main([])
    printed = capsys.readouterr()
    assert "advisor diagnose" in printed.out
    assert "" == printed.err


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("chek", "check"), ("diagnos", "diagnose"), ("ingredient", "ingredients"), ("reccord", "record")],
)
def test_a_mistyped_command_gets_the_nearest(
    typed: str, meant: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert 2 == main([typed, "x"])
    assert f"did you mean {meant}" in capsys.readouterr().err


def test_a_formula_in_place_of_a_command_is_told_how(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "loaf.txt"
    path.write_text("Loaf\n100 g almond flour\n")
    assert 2 == main([str(path)])
    assert "advisor check" in capsys.readouterr().err


def test_demos_are_listed_by_the_names_that_a_command_takes(capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["check", "--demos"])
    printed = capsys.readouterr().out
    assert all(name in printed for name in load_knowledge().formulas)
    assert 2 == main(["check", "no-such-loaf"])
    assert "advisor check --demos" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("typed", "ran"),
    [(["1"], [("diagnose",)]), (["x", "2"], [("check",)]), (["3"], [("teach",)]), ([""], []), ([], []),
     (["4", "crumb", ""], [("glossary", "crumb"), ("symptoms", "crumb"), ("ingredients", "crumb")])],
)  # fmt: skip
def test_the_menu_runs_what_is_chosen(
    typed: list[str], ran: list[tuple[str, ...]], monkeypatch: pytest.MonkeyPatch
) -> None:
    class Typist(Prompter):
        def line(self, prompt: str, *, words: Sequence[str] = ()) -> str:
            if not typed:
                raise Left("")
            return typed.pop(0)

    began: list[tuple[str, ...]] = []

    def run(words: Sequence[str]) -> int:
        began.append(tuple(words))
        return 0

    monkeypatch.setattr(start, "can_ask", lambda: True)
    monkeypatch.setattr(start, "Prompter", Typist)
    assert 0 == start.run_start(run)
    assert ran == began
