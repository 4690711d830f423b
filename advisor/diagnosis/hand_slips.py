"""It was not made as written: slips of the hand and the kitchen, weighed beside the faults of the formula.

Every slip that could be meant is put into the formula, the changed formula is examined, and the likelihood of all that
was seen and looked for follows from the same network. By Bayes' rule over "as written" and the slips, each at its rate:

    P(slip k | seen) = r_k L_k / ((1 - sum r) L_written + sum r_i L_i)

A slip that is a cause of the graph already (dead powder, cut hot) is no further hypothesis: its share is what the
diagnosis of the formula as written gives it, times how likely it is that the formula was made as written.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import exp

from advisor.diagnosis.pipeline import Examination, Examiner, Measured
from advisor.diagnosis.posterior import Evidence, weigh
from advisor.formula.formula import Formula
from advisor.knowledge_base.texts import HandSlip
from advisor.models.measure import Measures
from advisor.models.measuring import dough_state_of, measure

BAKING = "baking"
"""The group of measures that a changed amount hardly moves: they are taken over from the bake as written."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipFound:
    """One slip: probability (0..1), what it says and asks, and the symptoms seen that it would bring."""

    id: str
    line: int | None
    """Place of the ingredient line, from 0; `None` for what concerns no line."""
    probability: float
    says: str
    asks: str
    brings: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HandSlips:
    """All slips by falling probability, and whether the formula as written explains what was seen."""

    explained: bool
    as_written: float
    """Probability (0..1) that it was made as written."""
    found: tuple[SlipFound, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tried:
    slip: HandSlip
    line: int | None
    rate: float
    formula: Formula


def hand_slips(examiner: Examiner, found: Examination) -> HandSlips:
    """Weigh the slips against the formula as written; nothing is weighed where nothing was seen."""
    if not found.seen:
        return HandSlips(explained=True, as_written=1.0, found=())
    limits = examiner.knowledge.thresholds
    explained_from, brings_from = limits["seen_explained"].value, limits["slip_brings"].value
    evidence = found.diagnosis.evidence
    written = weigh(evidence)[0].likelihood
    tried = tuple(_tries(found, examiner))
    free = 1.0 - sum(one.rate for one in tried)
    weighed: list[tuple[_Tried, float, Mapping[str, float]]] = []
    for one in tried:
        priors = _priors(examiner, found, one)
        weighed.append((one, one.rate * weigh(replace(evidence, priors=priors))[0].likelihood, priors))
    total = free * written + sum(weight for _, weight, _ in weighed)
    as_written = free * written / total
    said = [
        _said(one, weight / total, _brought(evidence, priors, brings_from), found)
        for one, weight, priors in weighed
    ]
    said += _causes(examiner, found, as_written)
    return HandSlips(
        explained=_explained(examiner, found, explained_from),
        as_written=as_written,
        found=tuple(sorted(said, key=lambda s: (-round(s.probability, 12), s.id, s.line or 0))),
    )


def _explained(examiner: Examiner, found: Examination, explained_from: float) -> bool:
    """Whether a cause that a rule reads out of this formula is likely and leads to something that was seen."""
    return any(
        rank.own >= explained_from and rank.rules_for and rank.seen_for
        for rank in found.diagnosis.causes
        if not examiner.knowledge.causes[rank.id].handling
    )


def _tries(found: Examination, examiner: Examiner) -> Iterator[_Tried]:
    """Every formula that a slip of an amount or of the process would make of this one."""
    formula, defaults = found.formula, found.workings.dough_state.with_defaults
    lines = [n for n, line in enumerate(formula.lines) if line.grams > 0]
    # What is a large part of the dough is missed at once when it is not there; a spoonful is not.
    noticed = examiner.knowledge.coefficient("hand_slip_noticed_share")
    unmissed = {n: exp(-formula.lines[n].grams / formula.dough_g / noticed) for n in lines}
    for slip in examiner.knowledge.hand_slips.values():
        if slip.factor is not None and len(lines) > 1:
            for n in lines:
                rate = slip.rate * unmissed[n] / sum(unmissed.values())
                changed = list(formula.lines)
                changed[n : n + 1] = (
                    [replace(changed[n], grams=slip.factor * changed[n].grams)] if slip.factor else []
                )
                yield _Tried(slip=slip, line=n, rate=rate, formula=formula.with_lines(tuple(changed)))
        elif slip.process is not None:
            written = getattr(formula.process, slip.process, None)
            if written is None:
                written = getattr(defaults, slip.process, None)
            if slip.process == "bake_min" and written is None and found.workings.bake is not None:
                written = found.workings.bake.pulled_at_min
            if slip.process == "oven_offset_c":
                written = (written or 0.0) + (slip.value or 0.0)
            elif slip.times is not None:
                written = slip.times * written if written else None
            else:
                written = slip.value
            if written is not None:
                made = formula.with_process(**{slip.process: written})
                yield _Tried(slip=slip, line=None, rate=slip.rate, formula=made)


def _priors(examiner: Examiner, found: Examination, one: _Tried) -> Mapping[str, float]:
    """What is thought of the causes, before the symptoms, if the slip was made."""
    measured = None
    if one.line is not None and found.workings.bake is not None:
        state = dough_state_of(one.formula, examiner.knowledge)
        workings = measure(state, examiner.knowledge, with_bake=False, warmed_like=found.workings.warming)
        workings = replace(
            workings,
            bake=found.workings.bake,
            measures=_with_bake(examiner, workings.measures, found.workings.measures),
        )
        measured = Measured(workings=workings, structures=examiner.structure_of(state))
    seen = found.situation.symptoms
    examined = examiner.examine(
        one.formula,
        saw=[s for s, there in seen.items() if there],
        not_seen=[s for s, there in seen.items() if not there],
        answers=found.situation.answers,
        after_bake=True,
        measured=measured,
        ranked=False,
    )
    return examined.diagnosis.priors


def _with_bake(examiner: Examiner, cheap: Measures, baked: Measures) -> Measures:
    entries = examiner.knowledge.measures
    by_id = {
        name: baked.by_id[name] if entries[name].group == BAKING and one.value is None else one
        for name, one in cheap.by_id.items()
    }
    return replace(cheap, by_id=by_id)


def _brought(evidence: Evidence, priors: Mapping[str, float], brings_from: float) -> tuple[str, ...]:
    """Symptoms seen that the slip makes likely, and likelier than the formula as written does."""
    return tuple(
        sign.symptom
        for sign in evidence.present
        if sign.risk(priors) >= max(brings_from, 1.2 * sign.risk(evidence.priors))
    )


def _said(one: _Tried, probability: float, brings: tuple[str, ...], found: Examination) -> SlipFound:
    name = "" if one.line is None else found.formula.lines[one.line].ingredient.name
    return SlipFound(
        id=one.slip.id,
        line=one.line,
        probability=probability,
        says=one.slip.says.replace("{line}", name),
        asks=(one.slip.asks or "").replace("{line}", name),
        brings=brings,
    )


def _causes(examiner: Examiner, found: Examination, as_written: float) -> Iterator[SlipFound]:
    """Slips that are causes of the graph, with the question that tells, unless it was answered."""
    for slip in examiner.knowledge.hand_slips.values():
        if slip.cause is None or (slip.question or "") in found.situation.answers:
            continue
        rank = found.diagnosis.cause(slip.cause)
        if rank is not None and rank.seen_for:
            asks = examiner.knowledge.questions[slip.question].question if slip.question else ""
            yield SlipFound(
                id=slip.id, line=None, probability=as_written * rank.own, says=slip.says, asks=asks,
                brings=rank.seen_for,
            )  # fmt: skip
