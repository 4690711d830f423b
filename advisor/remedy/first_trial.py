"""Which change to bake first: the one whose outcome tells most about the causes that compete."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from advisor.diagnosis.diagnosis import signs_of
from advisor.diagnosis.examining import Examination, Examiner
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
    examiner: Examiner, before: Examination, proposals: Sequence[Proposal], *, causes: int = 4
) -> FirstTrial | None:
    """Choose among the proposals by mutual information between cause and outcome, for the effort that each costs.

    One cause is taken to be at work: its share is p_i / sum p. If it is cause i, the symptom stays with
    1 - (1 - leak)(1 - k_i q_i), where k_i is what the change leaves of that cause: 1 for causes that it does not
    touch, nought (or 1 - efficacy) for the one that it is for, and the ratio of the priors otherwise. `None`
    where fewer than two causes compete or no change tells a hundredth of a bit.
    """
    ranked = [
        r for r in before.diagnosis.causes if r.own >= examiner.knowledge.coefficient("remedy_cause_from")
    ]
    ranked = sorted(ranked, key=lambda r: -r.own)[:causes]
    total = sum(r.own for r in ranked)
    if len(ranked) < 2 or total <= 0 or not proposals:
        return None
    shares = {r.id: r.own / total for r in ranked}
    signs = signs_of(examiner.graph_of(before.formula), examiner.knowledge.symptoms)
    seen = [s for s, there in before.situation.symptoms.items() if there]
    looked_at = seen or [max(before.diagnosis.risks, key=lambda s: before.diagnosis.risks[s].risk)]
    best: FirstTrial | None = None
    for proposal in proposals[:6]:
        left = {cause: _left(examiner, before, proposal, cause) for cause in shares}
        for symptom in looked_at:
            sign = signs[symptom]
            stays = {c: 1 - (1 - sign.leak) * (1 - left[c] * sign.influence.get(c, 0.0)) for c in shares}
            bits = _told(shares, stays)
            if best is None or bits / proposal.effort > best.bits / best.proposal.effort + 1e-9:
                best = FirstTrial(
                    proposal=proposal,
                    symptom=symptom,
                    bits=bits,
                    expectations=tuple(
                        Expectation(cause=c, probability=shares[c], gone=1 - stays[c]) for c in shares
                    ),
                )
    return best if best is not None and best.bits >= 0.01 else None


def _left(examiner: Examiner, before: Examination, proposal: Proposal, cause: str) -> float:
    """What a change leaves of a cause, 0..1."""
    if cause == proposal.cause:
        efficacy = examiner.knowledge.levers[proposal.lever].efficacy
        return 1 - efficacy if efficacy else 0.1
    if proposal.formula == before.formula:
        return 1.0
    was = before.diagnosis.priors.get(cause, 0.0)
    after = examiner.examine(proposal.formula, after_bake=before.after_bake).diagnosis.priors.get(cause, 0.0)
    return min(after / was, 1.0) if was > 0 else 1.0


def _entropy(p: float) -> float:
    return 0.0 if p <= 0 or p >= 1 else -p * math.log2(p) - (1 - p) * math.log2(1 - p)


def _told(shares: Mapping[str, float], stays: Mapping[str, float]) -> float:
    """Mutual information of cause and outcome, bits."""
    whole = sum(shares[c] * stays[c] for c in shares)
    return _entropy(whole) - sum(shares[c] * _entropy(stays[c]) for c in shares)
