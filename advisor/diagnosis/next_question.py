"""Which question to ask next: the one expected to tell most about the causes for each second it takes.

What a question tells is the fall in summed marginal entropy (bits) of the causes, averaged over its
answers. For a symptom both outcomes follow from the network. For a question about process or kitchen the
likelihood ratios of each answer are given, and how likely the answer is follows from them
(`answer_likelihood`).
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import exp, log2
from typing import Literal

from advisor.diagnosis.diagnosis import Diagnosis
from advisor.diagnosis.evidence_scale import EvidenceScale
from advisor.diagnosis.posterior import SUBTRACT_UP_TO, Variant, Weighed, weigh
from advisor.diagnosis.signs import Sign
from advisor.knowledge_base.graph_entries import Symptom

SEEN = "seen"
ABSENT = "absent"
# An expectation needs no twelve digits; a looser bound keeps the quick way of summing.
_PRECISION = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedFact:
    """A question about process or kitchen: answer id to cause to likelihood ratio (what is left out is 1)."""

    question: str
    seconds: float
    ratios: Mapping[str, Mapping[str, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One answer: how likely it is, and the posterior of each cause if it is given."""

    answer: str
    likelihood: float
    probability: Mapping[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class QuestionWorth:
    """What asking is worth: expected gain in bits, and per second."""

    kind: Literal["symptom", "question"]
    id: str
    seconds: float
    gain: float
    gain_per_second: float
    outcomes: tuple[Outcome, ...]


ChangesPlan = Callable[[Outcome], bool]
"""Says whether an answer would lead to another first recommended change."""


def entropy(probability: Mapping[str, float], of: Collection[str] | None = None) -> float:
    """Give the summed binary entropies, bits, of all causes or of those named in `of`."""
    total = 0.0
    for cause, p in probability.items():
        if (of is None or cause in of) and 0.0 < p < 1.0:
            total -= p * log2(p) + (1.0 - p) * log2(1.0 - p)
    return total


def answer_likelihood(ratios: Mapping[str, Mapping[str, float]]) -> dict[str, float]:
    """Give how likely each answer is where none of the causes is at work; the shares add up to 1.

    A ratio L_a = P(a | cause) / P(a | no cause) = P(a | cause) / u_a, and both columns add up to 1, so u
    must satisfy sum u_a = 1 and sum u_a L_a = 1. For two answers that settles u; for more, the flattest one
    of the form u_a ~ exp(-t L_a) is taken. Where all ratios lie on one side of 1 (a rule for "yes" and none
    for "no"), silence is read as the mirror image: an answer with ratio 1 stands for one over the most
    extreme ratio. Over several causes the shares are averaged, since each alone asks for its own.
    """
    answers = list(ratios)
    causes = sorted({cause for by_cause in ratios.values() for cause in by_cause})
    shares = [0.0] * len(answers)
    for cause in causes:
        column = _two_sided(tuple(ratios[answer].get(cause, 1.0) for answer in answers))
        for n, share in enumerate(_balanced_shares(column)):
            shares[n] += share / len(causes)
    if not causes:
        shares = [1.0 / len(answers)] * len(answers)
    return dict(zip(answers, shares, strict=True))


def _two_sided(column: tuple[float, ...]) -> tuple[float, ...]:
    if min(column) < 1.0 < max(column) or min(column) == max(column):
        return column
    extreme = max(column) if max(column) > 1.0 else min(column)
    mirrored = tuple(1.0 / extreme if ratio == 1.0 else ratio for ratio in column)
    # Without any silent answer there is nothing to mirror: the least telling one takes its place.
    if min(mirrored) < 1.0 < max(mirrored):
        return mirrored
    least = min(range(len(column)), key=lambda n: abs(log2(column[n])))
    return tuple(1.0 / extreme if n == least else ratio for n, ratio in enumerate(column))


@lru_cache(maxsize=1024)
def _balanced_shares(column: tuple[float, ...]) -> tuple[float, ...]:
    """Solve sum u (L - 1) = 0 for u ~ exp(-t L) by bisection on t; the sum falls as t grows.

    Ratios come from few words for evidence, so the same columns come again from answer to answer.
    """
    if min(column) == max(column):
        return (1.0 / len(column),) * len(column)
    middle = min(column)
    spread = max(column) - middle

    def shares(t: float) -> tuple[float, ...]:
        weights = [exp(-t * (ratio - middle) / spread) for ratio in column]
        total = sum(weights)
        return tuple(weight / total for weight in weights)

    low, high = -60.0, 60.0
    for _ in range(60):
        t = (low + high) / 2.0
        tilt = sum(u * (ratio - 1.0) for u, ratio in zip(shares(t), column, strict=True))
        low, high = (t, high) if tilt > 0.0 else (low, t)
    return shares((low + high) / 2.0)


def rank_questions(
    diagnosis: Diagnosis,
    signs: Mapping[str, Sign],
    symptoms: Mapping[str, Symptom],
    known: Collection[str],
    facts: Iterable[AskedFact] = (),
    *,
    scale: EvidenceScale,
    of: Collection[str] | None = None,
) -> tuple[QuestionWorth, ...]:
    """Rank all symptoms not in `known` and all `facts` by expected gain per second, best first.

    `known` holds symptom and question ids that were answered, "don't know" included. `of` restricts the
    entropy to causes that matter, for example those that lead to different first changes. With more than
    eight symptoms seen the gain is reckoned from the eight most telling; a symptom of the same origin as
    one that was seen is damped as it would be once seen. Symptoms that no cause in play leads to are left
    out.
    """
    evidence = replace(diagnosis.evidence, present=diagnosis.evidence.present[:SUBTRACT_UP_TO])
    origins = [symptoms[sign.symptom].alike for sign in diagnosis.evidence.present]
    candidates: list[Sign] = []
    for name in sorted(symptoms):
        sign = signs[name]
        if name not in known and any(cause in evidence.priors for cause in sign.influence):
            origin = symptoms[name].alike
            repeats = origins.count(origin) if origin is not None else 0
            candidates.append(sign.damped(scale.alike_exponent**repeats))
    asked = [fact for fact in sorted(facts, key=lambda fact: fact.question) if fact.question not in known]
    variants = [Variant(), *(Variant(also_absent=sign) for sign in candidates)]
    variants += [Variant(ratios=ratios) for fact in asked for ratios in fact.ratios.values()]
    now, *weighed = weigh(evidence, variants, precision=_PRECISION)
    before = entropy(now.probability, of)
    worths = [
        _worth("symptom", sign.symptom, symptoms[sign.symptom].seconds, _seen_or_not(now, absent), before, of)
        for sign, absent in zip(candidates, weighed, strict=False)
    ]
    rest = iter(weighed[len(candidates) :])
    for fact in asked:
        outcomes = _answered(fact, now, [next(rest) for _ in fact.ratios])
        worths.append(_worth("question", fact.question, fact.seconds, outcomes, before, of))
    return tuple(sorted(worths, key=lambda worth: (-round(worth.gain_per_second, 12), worth.id)))


def next_question(
    ranked: Iterable[QuestionWorth],
    *,
    asked: int,
    scale: EvidenceScale,
    changes_plan: ChangesPlan | None = None,
) -> QuestionWorth | None:
    """Give the best question that is worth asking, or `None` when it is time to stop.

    Stops after `asked` reaches the limit of the scale, when nothing tells enough, or when no answer to any
    question would change the first recommended change (as far as `changes_plan` says).
    """
    if asked >= scale.questions_at_most:
        return None
    for worth in ranked:
        if worth.gain < scale.gain_worth_asking:
            continue
        if changes_plan is None or any(changes_plan(outcome) for outcome in worth.outcomes):
            return worth
    return None


def _seen_or_not(now: Weighed, absent: Weighed) -> tuple[Outcome, ...]:
    """Derive "seen" from the whole and "absent": what is not in the one is in the other."""
    share = min(1.0, absent.likelihood / now.likelihood)
    if share >= 1.0:
        return (Outcome(answer=ABSENT, likelihood=1.0, probability=absent.probability),)
    seen = {
        cause: min(1.0, max(0.0, (p - share * absent.probability[cause]) / (1.0 - share)))
        for cause, p in now.probability.items()
    }
    return (
        Outcome(answer=SEEN, likelihood=1.0 - share, probability=seen),
        Outcome(answer=ABSENT, likelihood=share, probability=absent.probability),
    )


def _answered(fact: AskedFact, now: Weighed, weighed: Sequence[Weighed]) -> tuple[Outcome, ...]:
    """Weight each answer by its share without fault times how much the evidence grows with its ratios."""
    shares = answer_likelihood(fact.ratios)
    weights = [
        shares[answer] * found.likelihood / now.likelihood
        for answer, found in zip(fact.ratios, weighed, strict=True)
    ]
    return tuple(
        Outcome(answer=answer, likelihood=weight / sum(weights), probability=found.probability)
        for answer, weight, found in zip(fact.ratios, weights, weighed, strict=True)
    )


def _worth(
    kind: Literal["symptom", "question"],
    name: str,
    seconds: float,
    outcomes: tuple[Outcome, ...],
    before: float,
    of: Collection[str] | None,
) -> QuestionWorth:
    after = sum(outcome.likelihood * entropy(outcome.probability, of) for outcome in outcomes)
    return QuestionWorth(
        kind=kind,
        id=name,
        seconds=seconds,
        gain=before - after,
        gain_per_second=(before - after) / seconds,
        outcomes=outcomes,
    )
