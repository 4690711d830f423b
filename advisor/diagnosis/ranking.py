"""The causes in order, kinds under what they are kinds of, each with what speaks for it and what does not."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from advisor.diagnosis.cause_graph import CauseGraph
from advisor.diagnosis.cause_odds import Prior
from advisor.diagnosis.evidence_scale import EvidenceScale
from advisor.diagnosis.posterior import Evidence, Variant, Weighed, weigh
from advisor.diagnosis.risk import Risk
from advisor.knowledge_base.graph_entries import Cause

CHAINS_SHOWN = 3
_TURN = {"baking": 1, "cooling": 2, "flavour_colour": 3}
"""When the causes of a group are put right: after the dough itself, group by group."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseRank:
    """One cause: `probability` counts its kinds in (either counts as found), `own` and `prior` do not."""

    id: str
    probability: float
    own: float
    prior: float
    refines: str | None
    chains: tuple[tuple[str, ...], ...]
    """The strongest routes to what was seen, or else to what is most at risk."""
    rules: tuple[str, ...]
    """Rules that spoke for the cause, then those that spoke against it."""
    rules_for: tuple[str, ...]
    rules_against: tuple[str, ...]
    seen_for: tuple[str, ...]
    """Symptoms seen that it explains, best explained first."""
    absent_against: tuple[str, ...]
    """Symptoms looked for and absent that it would have brought, likeliest first."""
    standing: float
    """By what it is ordered: the probability, or a part of it where it explains nothing of what was seen."""


def kinds_of(causes: Mapping[str, Cause]) -> dict[str, frozenset[str]]:
    """Give each parent cause with all causes that refine it, directly or through another.

    Raises:
        ValueError: causes refine each other in a circle.
    """
    found: dict[str, set[str]] = {}
    for cause in causes.values():
        parent, below = cause.refines, {cause.id}
        while parent is not None:
            if parent in below:
                raise ValueError(f"'{cause.id}' refines itself through '{parent}'")
            below.add(parent)
            found.setdefault(parent, set()).add(cause.id)
            parent = causes[parent].refines if parent in causes else None
    return {parent: frozenset(kinds) for parent, kinds in sorted(found.items())}


def weigh_with_unions(
    evidence: Evidence, kinds: Mapping[str, frozenset[str]]
) -> tuple[Weighed, dict[str, float]]:
    """Give the posterior, and for each parent the exact probability that it or one of its kinds is at work.

    The union is 1 - P(evidence, none of them) / P(evidence): after evidence causes are no longer
    independent, so the product of their marginals would be wrong.
    """
    parents = list(kinds)
    variants = [Variant(), *(Variant(without=kinds[parent] | {parent}) for parent in parents)]
    now, *without = weigh(evidence, variants)
    unions: dict[str, float] = {}
    for parent, gone in zip(parents, without, strict=True):
        # The weight of "off" is already in the likelihood, since excluding sets only the weight of "on" to 0.
        union = 1.0 - gone.likelihood / now.likelihood
        members = [now.probability.get(member, 0.0) for member in (parent, *kinds[parent])]
        unions[parent] = min(1.0, max(union, *members))
    return now, unions


