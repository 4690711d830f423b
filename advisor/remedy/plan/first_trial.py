"""Which change to bake first: the one whose outcome tells most about the causes that compete."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from advisor.diagnosis.diagnosis import signs_of
from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.remedy.levers.effect import unseen_priors
from advisor.remedy.ordering import leading
from advisor.remedy.proposal import Proposal


@dataclass(frozen=True, slots=True, kw_only=True)
class Expectation:
    """What a trial would show if one cause is the true one: the chance that the symptom is gone."""

    cause: str
    probability: float
    gone: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstTrial:
    """The trial that tells most: which proposal, the symptom to look at, bits told, and what to expect by cause."""

    proposal: Proposal
    symptom: str
    bits: float
    expectations: tuple[Expectation, ...]


def first_trial(
    examiner: Examiner, before: Examination, proposals: Sequence[Proposal], *, causes: int = 4, among: int = 3
) -> FirstTrial | None:
    """Choose among the first proposals by mutual information between cause and outcome, for the effort of each.

    For each symptom only the causes that can bring it compete, and only changes that are for one of them. One of them
    is taken to be at work: its share is p_i / sum p. If it is cause i, the symptom stays with
    1 - (1 - leak)(1 - k_i q_i), where k_i is what the change leaves of that cause: 1 for causes that it does not
    touch, zero (or 1 - efficacy) for the one that it is for, and the ratio of the priors otherwise. `None`
    where fewer than two causes compete, where one of them is plain, or no change tells a hundredth of a bit. Where one
    cause leads, only what is for it is baked first: what tells more of the others may wait.
    """
    c = examiner.knowledge.coefficient
    leaders = leading(before.diagnosis.own, examiner.knowledge)
    ranked = [r for r in before.diagnosis.causes if r.own >= c("remedy_cause_from")]
    ranked = sorted(ranked, key=lambda r: -r.own)[:causes]
    signs = signs_of(examiner.graph_of(before.formula), examiner.knowledge.symptoms)
    looked_at = before.seen or [max(before.diagnosis.risks, key=lambda s: before.diagnosis.risks[s].risk)]
    best: FirstTrial | None = None
    unseen = unseen_priors(examiner, before)
    for_it = [p for p in proposals[:among] if p.cause in leaders]
    for proposal in for_it or proposals[:among]:
        left = _left(examiner, before, proposal, [r.id for r in ranked], unseen)
        for symptom in looked_at:
            sign = signs[symptom]
            able = {
                r.id: r.own for r in ranked if sign.influence.get(r.id, 0.0) >= c("first_trial_brings_from")
            }
            total = sum(able.values())
            if len(able) < 2 or proposal.cause not in able:
                continue
            shares = {cause: own / total for cause, own in able.items()}
            if max(shares.values()) >= c("first_trial_plain_from"):
                continue
            stays = {n: 1 - (1 - sign.leak) * (1 - left[n] * sign.influence[n]) for n in shares}
            bits = _told(shares, stays)
            if best is None or bits / proposal.effort > best.bits / best.proposal.effort + 1e-9:
                expectations = tuple(
                    Expectation(cause=n, probability=shares[n], gone=1 - stays[n]) for n in shares
                )
                best = FirstTrial(proposal=proposal, symptom=symptom, bits=bits, expectations=expectations)
    return best if best is not None and best.bits >= 0.01 else None


def _left(
    examiner: Examiner,
    before: Examination,
    proposal: Proposal,
    causes: Iterable[str],
    unseen: Mapping[str, float],
) -> dict[str, float]:
    """What a change leaves of each cause, 0..1."""
    left = dict.fromkeys(causes, 1.0)
    if proposal.formula != before.formula:
        found = examiner.examine(proposal.formula, after_bake=before.after_bake, ranked=False)
        after = found.diagnosis.priors
        for cause in left:
            was = unseen.get(cause, 0.0)
            left[cause] = min(after.get(cause, 0.0) / was, 1.0) if was > 0 else 1.0
    if proposal.cause in left:
        efficacy = examiner.knowledge.levers[proposal.lever].efficacy
        left[proposal.cause] = 1 - efficacy if efficacy else 0.1
    return left


def _entropy(p: float) -> float:
    return 0.0 if p <= 0 or p >= 1 else -p * math.log2(p) - (1 - p) * math.log2(1 - p)


def _told(shares: Mapping[str, float], stays: Mapping[str, float]) -> float:
    """Mutual information of cause and outcome, bits."""
    whole = sum(shares[c] * stays[c] for c in shares)
    return _entropy(whole) - sum(shares[c] * _entropy(stays[c]) for c in shares)
