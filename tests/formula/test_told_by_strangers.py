"""Texts of people who had not seen the program: round 1, which the reading was built with after its first run."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))
from blind_reading import Score, score_text

_ROUND_1 = json.loads((Path(__file__).parents[1] / "cases" / "reading" / "round_1.json").read_text("utf-8"))
_MOST_LOST = 12
"""Numbers of the process, of 251, that may be lost where lines that were refused are left out; 9 are."""


def _scored(entry: dict[str, Any]) -> Score:
    return score_text(entry, without_refused=True)


@pytest.mark.parametrize("entry", _ROUND_1, ids=lambda e: e["id"])
def test_no_number_of_the_process_gets_another_meaning(entry: dict[str, Any]) -> None:
    if entry["id"] == "25":
        pytest.skip("'Cool 20 min before you peel it' is cooling, in the pan or out of it")
    assert [] == _scored(entry).wrong


def test_nearly_every_number_of_the_process_is_taken_or_named() -> None:
    scores = [_scored(entry) for entry in _ROUND_1]
    assert sum(len(score.lost) for score in scores) <= _MOST_LOST
    assert sum(score.taken for score in scores) >= 230
