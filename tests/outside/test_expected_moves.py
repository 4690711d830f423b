"""What food science expects to move moves: expected_moves.yaml, written before the models were looked at.

A sign that is wrong is a fault; so is a measure, or a kind of change, that is silent too often.
"""

from __future__ import annotations

from collections import Counter

from expected_moves import read_rows, tried_moves
from kept_apart import READINGS

LEAST_RIGHT = 0.9
LEAST_OF_A_MEASURE = 0.7
COUNTED_FROM = 7
"""A measure with fewer signs than this is counted among all only."""


def test_no_sign_is_wrong() -> None:
    assert [] == [
        f"{t.finding} {t.measure} {t.sign}: {t.said}" for _, t in tried_moves() if t.whole == "wrong"
    ]


def test_few_are_silent() -> None:
    right = [t for _, t in tried_moves() if t.whole == "right"]
    assert LEAST_RIGHT <= len(right) / len(tried_moves())


def test_no_measure_is_silent_often() -> None:
    tried = Counter(t.measure for _, t in tried_moves())
    right = Counter(t.measure for _, t in tried_moves() if t.whole == "right")
    few = {
        m: right[m] / n for m, n in tried.items() if n >= COUNTED_FROM and right[m] / n < LEAST_OF_A_MEASURE
    }
    assert {} == few


def test_every_row_asks_for_measures_that_are_read_and_is_told_apart() -> None:
    ids = [entry["id"] for _, entry in read_rows()]
    assert sorted(set(ids)) == sorted(ids)
    asked = {m for _, entry in read_rows() for m in entry["findings"]}
    assert set() == asked - set(READINGS)
    assert [] == [entry["id"] for _, entry in read_rows() if entry["base"] == entry["changed"]]
