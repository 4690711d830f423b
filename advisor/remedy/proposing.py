"""Levers of the likely causes, each tried, and what helps, in the order in which a baker would try it."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.remedy.constraints import Constraints
from advisor.remedy.levers.candidate import Candidates
from advisor.remedy.levers.same_change import by_change
from advisor.remedy.levers.stated_fault import undone
from advisor.remedy.levers.trying import LeverTrial
from advisor.remedy.ordering import SAME, Ordering
from advisor.remedy.proposal import Declined, Proposal


@dataclass(frozen=True, slots=True, kw_only=True)
class Plans:
    """Proposals, best first, and what was looked at and declined."""

    proposals: tuple[Proposal, ...]
    declined: tuple[Declined, ...]


def propose(
    examiner: Examiner,
    before: Examination,
    constraints: Constraints = Constraints(),  # noqa: B008 (frozen: sharing one default is safe)
    *,
    causes_at_most: int = 6,
) -> Plans:
    """Try every lever of the likely causes on this formula and keep those that help.

    A cause is likely from `remedy_cause_from` (knowledge/coefficients.yaml) upwards.
    """
    trial = LeverTrial(
        examiner=examiner,
        before=before,
        constraints=constraints,
        candidates=Candidates(examiner, after_bake=before.after_bake),
    )
    # A fault that the formula itself states is looked at however likely it seems: its trace may pass for another cause.
    known = examiner.knowledge
    written = {x.for_ for x in known.levers.values() if undone(x, before.formula, known) != before.formula}
    likely = _likely(examiner, before, causes_at_most) | written
    proposals: list[Proposal] = []
    declined: list[Declined] = []
    serves: dict[str, frozenset[str]] = {}
    levers = [lever for lever in examiner.knowledge.levers.values() if lever.for_ in likely]
    for group in by_change(trial, levers):
        found: Proposal | None = None
        for lever in group:
            outcome = Declined(lever=lever.id, cause=lever.for_, reason=SAME) if found else trial(lever)
            if isinstance(outcome, Proposal):
                found = outcome
                proposals.append(outcome)
                serves[outcome.lever] = frozenset(other.for_ for other in group)
            else:
                declined.append(outcome)
    ordering = Ordering(
        before=before,
        knowledge=examiner.knowledge,
        candidates=trial.candidates,
        serves=serves,
        stated=frozenset(lever.id for lever in levers if trial.stated(lever)),
        told=frozenset(lever.id for lever in levers if trial.told(lever)),
    )
    kept, doubled = ordering.beside_each_other(ordering.best_first(proposals))
    return Plans(proposals=tuple(kept), declined=(*declined, *doubled))


def _likely(examiner: Examiner, before: Examination, at_most: int) -> frozenset[str]:
    floor = examiner.knowledge.coefficient("remedy_cause_from")
    ranked = [(rank.id, rank.own) for rank in before.diagnosis.causes if rank.own >= floor]
    return frozenset(cause for cause, _ in sorted(ranked, key=lambda item: (-item[1], item[0]))[:at_most])
