"""Probabilities against what came true, over all cases: better than the base rate, and how far they can be believed."""

from __future__ import annotations

import runpy
from functools import cache
from pathlib import Path
from types import SimpleNamespace

import pytest

BENCH = Path(__file__).parent / "bench" / "calibration.py"


@cache
def bench() -> SimpleNamespace:
    return SimpleNamespace(**runpy.run_path(str(BENCH)))


@cache
def said(what: str):
    return tuple(getattr(bench(), what)())


@pytest.mark.parametrize("what", ["every_cause", "risks_before_the_bake"])
def test_probabilities_beat_the_base_rate(what):
    """By half at least; a forecast that knew nothing of the case would score the base rate."""
    score, base = bench().brier(said(what)), bench().brier_of_base_rate(said(what))
    assert score <= 0.5 * base, f"Brier {score:.4f}, base rate {base:.4f}"


@pytest.mark.xfail(
    reason="not calibrated since evidence counts once: Brier 0.058 against 0.052, pages print words",
    strict=False,
)
def test_the_first_cause_is_no_worse_than_the_base_rate():
    """More than nine in ten first causes are right, so that always saying so is hard to beat."""
    score, base = (bench().brier(said("first_causes")), bench().brier_of_base_rate(said("first_causes")))
    assert score <= base, f"Brier {score:.4f}, base rate {base:.4f}"


def test_the_first_cause_is_not_said_too_surely():
    for b in bench().bins(said("first_causes")):
        if b.many >= 10:
            assert b.mean <= b.interval[1], (
                f"{b.low} to {b.high}: said {b.mean:.2f}, true {b.true} of {b.many}"
            )


def test_a_cause_is_oftener_right_the_surer_it_is_said():
    rates = [b.rate for b in bench().bins(said("every_cause"))]
    assert rates == sorted(rates), rates


def test_a_high_risk_before_the_bake_comes_true():
    """From 0.35 on a risk is told; of those at least nine in ten were seen."""
    told = [s for s in said("risks_before_the_bake") if s.probability > 0.35]
    assert 100 <= len(told)
    assert 0.9 * len(told) <= sum(s.true for s in told)


# ---- the measures themselves


def test_brier_scores_by_hand():
    """Two of three right: sure and right 0, sure and wrong 1, even 1/4; base rate 2/3 gives 2/9."""
    made = [bench().Said(probability=p, true=t) for p, t in ((1.0, True), (1.0, False), (0.5, True))]
    assert bench().brier(made) == pytest.approx((0 + 1 + 0.25) / 3)
    assert bench().brier_of_base_rate(made) == pytest.approx(2 / 9)
    assert bench().gap(made) == pytest.approx(2.5 / 3 - 2 / 3)


def test_bins_hold_every_statement_once():
    made = [bench().Said(probability=n / 20, true=n > 10) for n in range(21)]
    found = bench().bins(made)
    assert sum(b.many for b in found) == 21
    assert all(b.low <= b.mean <= b.high for b in found)
    assert sum(b.true for b in found) == 10
