"""From base rates and what the rules concluded to the odds of each cause before any symptom is weighed.

Odds form of Bayes' rule: odds = base rate / (1 - base rate) x product over the evidence groups of one likelihood ratio
for the cause and one against it. Rules of a group read the same raw quantity, so on each side only the one that says
most acts.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import log

from advisor.diagnosis.evidence_scale import EvidenceScale
from advisor.inference.situation import Suspicion
from advisor.knowledge_base.graph_entries import Cause
from advisor.knowledge_base.likeness import nearest

RULES_OUT = "rules_out"
AGAINST = "against"
TOLD = "told"


@dataclass(frozen=True, slots=True, kw_only=True)
class Prior:
    """What is thought of one cause before the symptoms; rules in order of what they say, most first."""

    cause: str
    probability: float
    in_play: bool
    """False for what only handling can bring, before the bake, unless a rule speaks for it."""
    rules_for: tuple[str, ...] = ()
    rules_against: tuple[str, ...] = ()


def likelihood_ratio(suspicion: Suspicion, scale: EvidenceScale) -> float:
    """Give what one suspicion multiplies the odds by: L^excess in favour, against^depth opposed.

    A suspicion that rules out has no ratio: it sets the odds. It is given as the odds that it sets. One that rests on
    something assumed counts by its share p as p L + (1 - p), and rules nothing out: it speaks against.

    Raises:
        KeyError: the evidence word is not on the scale.
    """
    if suspicion.evidence == RULES_OUT and suspicion.share >= 1.0:
        return scale.ruled_out_odds
    return suspicion.share * _at_its_word(suspicion, scale) + 1.0 - suspicion.share


def _at_its_word(suspicion: Suspicion, scale: EvidenceScale) -> float:
    if suspicion.evidence in (AGAINST, RULES_OUT):
        return float(scale.against**suspicion.depth)
    if suspicion.evidence not in scale.supports:
        known = ", ".join((*scale.supports, AGAINST, RULES_OUT))
        raise KeyError(f"evidence '{suspicion.evidence}' of rule '{suspicion.rule}'; known: {known}")
    return float(scale.supports[suspicion.evidence] ** suspicion.excess)


def _rules_out(suspicion: Suspicion) -> bool:
    return suspicion.evidence == RULES_OUT and suspicion.share >= 1.0


def prior_of(
    cause: Cause, suspicions: Iterable[Suspicion], scale: EvidenceScale, *, after_bake: bool
) -> Prior:
    """Weigh the suspicions that name this cause (others are not looked at)."""
    named = [s for s in suspicions if s.cause == cause.id]
    odds = cause.base_rate / (1.0 - cause.base_rate)
    said: list[tuple[float, float, Suspicion]] = []
    ruled_out = False
    for suspicion in named:
        ratio = likelihood_ratio(suspicion, scale)
        # Rounding lets 5^x and 0.2^x tie although their logarithms differ in the last digit.
        said.append((round(abs(log(ratio)), 12), ratio, suspicion))
        ruled_out = ruled_out or _rules_out(suspicion)
    said.sort(key=lambda item: (-item[0], item[1] <= 1.0, item[2].rule, item[2].group))
    acted: set[tuple[str, bool]] = set()
    for _, ratio, suspicion in said:
        # Rules that read one quantity and disagree: letting the stronger alone speak made alarms on sound loaves.
        if (side := (suspicion.group, ratio > 1.0)) not in acted and not _rules_out(suspicion):
            acted.add(side)
            odds *= ratio
    if ruled_out:
        odds = min(odds, scale.ruled_out_odds)
    told = [(suspicion.rule, ratio > 1.0) for weight, ratio, suspicion in said if weight > 0.0]
    rules_for = tuple(dict.fromkeys(rule for rule, supports in told if supports))
    return Prior(
        cause=cause.id,
        probability=odds / (1.0 + odds),
        in_play=after_bake or not cause.handling or bool(rules_for),
        rules_for=rules_for,
        rules_against=tuple(dict.fromkeys(rule for rule, supports in told if not supports)),
    )


def weigh_suspicions(
    causes: Mapping[str, Cause], suspicions: Iterable[Suspicion], scale: EvidenceScale, *, after_bake: bool
) -> dict[str, Prior]:
    """Give the prior of every cause, in order of id, whatever the order of the suspicions.

    Raises:
        KeyError: a suspicion names a cause that is not known.
    """
    by_cause: dict[str, list[Suspicion]] = {cause: [] for cause in sorted(causes)}
    for suspicion in suspicions:
        if suspicion.cause not in by_cause:
            near = nearest(suspicion.cause, by_cause)
            raise KeyError(f"rule '{suspicion.rule}' suspects '{suspicion.cause}'; near: {', '.join(near)}")
        by_cause[suspicion.cause].append(suspicion)
    return {
        cause: prior_of(causes[cause], named, scale, after_bake=after_bake)
        for cause, named in by_cause.items()
    }
