"""What the baker says went wrong stands over what figures of the formula make unlikely.

The models follow the formula as it is written. A thermometer that reads 30 C above the dial, or whites that never
stood, are not in it: that the crust should not have burnt is then no evidence against an oven that is too hot.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable

from advisor.diagnosis.cause_odds import AGAINST, TOLD
from advisor.inference.situation import Suspicion
from advisor.knowledge_base.rule_entries import Condition, Rule


def rules_of_answers(rules: Iterable[Rule]) -> frozenset[str]:
    """Name the rules that need an answer of the baker to fire."""
    return frozenset(
        rule.id
        for rule in rules
        if any(isinstance(one, Condition) and one.answer is not None for one in rule.when)
    )


def told_over_figures(suspicions: Iterable[Suspicion], answered: Collection[str]) -> tuple[Suspicion, ...]:
    """Leave out what figures alone say against a cause that an answer tells outright.

    `answered` names the rules that read an answer; `told` is the evidence of a cause
    that an answer names outright.
    What other answers say against the cause stays, and so does what rules it out.
    """
    listed = tuple(suspicions)
    told = {s.cause for s in listed if s.rule in answered and s.evidence == TOLD}
    return tuple(s for s in listed if s.cause not in told or s.evidence != AGAINST or s.rule in answered)
