"""The posterior: two ways of summing agree, nothing is lost at twelve, and evidence moves what it should."""

from __future__ import annotations

import itertools
import random
from fractions import Fraction
from math import prod

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from laws import examples

from advisor.diagnosis.posterior import Evidence, Variant, cover, subtract, weigh
from advisor.diagnosis.signs import Sign, damp_alike, most_telling_first, telling

Signs = tuple[Sign, ...]


def network(seed: int, causes: int, symptoms: int, reach: float = 0.4) -> tuple[dict[str, float], Signs]:
    rng = random.Random(seed)
    priors = {f"c{i:02}": rng.uniform(0.001, 0.5) for i in range(causes)}
    signs = []
    for j in range(symptoms):
        leads = {c: rng.uniform(0.05, 0.9) for c in priors if rng.random() < reach}
        signs.append(Sign(symptom=f"s{j:02}", leak=rng.uniform(0.003, 0.06), influence=leads))
    return priors, tuple(signs)


def in_fractions(
    priors: dict[str, float], present: Signs, absent: Signs = ()
) -> tuple[float, dict[str, float]]:
    """Sum over every combination of causes, in exact arithmetic."""
    total, joint = Fraction(0), dict.fromkeys(priors, Fraction(0))
    for lit in itertools.product((False, True), repeat=len(priors)):
        on = [cause for cause, is_on in zip(priors, lit, strict=True) if is_on]
        weight = prod(
            (
                Fraction(p) if is_on else 1 - Fraction(p)
                for p, is_on in zip(priors.values(), lit, strict=True)
            ),
            start=Fraction(1),
        )
        for signs, seen in ((present, True), (absent, False)):
            for sign in signs:
                away = 1 - Fraction(sign.leak)
                for cause in on:
                    away *= 1 - Fraction(sign.influence.get(cause, 0.0))
                weight *= 1 - away if seen else away
        total += weight
        for cause in on:
            joint[cause] += weight
    return float(total), {cause: float(part / total) for cause, part in joint.items()}


@pytest.mark.parametrize(("seen", "absent"), [(0, 0), (0, 3), (1, 2), (4, 2), (8, 0)])
def test_posterior_equals_the_sum_over_all_combinations(seen: int, absent: int) -> None:
    priors, signs = network(7 + seen, 6, seen + absent)
    likelihood, expected = in_fractions(priors, signs[:seen], signs[seen:])
    found = weigh(Evidence(priors=priors, present=signs[:seen], absent=signs[seen:]))[0]
    assert pytest.approx(likelihood, rel=1e-9) == found.likelihood
    assert pytest.approx(expected, abs=1e-11) == found.probability


def arrays(priors: dict[str, float], signs: Signs) -> tuple[np.ndarray, ...]:
    prior = np.array(list(priors.values()))
    strengths = np.array([[sign.influence.get(cause, 0.0) for cause in priors] for sign in signs])
    return prior[None, :], 1 - prior, strengths, np.array([sign.leak for sign in signs])


@pytest.mark.parametrize("seen", range(1, 9))
def test_subtracting_and_covering_agree_within_the_stated_loss(seen: int) -> None:
    given_arrays = arrays(*network(seen, 20, seen))
    total, joint, loss = subtract(*given_arrays)
    covered_total, covered_joint = cover(*given_arrays)
    assert np.abs(joint / total - covered_joint / covered_total).max() <= loss[0] + 1e-14


def test_covering_loses_nothing_at_twelve() -> None:
    priors, signs = network(3, 8, 12)
    likelihood, expected = in_fractions(priors, signs)
    found = weigh(Evidence(priors=priors, present=signs))[0]
    assert pytest.approx(likelihood, rel=1e-12) == found.likelihood
    assert pytest.approx(expected, rel=1e-12) == found.probability


def test_where_subtracting_would_lose_digits_covering_is_taken() -> None:
    causes = {f"c{n}": 1e-4 for n in range(8)}
    signs = tuple(Sign(symptom=f"s{n}", leak=1e-4, influence={f"c{n}": 0.5, "c0": 0.1}) for n in range(8))
    _, _, loss = subtract(*arrays(causes, signs))
    assert loss[0] > 1e-3
    _, expected = in_fractions(causes, signs)
    assert pytest.approx(expected, rel=1e-10) == weigh(Evidence(priors=causes, present=signs))[0].probability


def test_thirteen_are_refused() -> None:
    priors, signs = network(1, 4, 13)
    with pytest.raises(ValueError, match="13 signs"):
        weigh(Evidence(priors=priors, present=signs))


