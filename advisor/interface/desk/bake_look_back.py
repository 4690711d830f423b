"""A kept bake laid against what had been predicted of it, and against the bakes before it."""

from __future__ import annotations

from dataclasses import dataclass

from advisor import default_advisor
from advisor.interface.desk.bake_keeping import formula_of
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.trial_record.bake import Bake
from advisor.trial_record.looking_back import (
    Checked,
    Measured,
    Revised,
    checked_measures,
    checked_symptoms,
    revised_causes,
    trial_of,
)
from advisor.trial_record.record import TrialRecord
from advisor.trial_record.trials import Answer, Trial, answer_of


@dataclass(frozen=True, slots=True, kw_only=True)
class LookBack:
    """What can be said of a bake once it is compared with what was predicted, and with the one before."""

    before: Bake | None
    symptoms: tuple[Checked, ...]
    measures: tuple[Measured, ...]
    answer: Answer | None
    revised: Revised | None
    why_not_taught: str


def look_back(record: TrialRecord, bake: Bake, knowledge: Knowledge) -> LookBack:
    """Lay a bake against what had been foreseen and against the bakes before it."""
    before = record.with_key(bake.follows) if bake.follows else None
    trials = _trials_up_to(record, bake)
    last = trial_of(bake, before)
    not_taught = ""
    if bake.followed and last is None:
        single = bake.foreseen is not None and bake.foreseen.single
        not_taught = "the fault was not looked for again" if single else "more than one thing was changed"
    revised = None
    if trials and last is not None:
        examiner = default_advisor().examiner
        try:
            formula = formula_of(bake, knowledge)
        except InputFault:
            formula = None
        if formula is not None:
            by_itself = knowledge.coefficient("learning_gone_by_itself")
            revised = revised_causes(examiner, formula, bake, trials, by_itself)
    return LookBack(
        before=before,
        symptoms=checked_symptoms(bake, knowledge.coefficient("risk_limit")),
        measures=checked_measures(bake),
        answer=answer_of(before, bake) if before is not None and bake.followed else None,
        revised=revised,
        why_not_taught=not_taught,
    )


def _trials_up_to(record: TrialRecord, bake: Bake) -> tuple[Trial, ...]:
    """Trials of the chain of bakes that each follow the one before, oldest first."""
    out: list[Trial] = []
    at: Bake | None = bake
    met: set[str] = set()
    while at is not None and at.follows and at.key not in met:
        met.add(at.key)
        before = record.with_key(at.follows)
        if (trial := trial_of(at, before)) is not None:
            out.append(trial)
        at = before
    return tuple(reversed(out))
