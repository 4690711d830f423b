"""What a kitchen's record has taught, in words, and the advisor that knows it."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from advisor.explanation.wording import percent
from advisor.interface.desk.own_places import record_path
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Advisor
from advisor.trial_record.faults import RecordFault
from advisor.trial_record.learning import Shift, Terms, TrialReading, kitchen_of, learn
from advisor.trial_record.record import open_record
from advisor.trial_record.trials import trials_in


def learnt_from(path: Path, knowledge: Knowledge) -> tuple[Shift, ...]:
    """Give every shift that the bakes of a record bear out.

    Raises:
        RecordFault: the record cannot be read.
    """
    with open_record(path, to_write=False) as record:
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


def in_this_kitchen(advisor: Advisor, options: argparse.Namespace) -> Advisor:
    """Give the advisor with what the record teaches; as it is without a record, or where that is not wanted.

    A record that cannot be read is said on standard error and keeps nobody from an answer.
    """
    path = record_path(options.record)
    if options.no_learning or (options.record is None and not path.exists()):
        return advisor
    try:
        shifts = learnt_from(path, advisor.knowledge)
    except RecordFault as fault:
        sys.stderr.write(f"advisor: {fault} (nothing learnt was used)\n")
        return advisor
    if not shifts:
        return advisor
    says = {shift.id: f"learnt here: {said(shift, advisor.knowledge)}" for shift in shifts}
    return advisor.in_kitchen(kitchen_of(shifts, says))


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


def why(shift: Shift) -> str:
    """Say what a shift rests on."""
    bakes = numbered(shift.bakes)
    capped = " As far as bakes may move it." if shift.capped else ""
    if shift.kind == "oven":
        return f"The cores measured in {bakes} agree on it.{capped}"
    if shift.kind == "powder":
        return f"The sizes measured in {bakes} agree on it.{capped}"
    if not shift.trials:
        return f"What was measured in {bakes} stands for it.{capped}"
    what = "The cause was there" if shift.kind == "cause" else "The change cured"
    return (
        f"{what} in {shift.counted:.1f} of {shift.trials:.1f} trials by what came out, against {shift.expected:.1f} "
        f"expected ({bakes}).{capped}"
    )


def numbered(bakes: Sequence[int]) -> str:
    """Name bakes by their numbers."""
    shown = ", ".join(str(number) for number in bakes[:12])
    more = f" and {len(bakes) - 12} more" if len(bakes) > 12 else ""
    return f"bake{'s' if len(bakes) > 1 else ''} {shown}{more}"
