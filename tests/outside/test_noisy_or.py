"""Posteriors against a general Bayesian-network library: pyAgrum, exact inference by lazy propagation.

The two-layer model (what this project computes) must equal it to 1e-9. The full three-layer network, in
which causes of one mechanism share it, is what the two layers stand for; the gap is measured here on small
cases and bounded.
"""

from __future__ import annotations

import random
import warnings
from pathlib import Path

import pytest

from advisor.diagnosis.cause_graph import CauseGraph
from advisor.diagnosis.posterior import Evidence, weigh
from advisor.diagnosis.signs import Sign, damp_alike, most_telling_first
from advisor.knowledge_base.graph_entries import Link
from advisor.knowledge_base.measured import Coefficient
from advisor.knowledge_base.reading import read_entries

with warnings.catch_warnings():
    # Its generated wrapper warns while it is set up in C, where a warning turned into an error ends the
    # process.
    warnings.simplefilter("ignore", DeprecationWarning)
    import pyagrum as gum

EXPONENT = 0.2  # as in knowledge/coefficients.yaml, checked below


def boolean(name: str) -> gum.LabelizedVariable:
    return gum.LabelizedVariable(name, name, 2)


def add_causes(net: gum.BayesNet, priors: dict[str, float]) -> None:
    for cause, p in priors.items():
        net.add(boolean(cause))
        net.cpt(cause).fillWith([1 - p, p])


def posterior(net: gum.BayesNet, causes: dict[str, float], seen: dict[str, int]) -> dict[str, float]:
    inference = gum.LazyPropagation(net)
    inference.setEvidence(seen)
    inference.makeInference()
    return {cause: float(inference.posterior(cause)[1]) for cause in causes}


@pytest.mark.parametrize("seen", range(9))
@pytest.mark.parametrize("seed", range(4))
def test_two_layers_equal_the_library(seen: int, seed: int) -> None:
    rng = random.Random(100 * seed + seen)
    priors = {f"c{i}": rng.choice([0.001, 0.02, 0.1, 0.4]) for i in range(9)}
    net = gum.BayesNet()
    add_causes(net, priors)
    signs = []
    for j in range(seen + 2):
        sign = Sign(
            symptom=f"s{j}",
            leak=rng.choice([0.005, 0.02, 0.1]),
            influence={c: rng.uniform(0.02, 0.95) for c in priors if rng.random() < 0.5},
        )
        signs.append(sign)
        net.addNoisyORNet(boolean(sign.symptom), sign.leak)
        for cause, strength in sign.influence.items():
            net.addWeightedArc(cause, sign.symptom, strength)
    expected = posterior(net, priors, {s.symptom: int(j < seen) for j, s in enumerate(signs)})
    evidence = Evidence(priors=priors, present=tuple(signs[:seen]), absent=tuple(signs[seen:]))
    assert pytest.approx(expected, abs=1e-9) == weigh(evidence)[0].probability


# Two causes of a wet crumb, of which one also makes the dough run, and an unrelated third.
PRIORS = {"water": 0.1, "short_bake": 0.06, "old_powder": 0.05}
EDGES = (
    ("water", "unset", 0.8),
    ("short_bake", "unset", 0.85),
    ("water", "slack", 0.8),
    ("old_powder", "no_gas", 0.85),
    ("unset", "gummy_centre", 0.85),
    ("unset", "gummy_base", 0.7),
    ("unset", "wet_base", 0.6),
    ("slack", "runny_dough", 0.85),
    ("no_gas", "flat_loaf", 0.85),
    ("unset", "flat_loaf", 0.3),
)
MECHANISMS = ("unset", "slack", "no_gas")
ALIKE = {"gummy_centre": "wet_crumb", "gummy_base": "wet_crumb", "wet_base": "wet_crumb"}
SYMPTOMS = (*ALIKE, "runny_dough", "flat_loaf")
ONE = [(s,) for s in SYMPTOMS]
UNLIKE = [("gummy_centre", "runny_dough"), ("gummy_centre", "flat_loaf"), ("runny_dough", "flat_loaf")]
REPEATED = [
    ("gummy_centre", "gummy_base"),
    ("gummy_base", "wet_base"),
    ("gummy_centre", "gummy_base", "wet_base"),
]


