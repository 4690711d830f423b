"""Levers of the likely causes, each solved, rounded, applied, looked at afresh, and ranked by relief over effort."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from advisor.diagnosis.examining import Examination, Examiner
from advisor.knowledge_base.rule_entries import Lever
from advisor.remedy.change import Changed, ChangeKind
from advisor.remedy.constraints import Constraints
from advisor.remedy.effect import Effect, effect_of
from advisor.remedy.proposal import Declined, Proposal
from advisor.remedy.side_effects import side_effects
from advisor.remedy.solving import measure_reader, solve
from advisor.remedy.target import aim_at
from advisor.remedy.turning import dial_for, handling


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
    """Solve every lever of the likely causes on this formula and keep those that help.

    A cause is likely from `remedy_cause_from` (knowledge/coefficients.yaml) upwards.
    """
    likely = _likely(examiner, before, causes_at_most)
    proposals: list[Proposal] = []
    declined: list[Declined] = []
    tried: set[tuple[object, ...]] = set()
    for cause in likely:
        for lever in _levers_of(cause, examiner):
            outcome = _try_lever(examiner, before, lever, constraints, tried)
            if isinstance(outcome, Proposal):
                proposals.append(outcome)
            else:
                declined.append(outcome)
    proposals.sort(key=lambda p: (-p.worth, p.lever))
    kept, doubled = _one_of_each(proposals)
    return Plans(proposals=tuple(kept), declined=(*declined, *doubled))


def _one_of_each(proposals: list[Proposal]) -> tuple[list[Proposal], list[Declined]]:
    """Keep the best of proposals that turn the same things the same way: two amounts of one cure are one cure."""
    kept: list[Proposal] = []
    doubled: list[Declined] = []
    seen: set[tuple[tuple[str, bool], ...]] = set()
    for proposal in proposals:
        way = tuple((c.what, (c.after or 0.0) > (c.before or 0.0)) for c in proposal.changes)
        if way in seen:
            doubled.append(
                Declined(
                    lever=proposal.lever,
                    cause=proposal.cause,
                    reason="a better amount of the same change is proposed",
                )
            )
        else:
            seen.add(way)
            kept.append(proposal)
    return kept, doubled


def _likely(examiner: Examiner, before: Examination, at_most: int) -> list[str]:
    floor = examiner.knowledge.coefficient("remedy_cause_from")
    ranked = [(rank.id, rank.own) for rank in before.diagnosis.causes if rank.own >= floor]
    return [cause for cause, _ in sorted(ranked, key=lambda item: (-item[1], item[0]))[:at_most]]


def _levers_of(cause: str, examiner: Examiner) -> Iterable[Lever]:
    return (lever for lever in examiner.knowledge.levers.values() if lever.for_ == cause)


def _try_lever(
    examiner: Examiner,
    before: Examination,
    lever: Lever,
    constraints: Constraints,
    tried: set[tuple[object, ...]],
) -> Proposal | Declined:
    knowledge, weights = examiner.knowledge, before.inference.structures

    def no(reason: str) -> Declined:
        return Declined(lever=lever.id, cause=lever.for_, reason=reason)

    if lever.structures and before.structure not in lever.structures:
        return no(f"not for a {knowledge.structures[before.structure].name}")
    added = lever.turn.add or (lever.turn.replace[1] if lever.turn.replace else None)
    if added and (refusal := constraints.refuses(knowledge.ingredients[added])):
        return no(refusal)
    if lever.until is None:
        if (lever.efficacy or 0.0) <= 0:
            return no("no known effect")
        effect = effect_of(examiner, before, before.formula, {lever.for_: lever.efficacy or 0.0})
        return _judged(examiner, before, lever, None, effect)
    now = before.inference.judged.get(lever.until.measure)
    value = now.value if now else before.workings.measures.value(lever.until.measure)
    aim = aim_at(lever.until, value, examiner.bands, weights)
    if aim is None:
        return no("the measure that it would move is where it should be")
    dial = dial_for(lever, before.formula, weights, knowledge)
    if dial is None:
        return no("nothing of that kind is in the formula")
    edges = examiner.bands.edges("specific_volume", weights)
    read = measure_reader(lever.until.measure, weights, edges.low if edges else None, knowledge)
    solved = solve(dial, aim, read)
    if solved.changed is None:
        return no(solved.reason)
    key = tuple((c.what, c.after) for c in solved.changed.changes)
    if key in tried:
        return no("the same change is proposed already")
    tried.add(key)
    effect = effect_of(examiner, before, solved.changed.formula)
    held = effect.after.inference.judged.get(lever.until.measure)
    if held is not None and held.state != "in" and lever.until.into == "band":
        return no(
            "the change moves the loaf to another structure, where the measure is out of its band again"
        )
    limit, carb = constraints.net_carb_max, effect.after.workings.measures.value("net_carb_per_slice")
    if (
        limit is not None
        and carb is not None
        and carb > max(limit, before.workings.measures.value("net_carb_per_slice") or 0)
    ):
        return no(f"it would bring {carb:.1f} g net carbohydrate a slice, over the limit of {limit:g} g")
    return _judged(examiner, before, lever, solved.changed, effect)


def _judged(
    examiner: Examiner, before: Examination, lever: Lever, changed: Changed | None, effect: Effect
) -> Proposal | Declined:
    """Drop what helps little, and what worsens more than half of what it relieves."""
    c = examiner.knowledge.coefficient
    if effect.relieved < c("remedy_least_relief"):
        return Declined(lever=lever.id, cause=lever.for_, reason="it would relieve next to nothing")
    if effect.worsened > effect.relieved / 2:
        worst = max(effect.risk, key=lambda s: effect.risk[s][1] - effect.risk[s][0])
        name = examiner.knowledge.symptoms[worst].name
        return Declined(
            lever=lever.id,
            cause=lever.for_,
            reason=f"it would worsen more than half of what it helps ({name})",
        )
    a, b = before.workings.measures, effect.after.workings.measures
    moved = {}
    for name in examiner.knowledge.measures:
        x, y = a.value(name), b.value(name)
        if x != y and (x is None or y is None or abs(y - x) > 1e-6 * max(abs(x), abs(y))):
            moved[name] = (x, y)
    return Proposal(
        lever=lever.id,
        cause=lever.for_,
        kind=_kind(lever, changed),
        says=lever.says,
        because=lever.because,
        changes=changed.changes if changed else handling(lever),
        formula=changed.formula if changed else before.formula,
        measures=moved,
        risk={
            s: pair
            for s, pair in effect.risk.items()
            if abs(pair[0] - pair[1]) >= c("remedy_risk_shown_from")
        },
        net_carb_per_slice=(a.value("net_carb_per_slice"), b.value("net_carb_per_slice")),
        side_effects=side_effects(before, effect.after, examiner.knowledge) if changed else (),
        relief=effect.relief,
        effort=c(f"effort_{lever.effort}"),
    )


def _kind(lever: Lever, changed: Changed | None) -> ChangeKind:
    if changed is None:
        return "handling"
    if lever.turn.process:
        return "process"
    if lever.turn.replace:
        return "replace"
    first = changed.changes[0]
    if first.before == 0:
        return "add"
    return "omit" if first.after == 0 else "amount"
