"""Does every rule say something that no other rule says already?"""

from __future__ import annotations

from advisor.knowledge_base.checks_report import Report
from advisor.knowledge_base.entry import Entry
from advisor.knowledge_base.rule_entries import Condition, Denial, Rule


def check_rules(report: Report) -> None:
    """Find rules that are alike, rules that a wider rule implies, and lines that stand twice in one rule."""
    first_with: dict[tuple[frozenset[str], frozenset[str]], str] = {}
    alike: set[str] = set()
    for name, rule in report.knowledge.rules.items():
        if len({_text(part) for part in rule.when}) < len(rule.when):
            report.add("rule", name, "alike", "one condition stands twice")
        if len({_text(part) for part in rule.then}) < len(rule.then):
            report.add("rule", name, "alike", "one conclusion stands twice")
        first = first_with.setdefault((_texts(rule.when), _texts(rule.then)), name)
        if first != name:
            alike.add(name)
            where = report.knowledge.where("rule", first)
            report.add("rule", name, "alike", f"has the conditions and conclusions of {first} at {where}")
    _implied(report, alike)


def _text(part: Entry) -> str:
    return repr(part)


def _texts(parts: tuple[Entry, ...]) -> frozenset[str]:
    return frozenset(map(_text, parts))


def _implied(report: Report, alike: set[str]) -> None:
    rules = [(name, rule) for name, rule in report.knowledge.rules.items() if name not in alike]
    by_conclusion: dict[str, list[tuple[str, Rule]]] = {}
    for name, rule in rules:
        for then in rule.then:
            by_conclusion.setdefault(_text(then), []).append((name, rule))
    for name, rule in rules:
        for wide_name, wide in by_conclusion[_text(rule.then[0])]:
            if wide_name != name and _texts(rule.then) <= _texts(wide.then) and _wider(wide, rule):
                where = report.knowledge.where("rule", wide_name)
                report.add("rule", name, "implied", f"{wide_name} at {where} concludes the same from less")
                break


def _wider(wide: Rule, narrow: Rule) -> bool:
    """Does `wide` hold wherever `narrow` does, and not the other way round?"""
    return all(any(_follows(n, w) for n in narrow.when) for w in wide.when) and not all(
        any(_follows(w, n) for w in wide.when) for n in narrow.when
    )


def _follows(narrow: Condition | Denial, wide: Condition | Denial) -> bool:
    """Does `wide` hold whenever `narrow` does, and as strongly?"""
    if narrow == wide:
        return True
    if isinstance(narrow, Denial) or isinstance(wide, Denial):
        return False
    # Only the edges may differ; a different scale (`over`) is a different weight and no implication.
    bare = {"above": None, "below": None}
    if narrow.model_copy(update=bare) != wide.model_copy(update=bare):
        return False
    above = wide.above is None or (narrow.above is not None and narrow.above >= wide.above)
    return above and (wide.below is None or (narrow.below is not None and narrow.below <= wide.below))
