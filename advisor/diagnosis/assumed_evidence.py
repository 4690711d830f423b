"""What a rule may say where it reads something that nobody stated: little, since the value was only assumed.

Evidence is averaged over whether the assumed value is the true one: with the share p that is given to it, a likelihood
ratio L counts p L + (1 - p), which is what Bayes' rule gives where the rule tells nothing otherwise.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace

from advisor.inference.situation import FactKey, Firing, Inference
from advisor.knowledge_base.texts import Unstated
from advisor.models.dough.assumptions import ProcessWithDefaults


def assumed_fields(taken: ProcessWithDefaults, stated: Collection[str]) -> frozenset[str]:
    """Name the process fields that were assumed; minutes to a stated core are the baker's own plan."""
    found = {"bake_min", *taken.assumed} - set(stated)
    if taken.pan_kind == "rolls":  # they lie on a tray whether anybody says so or not
        found -= {"pan_kind"}
    return frozenset(found - {"bake_min"} if "target_core_c" in stated else found)


def with_assumed_evidence(
    inference: Inference, assumed: Collection[str], unstated: Mapping[str, Unstated]
) -> Inference:
    """Give the same conclusions, each piece of evidence with the share (0..1) of it that may count."""
    reach = Reach.of(inference.firings, assumed, unstated)
    if not reach.shares:
        return inference
    premises = {firing.rule: firing.premises for firing in inference.firings}
    suspicions = tuple(
        replace(s, share=share) if (share := reach.share(premises[s.rule])) < 1.0 else s
        for s in inference.suspicions
    )
    return replace(inference, suspicions=suspicions)


def _shares(assumed: Iterable[str], unstated: Mapping[str, Unstated]) -> dict[FactKey, float]:
    """Facts that rest on something assumed, with the least share that is given to what they rest on."""
    found: dict[FactKey, float] = {}
    for name in assumed:
        entry = unstated.get(name)
        if entry is None or entry.share is None:
            continue
        for fact in (("process", name), *(("measure", one) for one in entry.measures)):
            found[fact] = min(entry.share, found.get(fact, 1.0))
    return found


class Reach:
    """Follows premises down to what was measured or said."""

    def __init__(self, firings: Iterable[Firing], shares: Mapping[FactKey, float]) -> None:
        self.shares = shares
        self._by_fact: dict[FactKey, list[Firing]] = {}
        for firing in firings:
            for fact in firing.conclusions:
                self._by_fact.setdefault(fact, []).append(firing)

    @classmethod
    def of(
        cls, firings: Iterable[Firing], assumed: Collection[str], unstated: Mapping[str, Unstated]
    ) -> Reach:
        """Make it for what was assumed."""
        return cls(firings, _shares(assumed, unstated))

    def share(self, premises: Iterable[FactKey]) -> float:
        """Give the share (0..1) for what follows from premises: that of the weakest."""
        return self._of_premises(premises, frozenset())

    def _of_premises(self, premises: Iterable[FactKey], above: frozenset[FactKey]) -> float:
        return min((self._of_fact(fact, above) for fact in premises), default=1.0)

    def _of_fact(self, fact: FactKey, above: frozenset[FactKey]) -> float:
        if fact[0] != "state" or fact in above:
            return self.shares.get(fact, 1.0)
        # Of two ways to the same state the better founded one carries it.
        ways = (self._of_premises(firing.premises, above | {fact}) for firing in self._by_fact.get(fact, ()))
        return max(ways, default=1.0)
