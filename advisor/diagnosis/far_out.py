"""Which numbers lie so far past their band that a check says no, whatever the risks: those that speak for a cause."""

from __future__ import annotations

from collections.abc import Collection

from advisor.inference.rule_outline import supports
from advisor.inference.situation import FactKey, Firing, Inference
from advisor.knowledge_base.texts import Threshold


def far_out(inference: Inference, at_work: Collection[str], far: Threshold | None) -> tuple[str, ...]:
    """Name the measures far past their band that speak for a cause `at_work`.

    A number that no rule takes as a sign of anything in such a bake, such as little salt in a steamed bun, or that
    rests on something nobody stated, is shown where it lies and raises no alarm by itself. Nor does one past which
    a rule with an edge or a condition of its own has hardly begun to speak.
    """
    if far is None:
        return ()
    speaking = {
        s.rule
        for s in inference.suspicions
        if supports(s)
        and s.evidence != "weak"
        and s.share >= 1.0
        and s.excess >= far.value
        and s.cause in at_work
    }
    read = _read_by(speaking, inference.firings)
    return tuple(
        n
        for n, j in inference.judged.items()
        if j.state != "in" and j.excess >= far.value and ("measure", n) in read
    )


def _read_by(rules: Collection[str], firings: Collection[Firing]) -> frozenset[FactKey]:
    """Facts that some rules stand on, down through the states that others concluded for them."""
    read = {fact for firing in firings if firing.rule in rules for fact in firing.premises}
    while more := {
        fact for f in firings if not read.isdisjoint(f.conclusions) for fact in f.premises
    }.difference(read):
        read |= more
    return frozenset(read)
