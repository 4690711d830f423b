"""What a kitchen's record has taught, in words, and the advisor that knows it."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

from advisor.interface.desk.own_places import record_path
from advisor.remedy.assessing import Advisor

# Most checks have no record: what reads one is imported where there is one.
if TYPE_CHECKING:
    from advisor.trial_record.learning import Shift


def in_this_kitchen(advisor: Advisor, options: argparse.Namespace) -> Advisor:
    """Give the advisor with what the record teaches; as it is without a record, or where that is not wanted.

    A record that cannot be read is said on standard error and keeps nobody from an answer.
    """
    path = record_path(options.record)
    if options.no_learning or (options.record is None and not path.exists()):
        return advisor
    from advisor.api.records import learnt_in, said
    from advisor.trial_record.faults import RecordFault
    from advisor.trial_record.learning import kitchen_of
    from advisor.trial_record.record import open_record

    try:
        with open_record(path, to_write=False) as record:
            shifts = learnt_in(record, advisor.knowledge)
            if record.damage is not None:
                sys.stderr.write(f"advisor: {record.damage} (nothing was learnt from that)\n")
    except RecordFault as fault:
        sys.stderr.write(f"advisor: {fault} (nothing learnt was used)\n")
        return advisor
    if not shifts:
        return advisor
    says = {shift.id: f"learnt here: {said(shift, advisor.knowledge)}" for shift in shifts}
    return advisor.in_kitchen(kitchen_of(shifts, says))


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
