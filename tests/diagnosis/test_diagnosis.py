"""The whole way from suspicions and symptoms to ranked causes and risks, on a small invented graph."""

from __future__ import annotations

import itertools
import pickle
from math import prod
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from laws import examples

from advisor.diagnosis.cause_graph import CauseGraph
from advisor.diagnosis.diagnosis import Diagnosis, diagnose_causes, signs_of
from advisor.diagnosis.ranking import kinds_of, weigh_with_unions
from advisor.diagnosis.risk import forward_risks
from advisor.inference.situation import Suspicion
from advisor.knowledge_base.graph_entries import Cause, Link, Mechanism, Symptom
from advisor.knowledge_base.measured import Coefficient
from advisor.knowledge_base.reading import read_entries

KNOWLEDGE = Path(__file__).resolve().parents[2] / "knowledge"
COEFFICIENTS = {
    entry.id: entry
    for entry, _ in read_entries(KNOWLEDGE / "coefficients.yaml", "coefficients.yaml", Coefficient)
}


def cause(name: str, rate: float = 0.05, *, refines: str | None = None, handling: bool = False) -> Cause:
    return Cause(
        id=name, name=name, group="demo", base_rate=rate, says="Demo.", grade="demo", refines=refines,
        handling=handling,
    )  # fmt: skip


def symptom(name: str, alike: str | None = None) -> Symptom:
    return Symptom(
        id=name, name=name, question="Demo?", says="Demo.", look="Demo.", severity=0.5, leak=0.02, seconds=5,
        alike=alike, grade="demo",
    )  # fmt: skip


CAUSES = {
    c.id: c
    for c in (
        cause("water", 0.1),
        cause("weak_net"),
        cause("few_eggs", refines="weak_net"),
        cause("much_meal", refines="weak_net"),
        cause("jolted", handling=True),
        cause("old_powder"),
    )
}
SYMPTOMS = {
    s.id: s
    for s in (
        symptom("gummy", "wet"), symptom("gummy_base", "wet"), symptom("runny"), symptom("fallen"),
        symptom("flat"), symptom("purple"),
    )
}  # fmt: skip
MECHANISMS = ("unset", "slack", "no_walls", "no_gas")
GRAPH = CauseGraph.build(
    CAUSES,
    MECHANISMS,
    SYMPTOMS,
    [
        Link.model_validate({"from": a, "to": b, "strength": s, "acts": "late_oven", "grade": "demo"})
        for a, b, s in (
            ("water", "unset", 0.8), ("water", "slack", 0.8), ("few_eggs", "unset", 0.5),
            ("few_eggs", "no_walls", 0.8), ("much_meal", "no_walls", 0.7), ("weak_net", "no_walls", 0.6),
            ("jolted", "no_walls", 0.5), ("old_powder", "no_gas", 0.85), ("unset", "gummy", 0.85),
            ("unset", "gummy_base", 0.7), ("slack", "runny", 0.85), ("no_walls", "fallen", 0.85),
            ("unset", "fallen", 0.3), ("no_gas", "flat", 0.85), ("no_walls", "flat", 0.3),
        )
    ],
)  # fmt: skip


def say(about: str, evidence: str, *, rule: str = "r", group: str = "g") -> Suspicion:
    full = evidence in ("against", "rules_out")
    return Suspicion(
        cause=about, rule=rule, evidence=evidence, group=group, excess=1 - full, depth=float(full)
    )


def diagnose(
    *suspicions: Suspicion, saw: tuple[str, ...] = (), absent: tuple[str, ...] = (), after_bake: bool = True
) -> Diagnosis:
    return diagnose_causes(
        GRAPH, CAUSES, SYMPTOMS, suspicions, dict.fromkeys(saw, True) | dict.fromkeys(absent, False),
        after_bake=after_bake, coefficients=COEFFICIENTS,
    )  # fmt: skip


def test_before_the_bake_the_posterior_is_the_prior_and_handling_is_left_out() -> None:
    found = diagnose(after_bake=False)
    assert found.priors == pytest.approx(found.own)
    assert found.left_out == ("jolted",)
    assert found.cause("jolted") is None


def test_risk_is_noisy_or_over_causes_with_their_contributions() -> None:
    found = diagnose(say("water", "strong"), after_bake=False)
    p = found.priors
    expected = 1 - 0.98 * (1 - p["water"] * 0.8 * 0.85) * (1 - p["few_eggs"] * 0.5 * 0.85)
    assert pytest.approx(expected) == found.risks["gummy"].risk
    assert [c.cause for c in found.risks["gummy"].contributions] == ["water", "few_eggs"]
    assert pytest.approx(p["water"] * 0.68) == found.risks["gummy"].contributions[0].share
    assert pytest.approx(0.02) == found.risks["purple"].risk


def test_one_strong_fault_stands_out_and_a_quiet_formula_stays_quiet() -> None:
    assert diagnose(say("water", "strong"), after_bake=False).risks["gummy"].risk > 0.35
    quiet = diagnose(say("water", "against"), after_bake=False)
    assert max(risk.risk for risk in quiet.risks.values()) < 0.35


