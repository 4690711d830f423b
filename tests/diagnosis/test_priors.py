"""Prior odds: base rate times one likelihood ratio for each evidence group."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.diagnosis.cause_odds import prior_of, weigh_suspicions
from advisor.diagnosis.evidence_scale import EvidenceScale
from advisor.inference.situation import Suspicion
from advisor.knowledge_base.graph_entries import Cause
from advisor.knowledge_base.measured import Coefficient
from advisor.knowledge_base.reading import read_entries

TOP = Path(__file__).resolve().parents[2]
COEFFICIENTS = {
    entry.id: entry
    for entry, _ in read_entries(TOP / "knowledge" / "coefficients.yaml", "coefficients.yaml", Coefficient)
}
SCALE = EvidenceScale.read(COEFFICIENTS)
WATER = Cause(id="water", name="Water", group="hydration", base_rate=0.1, says="Demo.", grade="demo")
JOLTED = Cause(
    id="jolted", name="Jolted", group="handling", base_rate=0.05, says="Demo.", grade="demo", handling=True
)


def said(
    evidence: str, *, group: str = "g", rule: str = "r", excess: float = 1.0, depth: float = 0.0
) -> Suspicion:
    return Suspicion(cause="water", rule=rule, evidence=evidence, group=group, excess=excess, depth=depth)


def odds(*suspicions: Suspicion) -> float:
    p = prior_of(WATER, suspicions, SCALE, after_bake=True).probability
    return p / (1 - p)


BASE = 0.1 / 0.9


def test_words_have_the_worth_that_the_rules_were_written_for() -> None:
    assert SCALE.supports == {"weak": 2, "moderate": 5, "strong": 15, "told": 60}
    assert (SCALE.against, SCALE.ruled_out_odds) == (0.2, 1e-4)


def test_without_evidence_the_base_rate_stands() -> None:
    assert pytest.approx(BASE) == odds()


def test_support_grows_with_excess_and_opposition_with_depth() -> None:
    assert pytest.approx(BASE * 15) == odds(said("strong"))
    assert pytest.approx(BASE * 15**0.5) == odds(said("strong", excess=0.5))
    assert pytest.approx(BASE * 0.2**0.5) == odds(said("against", excess=0.0, depth=0.5))


def test_within_a_group_only_the_rule_that_says_most_acts_on_each_side() -> None:
    assert pytest.approx(BASE * 15) == odds(said("weak"), said("strong"), said("moderate"))
    assert pytest.approx(BASE * 0.2) == odds(said("against", depth=0.4), said("against", depth=1.0))
    assert pytest.approx(BASE * 15 * 0.2) == odds(said("weak"), said("strong"), said("against", depth=1.0))


def test_groups_multiply() -> None:
    assert pytest.approx(BASE * 10) == odds(said("weak", group="a"), said("moderate", group="b"))


def test_what_speaks_for_and_against_alike_leaves_the_base_rate() -> None:
    tied = said("moderate", rule="z"), said("against", rule="a", depth=1.0)
    assert pytest.approx(BASE) == odds(*tied) == odds(*reversed(tied))


def test_ruling_out_sets_the_odds_whatever_else_is_said() -> None:
    assert pytest.approx(1e-4) == odds(said("rules_out"), said("strong", group="other"))


def test_ruling_out_never_raises_what_is_lower_already() -> None:
    low = [said("against", group=f"g{n}", depth=1.0) for n in range(6)]
    assert pytest.approx(BASE * 0.2**6) == odds(*low, said("rules_out"))


def test_rules_that_spoke_are_kept_apart_by_side_and_silent_ones_left_out() -> None:
    prior = prior_of(
        WATER,
        [said("weak", rule="w"), said("strong", rule="s"), said("against", rule="o", depth=0.3),
         said("against", rule="edge", depth=0.0)],
        SCALE, after_bake=True,
    )  # fmt: skip
    assert (prior.rules_for, prior.rules_against) == (("s", "w"), ("o",))


def test_handling_takes_part_after_the_bake_or_once_a_rule_speaks_for_it() -> None:
    def in_play(*suspicions: Suspicion, after_bake: bool) -> bool:
        found = weigh_suspicions({"jolted": JOLTED}, suspicions, SCALE, after_bake=after_bake)
        return found["jolted"].in_play

    stated = Suspicion(cause="jolted", rule="r", evidence="strong", group="g", excess=1.0, depth=0.0)
    opposed = Suspicion(cause="jolted", rule="r", evidence="against", group="g", excess=0.0, depth=1.0)
    assert in_play(after_bake=True)
    assert not in_play(after_bake=False)
    assert in_play(stated, after_bake=False)
    assert not in_play(opposed, after_bake=False)


def test_unknown_names_are_answered_with_the_right_ones() -> None:
    with pytest.raises(KeyError, match="near: water"):
        weigh_suspicions(
            {"water": WATER},
            [Suspicion(cause="watr", rule="r", evidence="weak", group="g", excess=1.0, depth=0.0)],
            SCALE,
            after_bake=True,
        )
    with pytest.raises(KeyError, match="known: weak, moderate, strong, told, against, rules_out"):
        odds(said("certain"))
    with pytest.raises(KeyError, match="odds_weak"):
        EvidenceScale.read({})
