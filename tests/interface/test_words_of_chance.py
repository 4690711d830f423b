"""No probability is calibrated on cases made by others: a page says chances in words, and --all adds the figures."""

from __future__ import annotations

import re

import pytest

from advisor.interface.commands.command_line import main

FIGURE = re.compile(r"\((?:very )?(?:likely|unlikely|possible|quite possible), \d+ %\)")
RISK = re.compile(r"\d+ % to \d+ %")


@pytest.mark.parametrize(
    "command",
    [
        ("check", "canteen-sandwich-loaf-excess-water"),
        ("diagnose", "canteen-sandwich-loaf-excess-water", "--saw", "gummy_centre"),
    ],
)
def test_a_page_says_chances_in_words_and_all_of_it_adds_the_figures(command, capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "400")
    main(command)
    usual = capsys.readouterr().out
    main((*command, "--all"))
    whole = capsys.readouterr().out
    assert not FIGURE.search(usual)
    assert not RISK.search(usual)
    assert FIGURE.search(whole)
    assert RISK.search(whole)
