"""Does every rule say something that no other rule says already, and that no other rule takes back?"""

from __future__ import annotations

from advisor.inference.phases import condition_of
from advisor.knowledge_base.entry import Entry
from advisor.knowledge_base.rule_entries import SUPPORTING, Rule
from advisor.linting.conditions import contradiction
from advisor.linting.implication import (
    OPPOSING,
    group_of,
    implies,
    implies_as_strongly,
    says_as_much,
)
from advisor.linting.report import Report


def check_rules(report: Report) -> None:
    """Find rules that are alike, that a wider rule implies, that oppose each other, and lines that stand twice."""
    first_with: dict[tuple[frozenset[str], frozenset[str]], str] = {}
    alike: set[str] = set()
    for name, rule in report.knowledge.rules.items():
        if len({_text(part) for part in rule.when}) < len(rule.when):
            report.add("rule", name, "alike", "one condition stands twice")
        if len({_text(part) for part in rule.then}) < len(rule.then):
            report.add("rule", name, "alike", "one conclusion stands twice")
        if any(condition_of(part).symptom for part in rule.when) and any(then.suspect for then in rule.then):
            report.add(
                "rule", name, "twice", "suspects a cause from a symptom, which the cause graph weighs already"
            )
        first = first_with.setdefault((_texts(rule.when), _texts(rule.then)), name)
        if first != name:
            alike.add(name)
            where = report.knowledge.where("rule", first)
            report.add("rule", name, "alike", f"has the conditions and conclusions of {first} at {where}")
    _implied(report, alike)
    _opposed(report)


def _text(part: Entry) -> str:
    return repr(part)


def _texts(parts: tuple[Entry, ...]) -> frozenset[str]:
    return frozenset(map(_text, parts))


def _conclusions(rule: Rule) -> set[tuple[str, str]]:
    """What a rule concludes, whatever the evidence: kind and id."""
    return {
        (kind, str(value))
        for then in rule.then
        for kind in ("suspect", "structure", "state", "caution", "reminder", "ask")
        if (value := getattr(then, kind)) is not None
    }


def _implied(report: Report, alike: set[str]) -> None:
    rules = [
        (name, rule)
        for name, rule in report.knowledge.rules.items()
        if name not in alike and not contradiction(rule)
    ]
    by_conclusion: dict[tuple[str, str], list[tuple[str, Rule]]] = {}
    for name, rule in rules:
        for concluded in _conclusions(rule):
            by_conclusion.setdefault(concluded, []).append((name, rule))
    for name, rule in rules:
        for wide_name, wide in by_conclusion[min(_conclusions(rule))]:
            if wide_name == name or not (says_as_much(wide, rule) and implies_as_strongly(rule, wide)):
                continue
            # Two rules that hold together and say as much: the one that stands later is one too many.
            if says_as_much(rule, wide) and implies_as_strongly(wide, rule) and name < wide_name:
                continue
            what = "the same from less" if _texts(rule.then) <= _texts(wide.then) else "as much from no more"
            where = report.knowledge.where("rule", wide_name)
            report.add("rule", name, "implied", f"{wide_name} at {where} concludes {what}")
            break


def _opposed(report: Report) -> None:
    """A rule for a cause and one against it, in one evidence group, of which one holds wherever the other does."""
    for_, against = (_speaking(report, words) for words in (SUPPORTING, OPPOSING))
    for (cause, group), speakers in for_.items():
        for name, rule in speakers:
            for other_name, other in against.get((cause, group), []):
                if implies(rule.when, other.when):
                    _oppose(report, name, other_name, cause, "for", "against")
                elif implies(other.when, rule.when):
                    _oppose(report, other_name, name, cause, "against", "for")


def _speaking(report: Report, words: tuple[str, ...]) -> dict[tuple[str, str], list[tuple[str, Rule]]]:
    found: dict[tuple[str, str], list[tuple[str, Rule]]] = {}
    for name, rule in report.knowledge.rules.items():
        for then in rule.then:
            if then.suspect and then.evidence in words:
                found.setdefault((then.suspect, group_of(rule, then)), []).append((name, rule))
    return found


def _oppose(report: Report, name: str, other: str, cause: str, side: str, other_side: str) -> None:
    where = report.knowledge.where("rule", other)
    message = (
        f"speaks {side} {cause} only where {other} at {where} speaks {other_side} it from the same evidence"
    )
    report.add("rule", name, "opposed", message)
