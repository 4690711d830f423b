"""After a bake: was what had been foreseen right, and what do the causes look like now?

A change that failed speaks against the cause that it was for: P(failed | cause) / P(failed | no cause) = 1 - efficacy.
One that worked speaks for it: P(worked | cause) / P(worked | no cause) = (e + (1 - e) s) / s, with the chance s
that the fault stays away by itself.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from advisor.diagnosis.kitchen_shifts import KitchenShifts, shifted
from advisor.diagnosis.pipeline import Examiner
from advisor.formula.formula import Formula
from advisor.trial_record.bake import Bake
from advisor.trial_record.trials import Trial, trials_in


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """One symptom as foreseen (risk before the change followed, risk in this bake) and as it came."""

    symptom: str
    before: float | None
    risk: float
    seen: bool
    right: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One measure as foreseen and as read."""

    name: str
    foreseen: float
    measured: float


def checked_symptoms(bake: Bake, risk_limit: float) -> tuple[Checked, ...]:
    """Lay every symptom that was looked for against its risk: right where it came from the limit on, or stayed away."""
    if bake.foreseen is None:
        return ()
    told = dict.fromkeys(bake.absent, False) | dict.fromkeys(bake.seen, True)
    out = []
    for symptom, seen in sorted(told.items()):
        if (pair := bake.foreseen.risk.get(symptom)) is not None:
            right = (pair[1] >= risk_limit) == seen
            out.append(Checked(symptom=symptom, before=pair[0], risk=pair[1], seen=seen, right=right))
    return tuple(out)


def checked_measures(bake: Bake) -> tuple[Measured, ...]:
    """Lay core, height and volume against what was foreseen, where both are there."""
    if bake.foreseen is None:
        return ()
    out = []
    for name in ("core_c", "height_cm", "volume_ml"):
        foreseen, measured = getattr(bake.foreseen, name), getattr(bake.came_out, name)
        if foreseen is not None and measured is not None:
            out.append(Measured(name=name, foreseen=foreseen, measured=measured))
    return tuple(out)


def trial_of(bake: Bake, before: Bake | None) -> Trial | None:
    """Give the trial that a bake was; `None` where it followed nothing, changed more, or was not looked at again."""
    return next(iter(trials_in([(bake, before)])), None)


def evidence_of(trial: Trial, by_itself: float) -> float:
    """Give what a trial multiplies the odds of its cause by; a fault that went in part says nothing."""
    e, s = trial.efficacy, by_itself
    return {"failed": 1 - e, "worked": (e + (1 - e) * s) / s, "in part": 1.0}[trial.outcome]


@dataclass(frozen=True, slots=True, kw_only=True)
class Revised:
    """Probability of each cause without and with what the changes tried have shown."""

    without: Mapping[str, float]
    with_trials: Mapping[str, float]


def revised_causes(
    examiner: Examiner, formula: Formula, bake: Bake, trials: Sequence[Trial], by_itself: float
) -> Revised:
    """Weigh the causes of this bake anew where symptoms were seen, with the failed cures before it as evidence.

    Where nothing is wrong any more, the cause of the last trial is weighed as it was before its cure.
    """
    last = trials[-1]
    if not bake.seen:
        p = last.probability
        return Revised(
            without={last.cause: p}, with_trials={last.cause: shifted(p, evidence_of(last, by_itself))}
        )
    factors: dict[str, float] = {}
    for trial in trials:
        if trial.outcome == "failed":
            factors[trial.cause] = factors.get(trial.cause, 1.0) * evidence_of(trial, by_itself)
    here = examiner.in_kitchen(KitchenShifts(base_rates=factors))
    found = [
        each.examine(formula, saw=bake.seen, not_seen=bake.absent, after_bake=True).diagnosis.own
        for each in (examiner.in_kitchen(KitchenShifts()), here)
    ]
    return Revised(without=found[0], with_trials=found[1])
