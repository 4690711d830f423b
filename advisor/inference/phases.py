"""In which phase a rule acts, derived from what it reads and concludes; a rule that fits no phase is refused.

structure: which structure the dough has. state: an intermediate state of affairs. suspect: causes, and what
stands beside them. closing: what follows from the causes suspected. A rule may deny only what an earlier
phase concludes, since "there is no such fact" is safe to say only when no more facts of that kind can come.
A denial of something that is not known (a measure without a value) holds: there is nothing to deny.
"""

from __future__ import annotations

from typing import Literal

from advisor.knowledge_base.rule_entries import Conclusion, Condition, Denial, Rule

Phase = Literal["structure", "state", "suspect", "closing"]
PHASES: tuple[Phase, ...] = ("structure", "state", "suspect", "closing")
_CONCLUDED = ("suspect", "structure", "state", "caution", "reminder", "ask")
_BESIDE = {"caution", "reminder", "ask"}


class RuleFault(Exception):
    """Raised when a rule has the right shape but cannot be run: names the rule and says why."""

    def __init__(self, rule: str, reason: str) -> None:
        self.rule = rule
        self.reason = reason
        super().__init__(f"rule {rule}: {reason}")


def condition_of(clause: Condition | Denial) -> Condition:
    """Give the condition that a clause states or denies."""
    return clause.not_ if isinstance(clause, Denial) else clause


def kind_of(conclusion: Conclusion) -> str:
    """Give the kind of a conclusion: suspect, structure, state, caution, reminder or ask."""
    return next(kind for kind in _CONCLUDED if getattr(conclusion, kind) is not None)


def phase_of(rule: Rule) -> Phase:
    """Derive the phase of a rule.

    Raises:
        RuleFault: when its conclusions do not go together, or it reads or denies what is not known by then.
    """
    kinds = {kind_of(c) for c in rule.then}
    conditions = [condition_of(clause) for clause in rule.when]
    if "structure" in kinds:
        _check_structure_rule(rule, kinds, conditions)
        return "structure"
    reads_suspect = any(c.suspect is not None for c in conditions)
    if "state" in kinds:
        if kinds != {"state"}:
            raise RuleFault(rule.id, "concludes a state together with another kind; write two rules")
        if reads_suspect:
            raise RuleFault(rule.id, "concludes a state from a suspect; states are settled before suspects")
        if any(isinstance(clause, Denial) and clause.not_.state is not None for clause in rule.when):
            raise RuleFault(
                rule.id, "denies a state while states are still being concluded; deny what the state rests on"
            )
        return "state"
    if reads_suspect:
        if not kinds <= _BESIDE:
            raise RuleFault(rule.id, "reads a suspect, so it may conclude only caution, reminder or ask")
        return "closing"
    return "suspect"


def _check_structure_rule(rule: Rule, kinds: set[str], conditions: list[Condition]) -> None:
    if kinds != {"structure"}:
        raise RuleFault(rule.id, "concludes a structure together with another kind; write two rules")
    for condition in conditions:
        if condition.subject not in ("measure", "trait", "process"):
            raise RuleFault(
                rule.id,
                f"concludes a structure from {condition.subject} {condition.name}; "
                "only measures, traits and the process are known then",
            )
        if condition.measure is not None and condition.is_ is not None:
            raise RuleFault(
                rule.id,
                f"reads the band of {condition.measure} to conclude a structure, but bands follow from the "
                "structure; use above or below",
            )