def rank_causes(
    graph: CauseGraph,
    causes: Mapping[str, Cause],
    priors: Mapping[str, Prior],
    own: Mapping[str, float],
    unions: Mapping[str, float],
    risks: Mapping[str, Risk],
    observed: Mapping[str, bool],
    *,
    scale: EvidenceScale,
    told: Collection[str] = (),
    tasted: Collection[str] = (),
) -> tuple[CauseRank, ...]:
    """Rank the causes in play, most probable first; `tasted` are the symptoms that are only taste or colour.

    The baker asks why he got what he saw: a cause that may well be at work and leads to none of it counts by
    `beside_share` (0..1) of its probability, and of two that are both likely and explain different things that were
    seen the one that explains more comes first.

    What the baker told outright (`told`) stands before what is as good as equally likely, and nothing that explains
    more goes before it.

    A parent whose probability comes mostly from one of its kinds stands right behind that kind: the kind is what a
    baker can act on, and the parent says no more.
    """
    seen = {symptom for symptom, there in observed.items() if there}
    absent = {symptom for symptom, there in observed.items() if not there}
    ranks: list[CauseRank] = []
    for cause, probability in own.items():
        prior = priors[cause]
        reached = graph.influence.get(cause, {})
        looked_for = sorted(
            (symptom for symptom in reached if symptom in observed),
            key=lambda symptom: (-reached[symptom], symptom),
        )
        ranks.append(
            CauseRank(
                id=cause,
                probability=unions.get(cause, probability),
                own=probability,
                prior=prior.probability,
                refines=causes[cause].refines,
                chains=_chains(graph, cause, reached, seen, risks),
                rules=(*prior.rules_for, *prior.rules_against),
                rules_for=prior.rules_for,
                rules_against=prior.rules_against,
                seen_for=tuple(symptom for symptom in looked_for if symptom in seen),
                absent_against=tuple(symptom for symptom in looked_for if symptom in absent),
                standing=unions.get(cause, probability),
            )
        )
    below = kinds_of(causes)
    explain = {rank.id for rank in ranks if rank.seen_for}
    if explain:
        ranks = [
            rank
            if rank.id in explain or explain & below.get(rank.id, frozenset())
            else replace(rank, standing=rank.probability * scale.beside_share)
            for rank in ranks
        ]
    leading = _leading_kinds(ranks)

    def place(rank: CauseRank) -> tuple[float, int, str]:
        kind = leading.get(rank.id)
        return (-round(kind or rank.standing, 12), 1 if kind else 0, rank.id)

    explained = {
        rank.id: {s for s in rank.seen_for if graph.influence[rank.id][s] >= scale.explains_from}
        for rank in ranks
    }
    turn = {
        name: 3 if found and found.issubset(tasted) else _TURN.get(causes[name].group, 0)
        for name, found in explained.items()
    }
    return _main_first(sorted(ranks, key=place), leading, explained, turn, scale, told)


def _main_first(
    ordered: list[CauseRank],
    leading: Mapping[str, float],
    explained: Mapping[str, set[str]],
    turn: Mapping[str, int],
    scale: EvidenceScale,
    told: Collection[str],
) -> tuple[CauseRank, ...]:
    """Put the main one of two faults before the lesser; a heading stays behind its kind.

    Two causes that explain the same are rivals, and the likelier one stands first. Where each explains something that
    the other does not, both are wanted, and the one whose `turn` comes first stands first: no oven mends a dough that
    is wrong, and taste is seen to last. In one turn what explains more is what the baker asks about; so it is where one
    of them explains nothing well, or where they are as good as equally likely.
    """
    out: list[list[CauseRank]] = []
    group: list[CauseRank] = []
    for rank in ordered:
        if rank.id in leading and group:
            group.append(rank)
            continue
        at, mine = len(out), explained[rank.id]
        while at and rank.standing >= scale.main_from:
            other = out[at - 1][0]
            before = explained[other.id]
            as_likely = rank.standing >= scale.as_likely * other.standing
            both = mine - before and before - mine and (other.id not in told or rank.id in told)
            if both and turn[rank.id] != turn[other.id]:
                if turn[rank.id] > turn[other.id]:
                    break
            elif (rank.id in told) != (other.id in told):
                if other.id in told or not (mine and (as_likely or not before)):
                    break
            else:
                beside = bool(before - mine) or not before or as_likely
                if not beside or len(mine - before) <= len(before - mine):
                    break
            at -= 1
        group = [rank]
        out.insert(at, group)
    return tuple(rank for group in out for rank in group)


def _leading_kinds(ranks: list[CauseRank]) -> dict[str, float]:
    """Parents that one of their kinds leads, with that kind's standing."""
    by_id = {rank.id: rank for rank in ranks}
    leading: dict[str, float] = {}
    for rank in sorted(ranks, key=lambda r: r.probability):
        parent = by_id.get(rank.refines or "")
        if parent is not None and rank.probability > parent.own:
            leading[parent.id] = max(leading.get(parent.id, 0.0), rank.standing)
    return leading


def _chains(
    graph: CauseGraph,
    cause: str,
    reached: Mapping[str, float],
    seen: set[str],
    risks: Mapping[str, Risk],
) -> tuple[tuple[str, ...], ...]:
    targets = [symptom for symptom in reached if symptom in seen]
    if targets:
        targets.sort(key=lambda symptom: (-reached[symptom], symptom))
    else:
        there = [symptom for symptom in reached if risks[symptom].risk > 0] or reached
        targets = sorted(there, key=lambda s: (-risks[s].risk * reached[s], s))
    first = [graph.routes(cause, symptom)[0].nodes for symptom in targets[:CHAINS_SHOWN]]
    if len(first) < CHAINS_SHOWN and len(targets) == 1:
        # One symptom to explain: the space goes to its further routes.
        first += [route.nodes for route in graph.routes(cause, targets[0])[1 : CHAINS_SHOWN - len(first) + 1]]
    return tuple(first)