def test_a_symptom_raises_its_cause_and_the_formula_can_sink_it_again() -> None:
    saw = diagnose(saw=("runny",)).own["water"]
    assert saw > 0.5 > diagnose().own["water"]
    assert saw > diagnose(say("water", "against"), saw=("runny",)).own["water"]
    assert diagnose(say("water", "rules_out"), saw=("runny",)).own["water"] < 0.05


def test_a_cause_that_explains_two_symptoms_rises_above_those_that_explain_one() -> None:
    assert next(c.id for c in diagnose(saw=("gummy", "fallen"), absent=("runny",)).causes if
                              c.id in ("few_eggs", "much_meal", "water")) == "few_eggs"  # fmt: skip


def test_alike_symptoms_count_for_less_than_unlike_ones() -> None:
    unlike = {name: s.model_copy(update={"alike": None}) for name, s in SYMPTOMS.items()}
    saw = {"gummy": True, "gummy_base": True}
    one = diagnose(saw=("gummy",)).own["water"]
    twice = diagnose(saw=("gummy", "gummy_base")).own["water"]
    apart = diagnose_causes(GRAPH, CAUSES, unlike, (), saw, after_bake=True, coefficients=COEFFICIENTS).own[
        "water"
    ]
    assert one < twice < apart


def test_a_parent_is_the_exact_union_of_itself_and_its_kinds() -> None:
    found = diagnose(saw=("fallen", "gummy"))
    members = sorted(kinds_of(CAUSES)["weak_net"] | {"weak_net"})
    joint, total = 0.0, 0.0
    for lit in itertools.product((False, True), repeat=len(found.priors)):
        on = {name for name, is_on in zip(found.priors, lit, strict=True) if is_on}
        weight = prod(p if name in on else 1 - p for name, p in found.priors.items())
        for sign in found.evidence.present:
            weight *= 1 - (1 - sign.leak) * prod(1 - sign.influence.get(name, 0.0) for name in on)
        total += weight
        joint += weight * any(member in on for member in members)
    parent = found.cause("weak_net")
    assert parent is not None
    assert pytest.approx(joint / total) == parent.probability
    assert pytest.approx(found.own["weak_net"]) == parent.own
    ids = [rank.id for rank in found.causes]
    assert ids.index("few_eggs") + 1 == ids.index("weak_net"), (
        "a heading stands right behind the kind that leads it"
    )


def test_before_evidence_the_union_is_that_of_independent_causes() -> None:
    _, unions = weigh_with_unions(diagnose(after_bake=False).evidence, kinds_of(CAUSES))
    assert pytest.approx(1 - 0.95**3) == unions["weak_net"]


def test_a_circle_of_kinds_is_refused() -> None:
    with pytest.raises(ValueError, match="refines itself"):
        kinds_of({"a": cause("a", refines="b"), "b": cause("b", refines="a")})


def test_a_rank_says_what_speaks_for_and_against() -> None:
    found = diagnose(
        say("water", "strong", rule="too-wet"), say("water", "against", rule="handles-well", group="h"),
        saw=("gummy",), absent=("runny",),
    )  # fmt: skip
    rank = found.cause("water")
    assert rank is not None
    assert (
        rank.rules, rank.rules_for, rank.rules_against,
    ) == (("too-wet", "handles-well"), ("too-wet",), ("handles-well",))  # fmt: skip
    assert (rank.seen_for, rank.absent_against) == (("gummy",), ("runny",))
    assert rank.chains == (("water", "unset", "gummy"),)


def test_chains_lead_to_what_was_seen_or_else_to_what_is_most_at_risk() -> None:
    few = diagnose(saw=("flat",)).cause("few_eggs")
    assert few is not None
    assert few.chains == (("few_eggs", "no_walls", "flat"),)
    water = diagnose(say("water", "strong"), after_bake=False).cause("water")
    assert water is not None
    assert {("water", "unset", "gummy"), ("water", "slack", "runny")} < set(water.chains)


def test_what_no_cause_explains_and_what_was_not_weighed_is_said() -> None:
    assert diagnose(saw=("purple",)).warnings == ("No cause that was weighed leads to 'purple'.",)
    many = {f"s{n:02}": symptom(f"s{n:02}") for n in range(14)}
    links = [
        Link.model_validate(
            {"from": "water", "to": name, "strength": 0.2 + n / 20, "acts": "cooling", "grade": "demo"}
        )
        for n, name in enumerate(many)
    ]
    graph = CauseGraph.build(["water"], [], many, links)
    found = diagnose_causes(
        graph, {"water": CAUSES["water"]}, many, (), dict.fromkeys(many, True), after_bake=True,
        coefficients=COEFFICIENTS,
    )  # fmt: skip
    assert found.warnings == ("14 symptoms were seen; the 12 most telling were weighed, without: s01, s00.",)
    assert len(found.evidence.present) == 12


