"""Which causes are named, in which order, and what is said of each: one rule for every face."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.diagnosis.pipeline import Examination
from advisor.diagnosis.ranking import CauseRank
from advisor.explanation.answer import Depth, SaidCause
from advisor.explanation.blocks import Runs
from advisor.explanation.chains import names_of
from advisor.explanation.facts import because_of
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.wording import sentence
from advisor.knowledge_base.knowledge import Knowledge


def named_causes(found: Examination, limits: Thresholds) -> tuple[CauseRank, ...]:
    """Causes that are named, in the order of the diagnosis.

    A cause is named from the threshold of its stage on (before or after the bake). A cause that is a heading over finer
    ones is left to them where one of them is named and likelier than the heading by itself.
    """
    least = limits.cause_shown(after_bake=found.after_bake)
    named = [rank for rank in found.diagnosis.causes if rank.probability >= least]
    led = {
        rank.refines
        for rank in named
        if (parent := found.diagnosis.cause(rank.refines or "")) and rank.probability > parent.own
    }
    return tuple(rank for rank in named if rank.id not in led)


def ordered_causes(found: Examination, limits: Thresholds) -> tuple[CauseRank, ...]:
    """Every cause: those that are named, as every page has them, and then the others."""
    named = named_causes(found, limits)
    rest = (rank for rank in found.diagnosis.causes if rank not in named)
    return (*named, *rest)


def said_causes(found: Examination, knowledge: Knowledge, limits: Thresholds) -> tuple[SaidCause, ...]:
    """What is said of every cause that is named."""
    names, fired = names_of(knowledge), {firing.rule for firing in found.inference.firings}
    assumed = {(s.rule, s.cause) for s in found.inference.suspicions if s.share < 1.0}

    def said(rules: Iterable[str], cause: str) -> tuple[Runs, ...]:
        texts = dict.fromkeys(
            f"{'Only assumed: ' if (rule, cause) in assumed else ''}{because_of(rule, found, knowledge)}"
            for rule in rules if rule in fired
        )  # fmt: skip
        return tuple(sentence(text) for text in texts)

    def stated(rules: Iterable[str], cause: str) -> Iterable[str]:
        return (rule for rule in rules if (rule, cause) not in assumed)

    def lower(ids: Iterable[str]) -> tuple[str, ...]:
        return tuple(names[name].lower() for name in ids)

    return tuple(
        SaidCause(
            id=rank.id,
            name=names[rank.id],
            probability=rank.probability,
            likelihood=limits.likelihood(rank.probability),
            says=sentence(knowledge.causes[rank.id].says),
            speaks_for=said(rank.rules_for, rank.id),
            # What nobody stated is no argument against anything.
            against=said(stated(rank.rules_against, rank.id), rank.id),
            explains=lower(rank.seen_for),
            unexplained=lower(s for s in found.seen if s not in rank.seen_for),
            would_bring=lower(rank.absent_against),
            chains=tuple(lower(chain) for chain in rank.chains),
            shown=_depth(place, limits),
        )
        for place, rank in enumerate(named_causes(found, limits))
    )


def _depth(place: int, limits: Thresholds) -> Depth:
    return "brief" if place == 0 else "usual" if place < limits.causes_usual else "full"
