"""It was not made as written: slips of the hand and the kitchen, weighed beside the faults of the formula.

The likelihood of all that was seen and looked for follows from the same network under every slip, and an answer to what
was asked about the making has its own. By Bayes' rule over "as written" and the slips, each at its rate:

    P(slip k | told) = r_k L_k A_k / ((1 - sum r) L_written + sum r_i L_i A_i)

with A_k the ratio of how often the answers given are heard with and without the slip.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.diagnosis.posterior import Evidence, weigh
from advisor.diagnosis.slip_hypotheses import Hypothesis, HypothesisBook
from advisor.knowledge_base.knowledge import Knowledge


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipFound:
    """One slip: probability (0..1), what it says and asks, and the symptoms seen that it would bring."""

    id: str
    line: int | None
    """Place of the ingredient line, from 0; `None` for what concerns no line."""
    probability: float
    """As one of the ways in which it was not made as written, which exclude one another."""
    in_all: float
    """With the share of it that the network of the formula as written gives to the same cause of the hand."""
    says: str
    asks: str
    brings: tuple[str, ...]
    told: bool
    """Whether an answer of the baker says so."""
    told_by: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """What an answer may name: a cause of the formula as written, or a slip (`line` where it is one of an amount)."""

    id: str
    line: int | None
    probability: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HandSlips:
    """All slips by falling probability, and whether the formula as written explains what was seen."""

    explained: bool
    as_written: float
    """Probability (0..1) that it was made as written."""
    found: tuple[SlipFound, ...]
    suspects: tuple[Suspect, ...]
    """Causes and slips in one order: slips compete with what the formula itself speaks for."""


def hand_slips(examiner: Examiner, found: Examination, book: HypothesisBook | None = None) -> HandSlips:
    """Weigh the slips against the formula as written; nothing is weighed where nothing was seen.

    `book` keeps what is the same for one formula from answer to answer.
    """
    if not found.seen:
        return HandSlips(explained=True, as_written=1.0, found=(), suspects=())
    knowledge, evidence = examiner.knowledge, found.diagnosis.evidence
    all_slips = (book or HypothesisBook(examiner)).of(found)
    written = weigh(evidence)[0].likelihood
    free = 1.0 - sum(one.rate for one in all_slips.slips)
    weighed: list[tuple[Hypothesis, float, Mapping[str, float]]] = []
    for one in all_slips.slips:
        priors = all_slips.priors(one, evidence.priors)
        likelihood = weigh(replace(evidence, priors=priors))[0].likelihood
        told = answer_ratio(one.told_by, found.situation.answers, knowledge)
        weighed.append((one, one.rate * likelihood * told, priors))
    total = free * written + sum(weight for _, weight, _ in weighed)
    as_written = free * written / total
    said = [
        _said(one, weight / total, as_written, priors, found, knowledge) for one, weight, priors in weighed
    ]
    slips = tuple(sorted(said, key=lambda s: (-round(s.in_all, 12), s.id, s.line or 0)))
    own = backed(knowledge, found)
    explained = own >= knowledge.thresholds["seen_explained"].value and as_written * own >= max(
        (s.in_all for s in slips if s.brings or s.told), default=0.0
    )
    return HandSlips(
        explained=explained,
        as_written=as_written,
        found=slips,
        suspects=_suspects(knowledge, found, as_written, slips),
    )


def backed(knowledge: Knowledge, found: Examination) -> float:
    """Give the probability of the likeliest cause that a rule reads out of the formula and that was seen."""
    return max(
        (
            rank.own
            for rank in found.diagnosis.causes
            if rank.rules_for and rank.seen_for and not knowledge.causes[rank.id].handling
        ),
        default=0.0,
    )


def answer_ratio(
    told_by: Mapping[str, tuple[str, ...]], answers: Mapping[str, str], knowledge: Knowledge
) -> float:
    """Say how many times as often the answers given are heard with a slip as without it."""
    ratio = 1.0
    for question, confirming in told_by.items():
        if (answer := answers.get(question)) is not None:
            ratio *= heard_with(question, answer, confirming, knowledge) / heard_without(
                question, answer, knowledge
            )
    return ratio


def heard_with(question: str, answer: str, confirming: tuple[str, ...], knowledge: Knowledge) -> float:
    """Give the chance of an answer to a question from one who made a slip that `confirming` tells."""
    true = knowledge.coefficient("hand_slip_told")
    entry = knowledge.questions[question]
    if answer in confirming:
        return true / len(confirming)
    others = [a for a in entry.answers if a not in confirming]
    denying = [a for a in others if a in entry.fine] or others
    if answer in denying:
        return (1.0 - true) / len(denying)
    return heard_without(question, answer, knowledge)


def heard_without(question: str, answer: str, knowledge: Knowledge) -> float:
    """Give the chance of an answer from one who did not make the slip asked for."""
    false = knowledge.coefficient("hand_slip_told_wrongly")
    entry = knowledge.questions[question]
    if not entry.fine:
        return 1.0 / len(entry.answers)
    if answer in entry.fine:
        return (1.0 - false) / len(entry.fine)
    return false / (len(entry.answers) - len(entry.fine))


def _suspects(
    knowledge: Knowledge, found: Examination, as_written: float, slips: tuple[SlipFound, ...]
) -> tuple[Suspect, ...]:
    """Put causes and slips in one order.

    A cause of the formula that no rule reads out of it can only be at work where an amount is not as written: that is
    what the slips say, and it counts for a part. A cause that is a slip stands as the slip.
    """
    part = knowledge.coefficient("hand_slip_unbacked_share")
    as_slips = {slip.cause for slip in knowledge.hand_slips.values() if slip.cause is not None}
    ranks = found.diagnosis.causes
    led = {rank.refines for rank in ranks if rank.refines and rank.own > 0}
    names = []
    for rank in ranks:
        own = rank.own if rank.id in led else rank.probability
        if rank.probability > 0:
            own *= rank.standing / rank.probability
        handling = knowledge.causes[rank.id].handling
        if rank.id in as_slips and (handling or not rank.rules_for):
            continue
        names.append(
            Suspect(
                id=rank.id,
                line=None,
                probability=as_written * own * (1.0 if rank.rules_for or handling else part),
            )
        )
    names += [Suspect(id=s.id, line=s.line, probability=s.in_all) for s in slips if s.brings or s.told]
    return tuple(sorted(names, key=lambda s: (-round(s.probability, 12), s.id, s.line or 0)))


def _said(
    one: Hypothesis,
    probability: float,
    as_written: float,
    priors: Mapping[str, float],
    found: Examination,
    knowledge: Knowledge,
) -> SlipFound:
    of_hand = one.slip.cause is not None and knowledge.causes[one.slip.cause].handling
    own = found.diagnosis.own.get(one.slip.cause or "", 0.0) if of_hand else 0.0
    name = "" if one.line is None else found.formula.lines[one.line].ingredient.name
    slip, answers = one.slip, found.situation.answers
    asks = slip.asks or ""
    if slip.question is not None:
        asks = "" if slip.question in answers else knowledge.questions[slip.question].question
    told = [answers[q] in some for q, some in one.told_by.items() if q in answers]
    return SlipFound(
        id=slip.id,
        line=one.line,
        probability=probability,
        in_all=min(1.0, probability + as_written * own),
        says=slip.says.replace("{line}", name),
        asks=asks.replace("{line}", name),
        brings=_brought(found.diagnosis.evidence, priors, knowledge.thresholds["slip_brings"].value),
        told=bool(told) and all(told),
        told_by=one.told_by,
    )


def _brought(evidence: Evidence, priors: Mapping[str, float], brings_from: float) -> tuple[str, ...]:
    """Symptoms seen that the slip makes likely, and likelier than the formula as written does."""
    return tuple(
        sign.symptom
        for sign in evidence.present
        if sign.risk(priors) >= max(brings_from, 1.2 * sign.risk(evidence.priors))
    )
