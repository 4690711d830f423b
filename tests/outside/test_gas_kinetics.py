"""The kinetics of gas against a general-purpose solver of differential equations (scipy 1.x, solve_ivp, LSODA).

The models use closed forms and a fixed step, for speed; here the same balances are handed to scipy as they stand.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from gas_stages import oven
from scipy.integrate import solve_ivp

from advisor.formula.reading import read_formula_text
from advisor.models.leavening.acid_release import ReleaseRates
from advisor.models.leavening.fermentation import (
    Progress,
    Step,
    Surroundings,
    amylase_rate,
    ferment,
    relative_rate,
    yeast_in,
)
from advisor.models.leavening.neutralisation import ML_PER_MOL, Standing, given_over_time, soda_and_acids

CALM = Surroundings(salt_per_100g_water=2.0, sugar_per_100g_water=4.0, acid_meq=0.0)


@pytest.mark.parametrize(
    "text",
    [
        "6 g baking soda\n100 g water",
        "10 g baking powder",
        "4 g baking soda\n6 g sapp\n30 g cider vinegar",
        "4 g baking soda\n12 g gdl",
        "8 g baking soda\n5 g cream of tartar\n6 g baking powder",
    ],
)
def test_soda_and_acids_follow_their_equations(text, knowledge):
    """dA/dt = -k(T) A for each part of each acid; bicarbonate and carbonate are met in proportion; dB/dt has -k_s B."""
    rates = ReleaseRates.read(knowledge)
    dough = soda_and_acids(read_formula_text(text, knowledge), knowledge)
    standing = Standing(mix_min=5.0, last_min=0.5, dough_c=25.0, after=((30.0, 27.0),))
    heat = oven(27.0, 2.5, 96.0, 25.0)
    _, at_door, hot = given_over_time(dough, standing, heat, rates)
    parts = [
        (a.meq * share, number, rates.halves(a.acid))
        for a in dough.acids
        for number, share in enumerate(
            (a.acid.release_mix, a.acid.release_bench, a.acid.release_early_oven, a.acid.release_late_oven)
        )
    ]

    def rate(number, halves, t_c):
        if number == 0:
            return rates.mix
        if number == 1:
            return rates.bench_at(min(t_c, 60.0))
        return rates.gated_at(t_c, halves[number - 2])

    def slope(t_c, splits):
        def of(_, y):
            bicarbonate, carbonate, acids = max(y[0], 0.0), max(y[1], 0.0), y[2:]
            let_go = [rate(n, h, t_c) * max(a, 0.0) for (_, n, h), a in zip(parts, acids, strict=True)]
            base = bicarbonate + carbonate
            met = sum(let_go) if base > 1e-9 * dough.soda_meq else 0.0
            split = rates.soda_at(t_c) * bicarbonate if splits else 0.0
            d_b = -(met * bicarbonate / base if base > 0 else 0.0) - split
            d_c = split - (met * carbonate / base if base > 0 else 0.0)
            return [d_b, d_c, *(-g for g in let_go)]

        return of

    y = np.array([dough.soda_meq, 0.0, *(meq for meq, _, _ in parts)])
    for minutes, t_c in ((5.0, 25.0), (30.0, 27.0)):
        y = solve_ivp(slope(t_c, False), (0, minutes), y, method="LSODA", rtol=1e-7, atol=1e-9).y[:, -1]

    def given(y):
        return (dough.soda_meq - y[0] - y[1] / 2) * ML_PER_MOL / 1000

    scale = dough.potential_ml
    assert given(y) == pytest.approx(at_door, abs=0.003 * scale)
    for before, after, index in zip(
        heat.minutes, heat.minutes[1:], range(1, heat.minutes.size), strict=False
    ):
        low, high = heat.temp_c[index - 1, 0], heat.temp_c[index, 0]

        def moving(t, y, before=before, after=after, low=low, high=high):
            return slope(low + (high - low) * (t - before) / (after - before), True)(t, y)

        y = solve_ivp(moving, (before, after), y, method="LSODA", rtol=1e-6, atol=1e-8).y[:, -1]
        assert given(y) == pytest.approx(hot[index, 0], abs=0.005 * scale), f"minute {after:.1f}"


@pytest.mark.parametrize(
    ("text", "proof_c"),
    [
        ("500 g bread flour\n300 g water\n7 g instant yeast\n5 g sugar", 28.0),
        ("200 g vital wheat gluten\n260 g water\n8 g instant yeast\n6 g sugar", 30.0),
        ("200 g vital wheat gluten\n260 g water\n8 g instant yeast", 27.0),
        ("400 g whole wheat flour\n280 g water\n12 g fresh yeast", 24.0),
        ("500 g bread flour\n340 g water\n1 g instant yeast", 25.0),
    ],
)
def test_the_pools_of_the_yeast_follow_their_equations(text, proof_c, knowledge):
    """Three hours: quick sugar, maltose with what amylase frees, the cells' own store, and the cells that multiply."""
    yeast = yeast_in(read_formula_text(text, knowledge), CALM, 26.0, knowledge)
    relative, amylase = relative_rate(proof_c, knowledge), amylase_rate(proof_c, knowledge)
    start = Progress(minutes=0, made=0, could=0, food=yeast.food)
    steps = [Step(minutes=2.0, relative=relative, amylase=amylase)] * 90
    ours = [p.made for p in ferment(yeast, start, steps, knowledge)]
    edge = yeast.rate_ml_min * knowledge.coefficient("yeast_pool_edge_min")
    full = yeast.rate_ml_min * yeast.slowing * yeast.alive * relative

    def slope(t, y):
        q, m, f, o, x = (max(one, 0.0) for one in y)
        v = full * x * min(t / (2 * yeast.lag_min), 1.0)
        eaten_q = v * q / (q + edge)
        eaten_m = (v - eaten_q) * knowledge.coefficient("yeast_maltose_share") * m / (m + edge)
        freed = knowledge.coefficient("amylase_per_min") * amylase * f
        grows = yeast.grows_per_min * relative * max(1.0 - yeast.crowded * x, 0.0)
        return [-eaten_q, freed - eaten_m, -freed, -(v - eaten_q - eaten_m) * o / (o + edge), grows * x]

    food = yeast.food
    y0 = [food.quick, food.maltose, food.to_be_freed, food.store, 1.0]
    times = [2.0 * (n + 1) for n in range(90)]
    exact = solve_ivp(slope, (0, 180), y0, method="LSODA", t_eval=times, rtol=1e-8, atol=1e-9, max_step=1.0)
    known = food.total - exact.y[:4].sum(axis=0)
    assert max(abs(a - b) for a, b in zip(ours, known, strict=True)) < 0.01 * known[-1]


def test_dry_soda_splits_as_was_measured(knowledge):
    """Wu and Shih 1993 (abstract): first order, 105.8 kJ/mol, 6.7e12 per min; by hand at 400 K."""
    rates = ReleaseRates.read(knowledge)
    by_hand = 6.7e12 * math.exp(-105_800 / 8.314462618 / 400)
    assert by_hand == pytest.approx(rates.soda_at(400 - 273.15) / rates.soda_wet, rel=1e-3)


def test_first_order_release_halves_the_rest_in_equal_times(knowledge):
    """Glucono-delta-lactone is first order (Bellido et al. 2008): what is left after 20 and 40 minutes."""
    rates = ReleaseRates.read(knowledge)
    dough = soda_and_acids(read_formula_text("10 g baking soda\n10 g gdl", knowledge), knowledge)
    bench_only = [a for a in dough.acids if a.acid.release_bench > 0]
    assert bench_only
    left = [math.exp(-rates.bench_at(27.0) * t) for t in (20.0, 40.0)]
    assert left[0] ** 2 == pytest.approx(left[1])
