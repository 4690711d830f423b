"""The record of a kitchen's bakes, and the advisor that knows what they have taught."""

from __future__ import annotations

from pathlib import Path

from advisor.api.shared import default_advisor
from advisor.explanation.wording import percent
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Advisor
from advisor.trial_record.learning import Shift, Terms, TrialReading, kitchen_of, learn
from advisor.trial_record.record import TrialRecord, open_record
from advisor.trial_record.trials import trials_in

__all__ = ["in_kitchen", "learnt_from", "learnt_in", "open_record", "said"]


def in_kitchen(path: Path | str) -> Advisor:
    """Give an advisor whose `check` and `diagnose` know what the bakes of a record bear out.

    Raises:
        advisor.trial_record.faults.RecordFault: the record cannot be read.
    """
    advisor = default_advisor()
    shifts = learnt_from(Path(path), advisor.knowledge)
    says = {shift.id: f"learnt here: {said(shift, advisor.knowledge)}" for shift in shifts}
    return advisor.in_kitchen(kitchen_of(shifts, says)) if shifts else advisor


def learnt_from(path: Path, knowledge: Knowledge) -> tuple[Shift, ...]:
    """Give every shift that the bakes of a record bear out.

    Raises:
        RecordFault: the record cannot be read.
    """
    with open_record(path, to_write=False) as record:
        return learnt_in(record, knowledge)


def learnt_in(record: TrialRecord, knowledge: Knowledge) -> tuple[Shift, ...]:
    """Give every shift that the bakes of an open record bear out; those that are damaged teach nothing.

    Raises:
        RecordFault: the record cannot be read.
    """
    pairs = record.teaching()
    told = [(bake.number, bake.foreseen) for bake, _ in pairs if bake.foreseen is not None]
    oven = [TrialReading(number=n, value=f.oven_offset_c) for n, f in told if f.oven_offset_c is not None]
    powder = [
        TrialReading(number=n, value=f.powder_strength) for n, f in told if f.powder_strength is not None
    ]
    known = [
        trial
        for trial in trials_in(pairs)
        if trial.cause in knowledge.causes and trial.lever in knowledge.levers
    ]
    return learn(known, oven, powder, Terms.read(knowledge))


def said(shift: Shift, knowledge: Knowledge) -> str:
    """Say a shift in one clause."""
    if shift.kind == "oven":
        return f"the oven runs {{{abs(shift.value):.0f} C difference}} {'cool' if shift.value < 0 else 'hot'}"
    if shift.kind == "powder":
        return f"the baking powder has {percent(shift.value)} of its strength"
    times = shift.value if shift.value >= 1 else 1 / shift.value
    if shift.kind == "cause":
        more = "likelier" if shift.value >= 1 else "less likely"
        return f"'{knowledge.causes[shift.id].name}' is {times:.1f} times {more} (odds)"
    more = "better" if shift.value >= 1 else "worse"
    return f"'{knowledge.levers[shift.id].says}' helps {times:.1f} times {more} (odds)"
