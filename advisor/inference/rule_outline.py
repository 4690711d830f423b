"""What a rule that fires will say, worked out once: premises, conclusions, the conditions that grade it."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.inference.phases import Phase, condition_of, kind_of, phase_of
from advisor.inference.situation import FactKey, Suspicion
from advisor.knowledge_base.rule_entries import SUPPORTING, Condition, Rule


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A rule as the chain needs it."""

    rule: str
    phase: Phase
    graded: tuple[Condition, ...]
    """The positive conditions that have an excess or a depth."""
    premises: tuple[FactKey, ...]
    conclusions: tuple[FactKey, ...]
    evidence: tuple[tuple[str, str, str], ...]
    """Cause, evidence and evidence group of each suspect."""
    reminders: tuple[str, ...]

    def suspicions(self, excess: float, depth: float) -> tuple[Suspicion, ...]:
        """Give the evidence that the rule brings when it fires as strongly as said."""
        return tuple(
            Suspicion(cause=cause, rule=self.rule, evidence=evidence, group=group, excess=excess, depth=depth)
            for cause, evidence, group in self.evidence
        )


def supports(suspicion: Suspicion) -> bool:
    """Say whether a piece of evidence speaks for its cause at all."""
    return suspicion.evidence in SUPPORTING and suspicion.excess > 0


def concluded(rule: Rule) -> list[FactKey]:
    """Give the facts that a rule concludes; a reminder goes by the id of its rule."""
    kinds = [(kind_of(c), c) for c in rule.then]
    return [(kind, rule.id if kind == "reminder" else str(getattr(c, kind))) for kind, c in kinds]


def outline(rule: Rule) -> Outline:
    """Work out what a rule will say.

    The evidence group, where a suspect names none, is the raw quantity that the rule reads: its first
    measure, else its first subject, positive conditions before denied ones.

    Raises:
        RuleFault: when the rule fits no phase.
    """
    conditions = [clause for clause in rule.when if isinstance(clause, Condition)]
    named = [c.measure for c in conditions if c.measure is not None]
    own = [*named, *(c.name for c in conditions), *(condition_of(clause).name for clause in rule.when)][0]
    return Outline(
        rule=rule.id,
        phase=phase_of(rule),
        graded=tuple(
            c for c in conditions if c.measure is not None or c.above is not None or c.below is not None
        ),
        premises=tuple(dict.fromkeys((c.subject, c.name) for c in conditions)),
        conclusions=tuple(dict.fromkeys(concluded(rule))),
        evidence=tuple(
            (c.suspect, c.evidence, c.evidence_group or own)
            for c in rule.then
            if c.suspect is not None and c.evidence is not None
        ),
        reminders=tuple(c.reminder for c in rule.then if c.reminder is not None),
    )
