"""Which slips of the hand are worth a look, in words: those that would bring what was seen, the likeliest first."""

from __future__ import annotations

from advisor.diagnosis.hand_slips import HandSlips
from advisor.explanation.answer import ByHand, SaidHandSlip
from advisor.explanation.quantities import runs_of
from advisor.explanation.thresholds import Thresholds
from advisor.knowledge_base.knowledge import Knowledge


def said_by_hand(found: HandSlips, knowledge: Knowledge, limits: Thresholds) -> ByHand:
    """Take those above the threshold; where the formula explains nothing, the first few whatever their chance."""
    bring = [slip for slip in found.found if slip.brings or slip.told]
    least = limits.hand_slip_said if found.explained else 0.0
    shown = [slip for slip in bring if slip.in_all >= least][: limits.hand_slips_shown]
    return ByHand(
        explained=found.explained,
        slips=tuple(
            SaidHandSlip(
                id=slip.id,
                probability=slip.in_all,
                likelihood=limits.likelihood(slip.in_all),
                says=runs_of(slip.says),
                asks=runs_of(slip.asks),
                brings=tuple(knowledge.symptoms[s].name.lower() for s in slip.brings),
            )
            for slip in shown
        ),
    )
