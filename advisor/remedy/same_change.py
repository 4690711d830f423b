"""Levers that come to one and the same change: more psyllium for the gum, for the water and for the meal."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.knowledge_base.rule_entries import Lever
from advisor.remedy.change import Change
from advisor.remedy.trying import LeverTrial

Things = frozenset[str]
Ways = tuple[bool, ...]


def what_it_turns(changes: Iterable[Change]) -> tuple[Things, Ways]:
    """Give the things that a change turns, and for each, in order of its name, whether it turns it up.

    Minutes of baking that a change of amounts brings with it are no part of it.
    """
    listed = tuple(changes)
    way = {c.what: (c.after or 0.0) > (c.before or 0.0) for c in listed if c.what != "bake"}
    return frozenset(way) or frozenset(c.what for c in listed), tuple(way[what] for what in sorted(way))


def by_change(trial: LeverTrial, levers: Iterable[Lever]) -> list[list[Lever]]:
    """Put levers together that turn the same things the same way; the amount that leaves least amiss stands first.

    A baker tries one amount of one change, and an oven's curve for each would take most of the time of an answer.
    Least amiss is the least summed excess of the dough at rest over its bands; then comes what is for the likelier
    cause and costs less, then the smaller change.
    """
    own, coefficient = trial.before.diagnosis.own, trial.examiner.knowledge.coefficient
    groups: dict[object, list[tuple[float, float, float, int, Lever]]] = {}
    for place, lever in enumerate(levers):
        changed = trial.amount(lever)
        if changed is None:
            groups[lever.id] = [(0.0, 0.0, 0.0, place, lever)]
            continue
        candidate = trial.candidates.of(changed.formula)
        size = sum(abs((c.after or 0.0) - (c.before or 0.0)) for c in changed.changes)
        likely = own.get(lever.for_, 0.0) / coefficient(f"effort_{lever.effort}")
        entry = (round(candidate.excess_at_rest, 9), -round(likely, 9), round(size, 6), place, lever)
        groups.setdefault(what_it_turns(changed.changes), []).append(entry)
    return [[lever for *_, lever in sorted(group, key=lambda entry: entry[:4])] for group in groups.values()]