def three_layers(mechanism_leak: float, symptom_leak: float) -> gum.BayesNet:
    """Mechanisms happen for unknown reasons as well: then all their symptoms come without a known cause."""
    net = gum.BayesNet()
    add_causes(net, PRIORS)
    for mechanism in MECHANISMS:
        net.addNoisyORNet(boolean(mechanism), mechanism_leak)
    for symptom in SYMPTOMS:
        net.addNoisyORNet(boolean(symptom), symptom_leak)
    for start, to, strength in EDGES:
        net.addWeightedArc(start, to, strength)
    return net


def two_layers(net: gum.BayesNet, seen: tuple[str, ...], exponent: float) -> dict[str, float]:
    links = [
        Link.model_validate({"from": a, "to": b, "strength": s, "acts": "cooling", "grade": "demo"})
        for a, b, s in EDGES
    ]
    graph = CauseGraph.build(PRIORS, MECHANISMS, SYMPTOMS, links)
    signs = []
    for symptom in seen:
        # The leak of a symptom is how often it comes with no known cause, by whatever way.
        leak = posterior(net, {symptom: 0.0}, dict.fromkeys(PRIORS, 0))[symptom]
        signs.append(Sign(symptom=symptom, leak=leak, influence=graph.reached_by[symptom]))
    present = damp_alike(most_telling_first(signs, PRIORS), ALIKE, exponent)
    return dict(weigh(Evidence(priors=PRIORS, present=present))[0].probability)


def gap(net: gum.BayesNet, sets: list[tuple[str, ...]], exponent: float = EXPONENT) -> float:
    """Give the largest difference of a cause's probability between two and three layers."""
    worst = 0.0
    for seen in sets:
        full = posterior(net, PRIORS, dict.fromkeys(seen, 1))
        flat = two_layers(net, seen, exponent)
        worst = max(worst, *(abs(full[cause] - flat[cause]) for cause in PRIORS))
    return worst


# (leak of a mechanism, leak of a symptom beside it): from "every symptom has unknown causes of its own" to
# "unknown causes act by the mechanisms, as the known ones do".
LEAKS = [(0.0, 0.02), (0.01, 0.01), (0.02, 0.001), (0.03, 0.005)]


@pytest.mark.parametrize("leaks", LEAKS)
def test_gap_to_three_layers_is_below_a_hundredth_for_one_symptom(leaks: tuple[float, float]) -> None:
    assert gap(three_layers(*leaks), ONE) < 0.01


@pytest.mark.parametrize("leaks", LEAKS)
def test_gap_to_three_layers_is_below_eight_hundredths_for_two_unlike_symptoms(
    leaks: tuple[float, float],
) -> None:
    assert gap(three_layers(*leaks), UNLIKE) < 0.08


@pytest.mark.parametrize("leaks", LEAKS)
def test_gap_to_three_layers_is_below_five_hundredths_for_symptoms_of_one_origin(
    leaks: tuple[float, float],
) -> None:
    assert gap(three_layers(*leaks), REPEATED) < 0.05


def test_the_damping_in_use_keeps_the_worst_gap_smallest() -> None:
    path = Path(__file__).resolve().parents[2] / "knowledge" / "coefficients.yaml"
    values = {entry.id: entry.value for entry, _ in read_entries(path, path.name, Coefficient)}
    assert values["odds_alike_exponent"] == EXPONENT
    nets = [three_layers(*leaks) for leaks in LEAKS]
    worst = {e: max(gap(net, REPEATED, e) for net in nets) for e in (0.05, 0.1, 0.2, 0.3, 0.5, 1.0)}
    assert min(worst, key=lambda e: worst[e]) == EXPONENT
    assert worst[EXPONENT] < worst[1.0] / 2
