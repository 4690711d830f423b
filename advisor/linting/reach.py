"""Can everything that rules conclude come to pass: states, structures and suspects, from rules that can fire?

A rule can fire where its own conditions leave room and where what it asks of other rules is concluded by one that can
fire. That is worked out to a fixed point, so that a chain of rules which only wait for each other is found as well.
"""

from __future__ import annotations

from advisor.knowledge_base.rule_entries import SUPPORTING, Condition, Rule
from advisor.linting.bands import allowed_structures, misfit
from advisor.linting.conditions import contradiction
from advisor.linting.report import Report

Fact = tuple[str, str]
_FROM_RULES = ("state", "structure", "suspect")


def check_reach(report: Report) -> None:
    """Find rules that wait for what never comes, and causes, structures, traits and levers out of reach."""
    facts = _reached(report)
    rules = report.knowledge.rules
    concluded = {fact for rule in rules.values() for fact in _facts(rule)}
    for name, rule in rules.items():
        # What no rule concludes at all is an unknown name or an orphan, which other checks say.
        for kind, missing in sorted(_wanted(rule) - facts):
            if (kind, missing) in concluded:
                report.add(
                    "rule", name, "reach", f"never fires: no rule that can fire concludes {kind} {missing}"
                )
    for name in report.knowledge.causes:
        if ("suspect", name) in concluded - facts:
            report.add("cause", name, "reach", "no rule that can fire speaks for this cause")
    for name in report.knowledge.structures:
        if ("structure", name) not in facts:
            report.add("structure", name, "reach", "no rule that can fire concludes this structure")
    _traits(report)
    _levers(report)


def _facts(rule: Rule) -> set[Fact]:
    """States, structures and supported suspects that a rule concludes."""
    return {
        (kind, name)
        for then in rule.then
        for kind in _FROM_RULES
        if (name := getattr(then, kind)) is not None and then.evidence in (None, *SUPPORTING)
    }


def _wanted(rule: Rule) -> set[Fact]:
    """What a rule waits for from other rules."""
    held = [part for part in rule.when if isinstance(part, Condition)]
    return {(part.subject, part.name) for part in held if part.subject in _FROM_RULES}


def _reached(report: Report) -> set[Fact]:
    """All that rules which can fire conclude."""
    known = report.knowledge
    open_rules = {
        name: rule
        for name, rule in known.rules.items()
        if not contradiction(rule)
        and not all(misfit(known, rule, structure) for structure in allowed_structures(known, rule))
    }
    firing: set[str] = set()
    facts: set[Fact] = set()
    while ready := {name for name, rule in open_rules.items() if _wanted(rule) <= facts} - firing:
        firing |= ready
        facts |= {fact for name in ready for fact in _facts(open_rules[name])}
    return facts


def _traits(report: Report) -> None:
    """A rule on a trait that no ingredient has, and that no word of a formula sets, never fires."""
    if report.traits_of_words is None:
        return
    had = {trait for entry in report.knowledge.ingredients.values() for trait in entry.traits}
    had |= report.traits_of_words
    for name, rule in report.knowledge.rules.items():
        for part in rule.when:
            if (
                isinstance(part, Condition)
                and part.trait in report.knowledge.traits
                and part.trait not in had
            ):
                report.add("rule", name, "reach", f"never fires: no ingredient has the trait {part.trait}")


def _levers(report: Report) -> None:
    """A lever that turns what no ingredient is never applies."""
    entries = report.knowledge.ingredients.values()
    roles = {role for entry in entries for role in entry.roles}
    traits = {trait for entry in entries for trait in entry.traits} | (report.traits_of_words or set())
    for name, lever in report.knowledge.levers.items():
        if lever.turn.ingredient_role and lever.turn.ingredient_role not in roles:
            report.add("lever", name, "reach", f"no ingredient has the role {lever.turn.ingredient_role}")
        if (trait := lever.turn.trait) in report.knowledge.traits and trait not in traits:
            report.add("lever", name, "reach", f"no ingredient has the trait {trait}")
