"""The scorer of kept-apart findings counts as it says, on moves that are made up here."""

from __future__ import annotations

import pytest
from kept_apart import READINGS, TOLERANCES, clustered, kept_apart, table, try_entry, try_sign

from advisor import load_knowledge


@pytest.mark.parametrize(
    ("sign", "was", "now", "whole", "half"),
    [
        ("+", 4.0, 4.3, "right", "right"),
        ("+", 4.0, 4.12, "silent", "right"),
        ("+", 4.0, 3.5, "wrong", "wrong"),
        ("-", 4.0, 3.5, "right", "right"),
        ("0", 4.0, 4.12, "right", "wrong"),
        ("0", 4.0, 4.3, "wrong", "wrong"),
        ("+", None, 4.0, "silent", "silent"),
    ],
)
def test_a_sign_is_right_only_where_the_move_is_noticed(sign, was, now, whole, half):
    tried = try_sign("x", "specific_volume", sign, was, now)
    assert (whole, half) == (tried.whole, tried.half)


def test_darker_is_less_light():
    assert "right" == try_sign("x", "crust_browning", "+", 70.0, 60.0).whole


def test_a_measure_that_nobody_reads_is_silent():
    assert "silent" == try_sign("x", "loudness", "+", 1.0, 2.0).whole


def test_signs_of_one_finding_widen_the_interval():
    apart = clustered([(str(n), n % 4 > 0) for n in range(40)])
    together = clustered([(str(n // 4), n >= 12) for n in range(40)])
    assert together[1] - together[0] > 1.2 * (apart[1] - apart[0])


def test_the_draw_is_fixed():
    assert [False, True, True] == [kept_apart(i) for i in ("MPR01", "MPR08", "MBA05")]


def test_every_published_measure_reads_one_that_the_product_knows():
    assert [] == sorted({r.ours for r in READINGS.values()} - set(load_knowledge().measures))
    assert set() == set(TOLERANCES) - set(READINGS)


def test_silence_stands_in_the_table():
    tried = [try_sign("a", "ph", "+", 5.0, 5.02), try_sign("b", "ph", "-", 5.0, 4.5)]
    assert "| ph | 2 | 2 | 1 | 0 | 1 | 50 %" in table(tried)


def test_a_formula_that_cannot_be_read_is_silence():
    entry = {"id": "x", "base": "500 g moondust", "changed": "500 g moondust", "findings": {"ph": "+"}}
    assert ["silent"] == [t.whole for t in try_entry(entry)]
