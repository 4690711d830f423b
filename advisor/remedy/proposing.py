"""Levers of the likely causes, each tried, and what helps ranked by relief over effort."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.remedy.constraints import Constraints
from advisor.remedy.levers.candidate import Candidates
from advisor.remedy.levers.same_change import by_change, what_it_turns
from advisor.remedy.levers.trying import LeverTrial
from advisor.remedy.proposal import Declined, Proposal

_SAME = "a better amount of the same change is proposed"


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
    likely = _likely(examiner, before, causes_at_most)
    proposals: list[Proposal] = []
    declined: list[Declined] = []
    levers = (lever for lever in examiner.knowledge.levers.values() if lever.for_ in likely)
    for group in by_change(trial, levers):
        found: Proposal | None = None
        for lever in group:
            outcome = _doubled(lever.id, lever.for_) if found else trial(lever)
            if isinstance(outcome, Proposal):
                found = outcome
                proposals.append(outcome)
            else:
                declined.append(outcome)
    proposals = _best_first(examiner, before, proposals)
    kept, doubled = _one_of_each(_with_amounts(examiner, proposals))
    return Plans(proposals=tuple(kept), declined=(*declined, *doubled))


def _likely(examiner: Examiner, before: Examination, at_most: int) -> frozenset[str]:
    floor = examiner.knowledge.coefficient("remedy_cause_from")
    ranked = [(rank.id, rank.own) for rank in before.diagnosis.causes if rank.own >= floor]
    return frozenset(cause for cause, _ in sorted(ranked, key=lambda item: (-item[1], item[0]))[:at_most])


def _best_first(examiner: Examiner, before: Examination, proposals: list[Proposal]) -> list[Proposal]:
    """Order by worth; what is for a cause all but certain, and helps a good deal, goes before what is for a likely one.

    A loaf that left the oven raw is to be baked first, though less water would do more for all that it shows. What
    does nothing for anything that the baker saw comes last.
    """
    c = examiner.knowledge.coefficient
    most = max((p.worth for p in proposals), default=0.0)
    seen = before.seen

    def helps_what_was_seen(p: Proposal) -> bool:
        return not seen or any(
            p.risk[s][0] - p.risk[s][1] >= c("remedy_seen_helped_from") for s in seen if s in p.risk
        )

    def place(p: Proposal) -> tuple[bool, bool, float, str]:
        certain = before.diagnosis.own.get(p.cause, 0.0) >= c("remedy_certain_from")
        first = certain and p.worth >= c("remedy_certain_worth") * most
        return (not helps_what_was_seen(p), not first, -p.worth, p.lever)

    return sorted(proposals, key=place)


def _with_amounts(examiner: Examiner, proposals: list[Proposal]) -> list[Proposal]:
    """Leave out what another proposal says with an amount."""
    levers, proposed = examiner.knowledge.levers, {p.lever for p in proposals}
    return [p for p in proposals if levers[p.lever].only_without not in proposed]


def _one_of_each(proposals: list[Proposal]) -> tuple[list[Proposal], list[Declined]]:
    """Keep the best of proposals that turn the same things: two amounts of one cure are one cure.

    A cure that turns what a better one turns the other way is dropped too: nobody can bake both.
    """
    kept: list[Proposal] = []
    doubled: list[Declined] = []
    seen: dict[frozenset[str], tuple[bool, ...]] = {}
    for proposal in proposals:
        things, direction = what_it_turns(proposal.changes)
        if (first := seen.get(things)) is None:
            seen[things] = direction
            kept.append(proposal)
            continue
        reason = _SAME if first == direction else "a better change turns the same thing the other way"
        doubled.append(_doubled(proposal.lever, proposal.cause, reason))
    return kept, doubled


def _doubled(lever: str, cause: str, reason: str = _SAME) -> Declined:
    return Declined(lever=lever, cause=cause, reason=reason)
