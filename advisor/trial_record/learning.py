"""What a kitchen's bakes teach: pure functions from trials and measurements to bounded shifts, each with its why.

A single change that was tried speaks of its cause and of itself (Bayes' rule, outcome o, probability p of the cause,
efficacy e of the change, chance s that a fault stays away by itself):

    P(worked) = p (e + (1 - e) s) + (1 - p) s,    P(failed) = 1 - P(worked)

The cause counts as having been there by P(cause | o), the change as having cured by P(cause and cured | o). Both are
Beta counts on a prior of the knowledge's own p and e: where these are right, the counts come to what was expected, and
nothing shifts in the mean. Only the outcome moves them: p and e are those of the knowledge alone, never shifted ones.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import fmean, median, stdev
from typing import Literal

from advisor.diagnosis.kitchen_shifts import KitchenShifts
from advisor.knowledge_base.knowledge import Knowledge
from advisor.trial_record.trials import Trial

_LEAST_SHOWN = 0.02
"""A factor on odds nearer to 1 than this is no shift."""

ShiftKind = Literal["cause", "change", "oven", "powder"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """How much bakes may teach (knowledge/coefficients.yaml)."""

    prior_bakes: float
    most_factor: float
    by_itself: float
    agreeing_bakes: int
    oven_agree_c: float
    oven_least_c: float
    oven_most_c: float
    powder_agree: float
    powder_least: float
    powder_most: float

    @classmethod
    def read(cls, knowledge: Knowledge) -> Terms:
        """Read them from the knowledge.

        Raises:
            KeyError: one of them is missing.
        """
        c = knowledge.coefficient
        return cls(
            prior_bakes=c("learning_prior_bakes"),
            most_factor=c("learning_most_factor"),
            by_itself=c("learning_gone_by_itself"),
            agreeing_bakes=int(c("learning_agreeing_bakes")),
            oven_agree_c=c("learning_oven_agree_c"),
            oven_least_c=c("learning_oven_least_c"),
            oven_most_c=c("learning_oven_most_c"),
            powder_agree=c("learning_powder_agree"),
            powder_least=c("learning_powder_least"),
            powder_most=c("learning_powder_most"),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialReading:
    """One measured bake: what would explain it, an oven offset [C] or the strength left in the powder."""

    number: int
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """One thing learnt: `value` is a factor on odds, degrees of the oven, or strength; `bakes` are those it rests on.

    `counted` of `trials` is what was observed, `expected` what the knowledge expected of the same trials; all are 0
    where it rests on measurements.
    """

    kind: ShiftKind
    id: str
    value: float
    bakes: tuple[int, ...]
    counted: float = 0.0
    expected: float = 0.0
    trials: float = 0.0
    capped: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """What one trial says: probability of the cause, and of the cause having been cured, after the outcome."""

    cause: float
    cured: float


def weight_of(trial: Trial, by_itself: float) -> Weight:
    """Weigh one trial by Bayes' rule; a fault that went in part is half a success and half a failure."""
    p, e, s = trial.probability, trial.efficacy, by_itself
    worked = p * (e + (1 - e) * s) + (1 - p) * s
    failed = 1 - worked
    if_worked = p * (e + (1 - e) * s) / worked if worked > 0 else p
    if_failed = p * (1 - e) * (1 - s) / failed if failed > 0 else p
    cured = p * e / worked if worked > 0 else 0.0
    share = trial.share
    return Weight(cause=share * if_worked + (1 - share) * if_failed, cured=share * cured)


def _odds(p: float) -> float:
    held = min(max(p, 1e-6), 1 - 1e-6)
    return held / (1 - held)


def beta_factor(expected: float, counted: float, trials: float, terms: Terms) -> tuple[float, bool]:
    """Give the factor on odds from a Beta prior of mean `expected` to its posterior, and whether it was capped."""
    mean = (terms.prior_bakes * expected + counted) / (terms.prior_bakes + trials)
    factor = _odds(mean) / _odds(expected)
    held = min(max(factor, 1 / terms.most_factor), terms.most_factor)
    return held, held != factor


def cause_shifts(trials: Sequence[Trial], terms: Terms) -> tuple[Shift, ...]:
    """Give how much oftener or seldomer the causes that were tried have been there than the knowledge expected."""
    out = []
    for cause in sorted({trial.cause for trial in trials}):
        about = [trial for trial in trials if trial.cause == cause]
        counted = sum(weight_of(trial, terms.by_itself).cause for trial in about)
        expected = fmean(trial.probability for trial in about)
        factor, capped = beta_factor(expected, counted, len(about), terms)
        out.append(
            Shift(
                kind="cause", id=cause, value=factor, bakes=tuple(t.number for t in about), counted=counted,
                expected=expected * len(about), trials=len(about), capped=capped,
            )
        )  # fmt: skip
    return tuple(shift for shift in out if abs(shift.value - 1) >= _LEAST_SHOWN)


