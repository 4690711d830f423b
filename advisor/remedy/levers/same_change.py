"""Levers that come to one and the same change: more psyllium for the gum, for the water and for the meal."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.knowledge_base.rule_entries import Lever
from advisor.remedy.change import Change, Changed
from advisor.remedy.levers.target import INSIDE
from advisor.remedy.levers.trying import LeverTrial

Things = frozenset[str]
Ways = tuple[bool, ...]


def what_it_turns(changes: Iterable[Change]) -> tuple[Things, Ways]:
    """Give the things that a change turns, and for each, in order of its name, whether it turns it up.

    Minutes of baking that a change of amounts brings with it are no part of it.
    """
    listed = tuple(changes)
    way = {c.what: (c.after or 0.0) > (c.before or 0.0) for c in listed if c.field != "bake_min"}
    return frozenset(way) or frozenset(c.what for c in listed), tuple(way[what] for what in sorted(way))


def by_change(trial: LeverTrial, levers: Iterable[Lever]) -> list[list[Lever]]:
    """Put levers together that turn the same things the same way; the amount that leaves least amiss stands first.

    A baker tries one amount of one change, and an oven's curve for each would take most of the time of an answer.
    Least amiss is the least summed excess of the dough at rest over its bands, and what measures that were out of them
    lack to where a lever aims; then comes what is for the likelier cause and costs less, then the smaller change.
    """
    groups: dict[object, list[tuple[Lever, Changed | None]]] = {}
    for lever in levers:
        changed = trial.amount(lever)
        key = lever.id if changed is None else what_it_turns(changed.changes)
        groups.setdefault(key, []).append((lever, changed))
    return [_least_amiss_first(trial, group) for group in groups.values()]


def _least_amiss_first(trial: LeverTrial, group: list[tuple[Lever, Changed | None]]) -> list[Lever]:
    own, coefficient = trial.before.diagnosis.own, trial.examiner.knowledge.coefficient

    def place(entry: tuple[Lever, Changed | None]) -> tuple[float, float, float, str]:
        lever, changed = entry
        if changed is None:
            return (0.0, 0.0, 0.0, lever.id)
        likely = own.get(lever.for_, 0.0) / coefficient(f"effort_{lever.effort}")
        size = sum(abs((c.after or 0.0) - (c.before or 0.0)) for c in changed.changes)
        return (
            round(_amiss(trial, changed), 9),
            -round(likely, 9),
            round(size, 6),
            lever.id,
        )

    if len(group) > 1:
        group = sorted(group, key=place)
    return [lever for lever, _ in group]


def _amiss(trial: LeverTrial, changed: Changed) -> float:
    was = trial.before.inference.judged
    total = 0.0
    for name, judged in trial.candidates.of(changed.formula).judged_at_rest.items():
        total += judged.excess
        if name in was and was[name].state != "in":
            # Depth counts in quarters of the band's width, the aim in widths.
            total += max(4 * INSIDE - judged.depth, 0.0)
    return total
