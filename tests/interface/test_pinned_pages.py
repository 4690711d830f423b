"""What each command prints, letter for letter, at 80 columns.

A page that was meant to change is renewed with

    ADVISOR_RENEW_PINNED=1 python -m pytest tests/interface/test_pinned_pages.py

and then read as a change like any other.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest

from advisor.interface.commands.command_line import main

PINNED = Path(__file__).parent / "pinned"
RENEW = bool(os.environ.get("ADVISOR_RENEW_PINNED"))
PAGES = {
    "check-sound": ("check", "canteen-sandwich-loaf"),
    "check-faulty": ("check", "canteen-sandwich-loaf-excess-water"),
    "check-all": ("check", "psyllium-rolls-too-little-binder", "--all"),
    "diagnose": (
        "diagnose", "canteen-sandwich-loaf-excess-water", "--saw", "gummy_centre", "collapse_on_cooling",
        "--not", "dry_crumb",
    ),
    "lint": ("lint",),
    "sources": ("sources", "siffring"),
    "schema-unknown": ("--schema", "everything"),
}  # fmt: skip
"""Page to the command that prints it. An error is pinned as well: it is read as often as a page."""


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_as_pinned(
    name: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    for variable in ("LC_ALL", "LC_CTYPE", "LANG"):
        monkeypatch.delenv(variable, raising=False)
    code = main(PAGES[name])
    printed = capsys.readouterr()
    page = f"$ advisor {' '.join(PAGES[name])}  # exits {code}\n{printed.out}{printed.err}"
    path = PINNED / f"{name}.txt"
    if RENEW:
        PINNED.mkdir(exist_ok=True)
        path.write_text(page, "utf-8")
    pinned = path.read_text("utf-8")
    if (
        name == "lint"
    ):  # its counts move with every rule and ingredient, and two who add some would never agree
        pinned, page = (re.sub(r"\d+", "N", text) for text in (pinned, page))
    assert pinned.splitlines() == page.splitlines()


def test_nothing_is_pinned_that_no_command_prints() -> None:
    assert {f"{name}.txt" for name in PAGES} == {path.name for path in PINNED.iterdir()}