@pytest.mark.parametrize("seen", [0, 3, 10])
def test_a_variant_is_the_evidence_written_out(seen: int) -> None:
    priors, signs = network(11, 9, seen + 1, reach=0.6)
    present, further = signs[:seen], signs[seen]
    ratios = {"c01": 4.0, "c05": 0.25}
    variants = [Variant(ratios=ratios), Variant(also_absent=further), Variant(without=frozenset({"c00"}))]
    answered, absent, without = weigh(Evidence(priors=priors, present=present), variants)
    tilted = {c: p * ratios.get(c, 1) / (1 - p + p * ratios.get(c, 1)) for c, p in priors.items()}
    assert weigh(Evidence(priors=tilted, present=present))[0].probability == pytest.approx(
        answered.probability
    )
    direct = weigh(Evidence(priors=priors, present=present, absent=(further,)))[0]
    assert pytest.approx(direct.likelihood) == absent.likelihood
    assert pytest.approx(direct.probability) == absent.probability
    left = {c: p for c, p in priors.items() if c != "c00"}
    gone = weigh(Evidence(priors=left, present=present))[0]
    assert pytest.approx(gone.likelihood * (1 - priors["c00"])) == without.likelihood
    assert without.probability["c00"] == 0.0


share = st.floats(0.001, 0.95)


@st.composite
def cases(draw: st.DrawFn) -> tuple[dict[str, float], Signs]:
    priors = {f"c{n}": draw(st.floats(1e-4, 0.6)) for n in range(draw(st.integers(1, 7)))}
    signs = tuple(
        Sign(
            symptom=f"s{n}",
            leak=draw(st.floats(0.001, 0.2)),
            influence=draw(st.dictionaries(st.sampled_from(sorted(priors)), share, max_size=5)),
        )
        for n in range(draw(st.integers(1, 6)))
    )
    return priors, signs


@examples(30)
@given(case=cases(), order=st.randoms(use_true_random=False), split=st.integers(0, 6))
def test_probabilities_stay_in_range_and_order_changes_nothing(
    case: tuple[dict[str, float], Signs], order: random.Random, split: int
) -> None:
    priors, signs = case
    present, absent = list(signs[:split]), list(signs[split:])
    found = weigh(Evidence(priors=priors, present=tuple(present), absent=tuple(absent)))[0]
    assert all(0 <= p <= 1 for p in found.probability.values())
    order.shuffle(present)
    order.shuffle(absent)
    names = list(priors)
    order.shuffle(names)
    mixed = Evidence(priors={n: priors[n] for n in names}, present=tuple(present), absent=tuple(absent))
    assert pytest.approx(found.probability, abs=1e-11) == weigh(mixed)[0].probability


@examples(30)
@given(case=cases())
def test_seeing_a_symptom_never_speaks_against_all_its_causes_at_once(
    case: tuple[dict[str, float], Signs],
) -> None:
    """That at least one of its causes is at work grows likelier when it is seen, and less likely when not.

    Single causes may fall (another one explains more), and so may the sum over them; their union cannot.
    """
    priors, signs = case
    before, last = signs[:-1], signs[-1]
    none = Variant(without=frozenset(last.influence))

    def union(present: Signs, absent: Signs) -> float:
        now, gone = weigh(Evidence(priors=priors, present=present, absent=absent), [Variant(), none])
        return 1 - gone.likelihood / now.likelihood

    assert union((*before, last), ()) >= union(before, ()) - 1e-9
    assert union(before, (last,)) <= union(before, ()) + 1e-9


@examples(30)
@given(case=cases())
def test_a_first_symptom_raises_and_its_absence_lowers_each_of_its_causes(
    case: tuple[dict[str, float], Signs],
) -> None:
    priors, signs = case
    seen = weigh(Evidence(priors=priors, present=signs[:1]))[0].probability
    absent = weigh(Evidence(priors=priors, absent=signs[:1]))[0].probability
    for cause, p in priors.items():
        if cause in signs[0].influence:
            assert absent[cause] <= p + 1e-12
            assert seen[cause] >= p - 1e-12
        else:
            assert pytest.approx(p) == seen[cause] == pytest.approx(absent[cause])


def test_telling_is_how_far_a_lone_sign_moves_the_causes() -> None:
    priors, signs = network(5, 8, 1)
    after = weigh(Evidence(priors=priors, present=signs))[0].probability
    assert pytest.approx(sum(abs(after[c] - p) for c, p in priors.items())) == telling(signs[0], priors)
    silent = Sign(symptom="a", leak=0.1, influence={})
    assert [signs[0], silent] == list(most_telling_first([silent, signs[0]], priors))


@given(leak=st.floats(0.001, 0.3), strength=share, weight=st.floats(0.05, 1.0))
def test_a_damped_sign_counts_as_a_power_of_its_likelihood(
    leak: float, strength: float, weight: float
) -> None:
    damped = Sign(symptom="s", leak=leak, influence={"c": strength}).damped(weight)
    alone = 1 - (1 - leak) * (1 - strength)
    assert 0 < damped.influence["c"] < 1
    damped_alone = 1 - (1 - damped.leak) * (1 - damped.influence["c"])
    assert pytest.approx((alone / leak) ** weight) == damped_alone / damped.leak


def test_only_the_first_of_an_origin_counts_in_full() -> None:
    signs = tuple(Sign(symptom=name, leak=0.04, influence={"c": 0.5}) for name in ("a", "b", "d", "e"))
    damped = damp_alike(signs, {"a": "wet", "b": None, "d": "wet", "e": "wet"}, 0.5)
    assert [0.04, 0.04, pytest.approx(0.04**0.5), pytest.approx(0.04**0.25)] == [s.leak for s in damped]
