"""Every way in which a loaf may not have been made as written, each as the formula or the cause that it comes to.

What a slip makes of the causes' probabilities is worked out once for a formula, before anything is seen or answered.
What was told since moves the odds of every cause by the factor by which it moved them for the formula as written:
rules that read an answer or a symptom read no amount.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import exp

from advisor.diagnosis.pipeline import Examination, Examiner, Measured
from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.texts import HandSlip
from advisor.models.measure import Measures
from advisor.models.measuring import dough_state_of, measure

BAKING = "baking"
"""The group of measures that a changed amount hardly moves: they are taken over from the bake as written."""
PART = "its_part"
_SURE = 0.97
"""Probability of a cause where the hypothesis is that the hand brought it."""
_FORMULAS_KEPT = 4
_CERTAIN = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Hypothesis:
    """One slip: its rate, and the probabilities (0..1) of the causes before anything was seen or answered."""

    slip: HandSlip
    line: int | None
    """Place of the ingredient line, from 0; `None` for what concerns no line."""
    rate: float
    told_by: Mapping[str, tuple[str, ...]]
    """Questions to the answers by which this slip is told."""
    at_rest: Mapping[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Hypotheses:
    """All slips of a formula, beside the formula as written."""

    slips: tuple[Hypothesis, ...]
    written_at_rest: Mapping[str, float]

    def priors(self, one: Hypothesis, now: Mapping[str, float]) -> Mapping[str, float]:
        """Give the probabilities of the causes under a slip, where `now` are those of the formula as written."""
        moved = {}
        for cause, p in now.items():
            rest, slipped = self.written_at_rest.get(cause, p), one.at_rest.get(cause, p)
            moved[cause] = p if rest == slipped else _probability(_odds(slipped) * _odds(p) / _odds(rest))
        return moved


class HypothesisBook:
    """Makes the hypotheses of a formula once and keeps those of the last few; not shared between threads."""

    def __init__(self, examiner: Examiner) -> None:
        self._examiner = examiner
        self._kept: list[tuple[Formula, Hypotheses]] = []

    def of(self, found: Examination) -> Hypotheses:
        """Give the hypotheses for the formula of an examination."""
        for formula, kept in self._kept:
            if formula == found.formula:
                return kept
        made = self._made(found)
        self._kept = [(found.formula, made), *self._kept[: _FORMULAS_KEPT - 1]]
        return made

    def _made(self, found: Examination) -> Hypotheses:
        examiner = self._examiner
        measured = Measured(workings=found.workings, structures=found.inference.structures)
        written = examiner.examine(found.formula, after_bake=True, measured=measured, ranked=False)
        at_rest = written.diagnosis.priors
        means = examiner.knowledge.coefficient("hand_slip_means")
        slips = []
        for tried in _tries(found, examiner.knowledge):
            if tried.formula is None:
                cause = tried.slip.cause or ""
                if cause not in at_rest:
                    continue
                priors = {**at_rest, cause: _SURE}
            else:
                priors = {**self._priors(found, tried)}
                for cause in _meant(found, tried, examiner.knowledge):
                    if cause in priors:
                        priors[cause] = max(priors[cause], means)
            slips.append(
                Hypothesis(
                    slip=tried.slip, line=tried.line, rate=tried.rate, told_by=tried.told_by, at_rest=priors
                )
            )
        # The rates say which slips are more frequent; how often any is made at all is one figure.
        scale = examiner.knowledge.coefficient("hand_slip_share") / max(
            sum(one.rate for one in slips), _CERTAIN
        )
        slips = [replace(one, rate=scale * one.rate) for one in slips]
        return Hypotheses(slips=tuple(slips), written_at_rest=at_rest)

    def _priors(self, found: Examination, one: _Tried) -> Mapping[str, float]:
        assert one.formula is not None
        examiner, measured = self._examiner, None
        if one.line is not None and found.workings.bake is not None:
            state = dough_state_of(one.formula, examiner.knowledge)
            workings = measure(state, examiner.knowledge, with_bake=False, warmed_like=found.workings.warming)
            workings = replace(
                workings,
                bake=found.workings.bake,
                measures=_with_bake(examiner.knowledge, workings.measures, found.workings.measures),
            )
            measured = Measured(workings=workings, structures=examiner.structure_of(state))
        examined = examiner.examine(one.formula, after_bake=True, measured=measured, ranked=False)
        return examined.diagnosis.priors


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tried:
    slip: HandSlip
    line: int | None = None
    rate: float
    formula: Formula | None = None
    told_by: Mapping[str, tuple[str, ...]]


def _tries(found: Examination, knowledge: Knowledge) -> Iterator[_Tried]:
    """Every formula that a slip of an amount or of the process would make of this one, and every cause of the hand."""
    formula = found.formula
    lines = [n for n, line in enumerate(formula.lines) if line.grams > 0]
    parts = {n: part_of(formula.lines[n], knowledge) for n in lines}
    held = set(parts.values())
    # What is a large part of the dough is missed at once when it is not there; a spoonful is not.
    noticed = knowledge.coefficient("hand_slip_noticed_share")
    unmissed = {n: exp(-formula.lines[n].grams / formula.dough_g / noticed) for n in lines}
    # However large, it is weighed, and can be weighed wrongly.
    always = knowledge.coefficient("hand_slip_least_share")
    weight = {n: always + (1.0 - always) * unmissed[n] for n in lines}
    for slip in knowledge.hand_slips.values():
        if slip.needs is not None and slip.needs not in held:
            continue
        if slip.settled_by in found.situation.stated:
            continue  # nobody is asked what the formula says
        if slip.factor is not None and len(lines) > 1:
            for n in lines:
                changed = list(formula.lines)
                changed[n : n + 1] = (
                    [replace(changed[n], grams=slip.factor * changed[n].grams)] if slip.factor else []
                )
                yield _Tried(
                    slip=slip,
                    line=n,
                    rate=slip.rate * weight[n] / sum(weight.values()),
                    formula=formula.with_lines(tuple(changed)),
                    told_by={
                        q: tuple(parts[n] if name == PART else name for name in names)
                        for q, names in slip.told_by.items()
                    },
                )
        elif slip.process is not None and (value := _slipped(slip, found)) is not None:
            made = formula.with_process(**{slip.process: value})
            yield _Tried(slip=slip, rate=slip.rate, formula=made, told_by=slip.told_by)
        elif slip.cause is not None:
            yield _Tried(slip=slip, rate=slip.rate, told_by=slip.told_by)


def part_of(line: Line, knowledge: Knowledge) -> str:
    """Name the part of the dough that a line belongs to; `other` where it is none of them."""
    one = line.ingredient
    parts = knowledge.weighed_parts.values()
    return next((part.id for part in parts if part.holds(one.roles, one.family, one.name)), "other")


def _meant(found: Examination, one: _Tried, knowledge: Knowledge) -> tuple[str, ...]:
    """Name the causes that more or less of a line means, whatever the measures say."""
    if one.line is None or one.slip.factor is None:
        return ()
    part = knowledge.weighed_parts.get(part_of(found.formula.lines[one.line], knowledge))
    if part is None:
        return ()
    return part.more if one.slip.factor > 1 else part.less


def _slipped(slip: HandSlip, found: Examination) -> float | None:
    """Give the value of the process after the slip; `None` where there is none to slip with."""
    field = slip.process or ""
    value: float | None = getattr(found.formula.process, field, None)
    if value is None:
        value = getattr(found.workings.dough_state.with_defaults, field, None)
    if field == "bake_min" and value is None and found.workings.bake is not None:
        value = found.workings.bake.pulled_at_min
    if field == "oven_offset_c":
        return (value or 0.0) + (slip.value or 0.0)
    if slip.times is not None:
        return slip.times * value if value else None
    return slip.value


def _with_bake(knowledge: Knowledge, cheap: Measures, baked: Measures) -> Measures:
    entries = knowledge.measures
    by_id = {
        name: baked.by_id[name] if entries[name].group == BAKING and one.value is None else one
        for name, one in cheap.by_id.items()
    }
    return replace(cheap, by_id=by_id)


def _odds(p: float) -> float:
    p = min(1.0 - _CERTAIN, max(_CERTAIN, p))
    return p / (1.0 - p)


def _probability(odds: float) -> float:
    return min(1.0 - _CERTAIN, max(_CERTAIN, odds / (1.0 + odds)))