def change_shifts(trials: Sequence[Trial], terms: Terms) -> tuple[Shift, ...]:
    """Give how much better or worse the changes that were tried have cured, where their cause was there."""
    out = []
    for lever in sorted({trial.lever for trial in trials}):
        about = [trial for trial in trials if trial.lever == lever]
        weights = [weight_of(trial, terms.by_itself) for trial in about]
        there, cured = sum(w.cause for w in weights), sum(w.cured for w in weights)
        expected = fmean(trial.efficacy for trial in about)
        factor, capped = beta_factor(expected, cured, there, terms)
        out.append(
            Shift(
                kind="change", id=lever, value=factor, bakes=tuple(t.number for t in about), counted=cured,
                expected=expected * there, trials=there, capped=capped,
            )
        )  # fmt: skip
    return tuple(shift for shift in out if abs(shift.value - 1) >= _LEAST_SHOWN)


def agreeing(readings: Sequence[TrialReading], within: float, least: int) -> tuple[TrialReading, ...]:
    """Give the readings that lie within so much of their median: none unless enough, and more than half, do."""
    if not readings:
        return ()
    middle = median(reading.value for reading in readings)
    near = tuple(reading for reading in readings if abs(reading.value - middle) <= within)
    return near if len(near) >= least and 2 * len(near) > len(readings) else ()


def middle_of(readings: Sequence[TrialReading]) -> tuple[float, float]:
    """Give the median of readings and twice its standard error; a core near boiling errs further up than down."""
    values = [reading.value for reading in readings]
    return median(values), 2 * stdev(values) / sqrt(len(values))


def oven_shift(readings: Sequence[TrialReading], terms: Terms) -> Shift | None:
    """Give by how much the oven is off its dial [C], where enough measured cores agree that it is."""
    near = agreeing(readings, terms.oven_agree_c, terms.agreeing_bakes)
    if not near:
        return None
    middle, doubt = middle_of(near)
    if abs(middle) < max(terms.oven_least_c, doubt):
        return None
    held = min(max(middle, -terms.oven_most_c), terms.oven_most_c)
    return Shift(
        kind="oven",
        id="oven",
        value=float(round(held)),
        bakes=tuple(r.number for r in near),
        capped=held != middle,
    )


def powder_shift(readings: Sequence[TrialReading], terms: Terms) -> Shift | None:
    """Give the strength that is left in the powder, where enough measured heights agree that some is lost."""
    near = agreeing(readings, terms.powder_agree, terms.agreeing_bakes)
    if not near:
        return None
    middle, doubt = middle_of(near)
    if 1 - middle < max(terms.powder_least, doubt):
        return None
    held = max(middle, 1 / terms.powder_most)
    return Shift(
        kind="powder",
        id="powder",
        value=round(held, 2),
        bakes=tuple(r.number for r in near),
        capped=held != middle,
    )


def _causes_measured(
    causes: Sequence[Shift], corrections: Sequence[Shift], terms: Terms
) -> tuple[Shift, ...]:
    """Give the shifts of causes, those that a correction stands for raised as far as bakes may raise one.

    That oven or powder is off was read off the loaves themselves, which says more than any trial.
    """
    by_id = {shift.id: shift for shift in causes}
    for correction in corrections:
        if (cause := _stands_for(correction)) is not None:
            by_id[cause] = Shift(
                kind="cause", id=cause, value=terms.most_factor, bakes=correction.bakes, capped=True
            )
    return tuple(by_id[name] for name in sorted(by_id))


def _stands_for(correction: Shift) -> str | None:
    if correction.kind == "powder":
        return "spent_leavening"
    return "oven_too_cool" if correction.value < 0 else "oven_too_hot"


def learn(
    trials: Sequence[Trial], oven: Sequence[TrialReading], powder: Sequence[TrialReading], terms: Terms
) -> tuple[Shift, ...]:
    """Give every shift that the bakes of a kitchen bear out, causes first; none without bakes."""
    found = (oven_shift(oven, terms), powder_shift(powder, terms))
    corrections = tuple(shift for shift in found if shift is not None)
    return (
        *_causes_measured(cause_shifts(trials, terms), corrections, terms),
        *change_shifts(trials, terms),
        *corrections,
    )


def kitchen_of(shifts: Sequence[Shift], says: Mapping[str, str] | None = None) -> KitchenShifts:
    """Put shifts together as an examiner takes them; `says` maps a shift's id to what is said of it."""

    def by(kind: ShiftKind) -> dict[str, float]:
        return {shift.id: shift.value for shift in shifts if shift.kind == kind}

    told = says or {}
    return KitchenShifts(
        base_rates=by("cause"),
        efficacy=by("change"),
        oven_offset_c=by("oven").get("oven"),
        powder_strength=by("powder").get("powder"),
        says=tuple(told[shift.id] for shift in shifts if shift.id in told),
    )
