"""Whether a whole set of rules fits the engines: for the linter, before any engine sees it."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.inference.engine_limits import limit_messages
from advisor.inference.rule_book import compiled_rules
from advisor.knowledge_base.rule_entries import Rule


def check_engine_limits(rules: Iterable[Rule]) -> list[str]:
    """Say in which ways a set of rules is too wide for the engines; empty when it fits.

    Raises:
        RuleFault: when a rule cannot be compiled at all.
    """
    listed = tuple(rules)
    _, compiled, _ = compiled_rules(listed)
    return limit_messages(compiled, [rule.id for rule in sorted(listed, key=lambda r: r.id)])
