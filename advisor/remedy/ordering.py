"""In which order changes are proposed, and which of them cannot stand beside a better one."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from advisor.diagnosis.pipeline import Examination
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.levers.candidate import Candidates
from advisor.remedy.levers.same_change import what_it_turns
from advisor.remedy.levers.turning import matches
from advisor.remedy.proposal import Declined, Proposal
from advisor.remedy.sanity import undo_each_other

SAME = "a better amount of the same change is proposed"


def leading(own: Mapping[str, float], knowledge: Knowledge) -> frozenset[str]:
    """The likeliest cause, and those nearly as likely; none where even that one is not likely.

    `own` is the probability of each cause by itself, 0..1.
    """
    most = max(own.values(), default=0.0)
    if most < knowledge.coefficient("remedy_leads_from"):
        return frozenset()
    share = knowledge.coefficient("remedy_leads_beside")
    return frozenset(cause for cause, p in own.items() if p >= share * most)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordering:
    """Orders the proposals of one formula.

    `serves` says for each lever which causes its change is for: one change may be several levers. `stated` holds the
    levers that undo what the baker says went wrong.
    """

    before: Examination
    knowledge: Knowledge
    candidates: Candidates
    serves: Mapping[str, frozenset[str]]
    stated: frozenset[str]
    told: frozenset[str] = frozenset()
    """Those of them that an answer names: more than a line of the formula, which may be harmless."""

    def best_first(self, proposals: Sequence[Proposal]) -> list[Proposal]:
        """Cures of the first cause come first, then stated faults, cures of other leading causes, then what helps most.

        What was seen weighs before what is only at risk. What does nothing for anything that the baker saw comes last,
        and a cure of the first or a leading cause that does next to nothing has no place before the others. A change
        of the very thing that is at fault stands before one that works round it.
        """
        c, own = self.knowledge.coefficient, self.before.diagnosis.own
        serves_of = self._served(proposals)
        first = self._first(serves_of.values())
        leaders = leading(own, self.knowledge)
        most = max((p.worth for p in proposals), default=0.0)
        beside = c("remedy_stated_beside") * max(own.values(), default=0.0)

        def place(p: Proposal) -> tuple[bool, bool, bool, bool, bool, float, float, str]:
            likely = own.get(p.cause, 0.0)
            stated = p.lever in self.stated and (
                likely >= max(c("remedy_leads_from"), 0 if p.lever in self.told else beside)
                or (p.formula != self.before.formula and p.worth >= c("remedy_leading_worth") * most)
            )
            serves = serves_of[p.lever]
            leads = bool(serves & leaders) and p.worth >= c("remedy_leading_worth") * most
            foremost = bool(serves & first) and p.worth >= c("remedy_first_worth") * most
            return (
                not self._helps_what_was_seen(p),
                not foremost,
                not stated,
                not leads,
                foremost and self.knowledge.levers[p.lever].works_round,
                -round(self._relieves_seen(p) / p.effort, 9),
                -p.worth,
                p.lever,
            )

        return sorted(proposals, key=place)

    def _served(self, proposals: Sequence[Proposal]) -> dict[str, frozenset[str]]:
        """Lever to the causes that its change is for: those too of others that turn the same things the same way."""
        alike: dict[object, frozenset[str]] = {}
        for p in proposals:
            turned = what_it_turns(p.changes)
            alike[turned] = alike.get(turned, frozenset()) | self.serves.get(p.lever, frozenset({p.cause}))
        return {p.lever: alike[what_it_turns(p.changes)] for p in proposals}

    def _first(self, served: Collection[frozenset[str]]) -> frozenset[str]:
        """The first cause of the answer that a change is for, with what it is a kind of.

        None before a bake, and where no such cause is likely.
        """
        likely = self.knowledge.coefficient("remedy_leads_from")
        for rank in self.before.diagnosis.causes if self.before.seen else ():
            named = frozenset(filter(None, (rank.id, rank.refines)))
            if rank.standing >= likely and any(named & causes for causes in served):
                return named
        return frozenset()

    def _helps_what_was_seen(self, p: Proposal) -> bool:
        least = self.knowledge.coefficient("remedy_seen_helped_from")
        falls = (p.risk[s][0] - p.risk[s][1] for s in self.before.seen if s in p.risk)
        return not self.before.seen or any(fall >= least for fall in falls)

    def _relieves_seen(self, p: Proposal) -> float:
        """Severity-weighted fall of what was seen; of everything before a bake."""
        symptoms = self.knowledge.symptoms
        if not self.before.seen:
            return p.relief
        return sum(
            symptoms[s].severity * (p.risk[s][0] - p.risk[s][1]) for s in self.before.seen if s in p.risk
        )

    def beside_each_other(self, ordered: Sequence[Proposal]) -> tuple[list[Proposal], list[Declined]]:
        """Keep what can stand on one page: one amount of one change, nothing twice, nothing that undoes another."""
        levers, proposed = self.knowledge.levers, {p.lever for p in ordered}
        kept: list[Proposal] = []
        declined: list[Declined] = []
        for p in ordered:
            if levers[p.lever].only_without in proposed:
                continue
            if (why := self._in_the_way(p, kept)) is None:
                kept.append(p)
            else:
                declined.append(Declined(lever=p.lever, cause=p.cause, reason=why))
        return kept, declined

    def _in_the_way(self, p: Proposal, kept: Sequence[Proposal]) -> str | None:
        things, ways = what_it_turns(p.changes)
        for better in kept:
            others, other_ways = what_it_turns(better.changes)
            if things == others:
                same = ways == other_ways
                return SAME if same else "a better change turns the same thing the other way"
            if (why := undo_each_other(better.changes, p.changes, self.knowledge)) is not None:
                return f"it undoes a better change: {why}"
            if better.lever in self.stated and self._goes_with(p, better):
                return "it goes with the fault that is undone first"
        return None

    def _goes_with(self, p: Proposal, first: Proposal) -> bool:
        """Whether a change is for what goes when a stated fault is undone, or uses more of what is at fault."""
        lever = self.knowledge.levers[first.lever]
        if lever.turn.ingredient_role or lever.turn.ingredient:
            spent = {x.ingredient.name for x in self.before.formula.lines if matches(lever, x)}
            if any(ch.what in spent and (ch.after or 0.0) > (ch.before or 0.0) for ch in p.changes):
                return True
        if first.formula == self.before.formula or p.cause == first.cause:
            return False
        was = self.candidates.unseen_of(self.before)
        now = self.candidates.of(first.formula).examination.diagnosis.priors
        share = self.knowledge.coefficient("remedy_goes_with")
        serves = self.serves.get(p.lever, frozenset({p.cause}))
        return all(now.get(cause, 0.0) < share * was.get(cause, 0.0) for cause in serves)