def test_unknown_symptoms_are_answered_with_the_right_ones() -> None:
    with pytest.raises(KeyError, match="near: gummy"):
        diagnose(saw=("gumy",))


words = st.sampled_from(["weak", "moderate", "strong", "against", "rules_out"])


@examples(30)
@given(
    said=st.lists(st.tuples(st.sampled_from(sorted(CAUSES)), words, st.sampled_from("abc")), max_size=8),
    observed=st.dictionaries(st.sampled_from(sorted(SYMPTOMS)), st.booleans()),
    order=st.randoms(use_true_random=False),
    after_bake=st.booleans(),
)
def test_order_changes_nothing_and_all_stays_in_range(said, observed, order, after_bake) -> None:  # type: ignore[no-untyped-def]
    suspicions = [say(c, word, rule=f"r{n}", group=g) for n, (c, word, g) in enumerate(said)]
    options = {"after_bake": after_bake, "coefficients": COEFFICIENTS}
    first = diagnose_causes(GRAPH, CAUSES, SYMPTOMS, suspicions, observed, **options)
    order.shuffle(suspicions)
    seen = list(observed.items())
    order.shuffle(seen)
    names = list(CAUSES)
    order.shuffle(names)
    shuffled = {name: CAUSES[name] for name in names}
    again = diagnose_causes(GRAPH, shuffled, SYMPTOMS, suspicions, dict(seen), **options)
    assert first == again
    assert all(0 <= rank.own <= rank.probability <= 1 for rank in first.causes)
    assert all(risk.leak - 1e-12 <= risk.risk < 1 for risk in first.risks.values())


def test_more_evidence_for_a_cause_never_lowers_it() -> None:
    for saw in ((), ("gummy",), ("gummy", "fallen")):
        steps = [diagnose(saw=saw).own["water"]]
        steps += [
            diagnose(say("water", word), saw=saw).own["water"] for word in ("weak", "moderate", "strong")
        ]
        assert sorted(steps) == steps


def test_what_leads_to_nothing_that_was_seen_stands_behind_what_explains_it() -> None:
    found = diagnose(say("water", "strong"), saw=("flat",))
    order = [rank.id for rank in found.causes]
    water, powder = found.cause("water"), found.cause("old_powder")
    assert water is not None
    assert powder is not None
    assert not water.seen_for
    assert water.probability > powder.probability
    assert order.index("old_powder") < order.index("water")
    assert water.standing == pytest.approx(COEFFICIENTS["odds_beside_share"].value * water.probability)
    assert powder.standing == powder.probability


def test_of_two_faults_the_dough_comes_before_the_oven_and_taste_comes_last() -> None:
    """Both are at work and explain different things: water and flat powder, of which one may be of oven or taste."""
    said = say("water", "weak"), say("old_powder", "strong")

    def first(group: str = "demo", *more: Suspicion, taste: str = "") -> str:
        causes = {**CAUSES, "old_powder": CAUSES["old_powder"].model_copy(update={"group": group})}
        symptoms = {n: s.model_copy(update={"tasted": n == taste}) for n, s in SYMPTOMS.items()}
        return diagnose_causes(
            GRAPH, causes, symptoms, (*said, *more), {"runny": True, "flat": True}, after_bake=True,
            coefficients=COEFFICIENTS,
        ).causes[0].id  # fmt: skip

    assert first() == "old_powder"
    assert first("baking") == "water"
    assert first(taste="flat") == "water"
    assert first("baking", taste="runny") == "old_powder"
    assert first("baking", say("old_powder", "told", group="thermometer")) == "old_powder"


def test_a_diagnosis_pickles() -> None:
    found = diagnose(saw=("gummy",))
    assert found == pickle.loads(pickle.dumps(found))


def test_risks_of_a_likelier_cause_are_never_lower() -> None:
    signs = signs_of(GRAPH, SYMPTOMS).values()
    low, high = (forward_risks(signs, {"water": p, "few_eggs": 0.1}) for p in (0.1, 0.6))
    assert all(low[name].risk <= high[name].risk for name in low)


def test_the_graph_in_use_explains_every_symptom_and_lets_every_cause_show() -> None:
    read = {
        name: [entry for entry, _ in read_entries(KNOWLEDGE / f"{name}.yaml", name, model)]
        for name, model in (("causes", Cause), ("mechanisms", Mechanism), ("symptoms", Symptom))
    }
    links = [entry for entry, _ in read_entries(KNOWLEDGE / "links.yaml", "links", Link)]
    causes = {c.id: c for c in read["causes"] if isinstance(c, Cause)}
    symptoms = {s.id: s for s in read["symptoms"] if isinstance(s, Symptom)}
    graph = CauseGraph.build(causes, [m.id for m in read["mechanisms"]], symptoms, links)
    assert all(graph.influence[cause] for cause in causes)
    assert [name for name in symptoms if not graph.reached_by[name]] == []
    found = diagnose_causes(graph, causes, symptoms, (), {}, after_bake=False, coefficients=COEFFICIENTS)
    assert len(causes) == len(found.causes) + len(found.left_out)
