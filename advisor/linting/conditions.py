"""Can the conditions of one rule hold together, and can each of them hold and fail at all?

A value is an interval, the state of a band one of three, a word one of any; what is denied is cut away. A
rule that concludes a structure starts half of `over` before its edge, so its intervals are that much wider.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from advisor.knowledge_base.rule_entries import Condition, Denial, Rule
from advisor.linting.report import Report

_STATES = {
    "low": {"low"}, "in": {"in"}, "high": {"high"}, "not_low": {"in", "high"}, "not_high": {"in", "low"},
}  # fmt: skip
_INFINITY = float("inf")


@dataclass(slots=True)
class _Subject:
    """What the conditions of a rule leave open for one fact."""

    low: float = -_INFINITY
    high: float = _INFINITY
    states: set[str] = field(default_factory=lambda: {"low", "in", "high"})
    words: set[str] = field(default_factory=set)
    yes_no: set[bool] = field(default_factory=set)
    positive: bool = False


def _parts(rule: Rule) -> tuple[list[Condition], list[Condition]]:
    held = [part for part in rule.when if isinstance(part, Condition)]
    return held, [part.not_ for part in rule.when if isinstance(part, Denial)]


def _interval(condition: Condition, soft: bool) -> tuple[float, float]:
    if condition.subject == "trait" and condition.above is None and condition.below is None:
        return 0.0, _INFINITY  # a trait named alone: there is some of it
    slack = (condition.over or 0.0) / 2 if soft else 0.0
    low = -_INFINITY if condition.above is None else condition.above - slack
    return low, _INFINITY if condition.below is None else condition.below + slack


def contradiction(rule: Rule) -> str:
    """Say which conditions can never hold together; empty where they can."""
    held, denied = _parts(rule)
    soft = any(then.structure for then in rule.then)
    found: dict[tuple[str, str], _Subject] = {}
    for condition in held:
        if condition in denied:
            return f"{condition.subject} {condition.name} is asked for and denied"
        subject = found.setdefault((condition.subject, condition.name), _Subject())
        subject.positive = True
        if problem := _hold(subject, condition, soft):
            return f"{condition.subject} {condition.name} {problem}"
    for condition in denied:
        subject_or_none = found.get((condition.subject, condition.name))
        if subject_or_none is not None and (problem := _deny(subject_or_none, condition, soft)):
            return f"{condition.subject} {condition.name} {problem}"
    return ""


def _hold(subject: _Subject, condition: Condition, soft: bool) -> str:
    low, high = _interval(condition, soft)
    subject.low, subject.high = max(subject.low, low), min(subject.high, high)
    if subject.low >= subject.high:
        return f"cannot be above {subject.low:g} and below {subject.high:g}"
    if condition.subject == "measure" and condition.is_ is not None:
        subject.states &= _STATES[condition.is_]
        if not subject.states:
            return "cannot be in two states of its band at once"
    elif condition.is_ is not None:
        subject.words.add(condition.is_)
        if len(subject.words) > 1:
            return f"cannot be {' and '.join(sorted(subject.words))} at once"
    if condition.subject == "symptom" or condition.stated is not None:
        flag = condition.stated if condition.subject == "process" else condition.seen
        subject.yes_no.add(flag is not False)
        if len(subject.yes_no) > 1:
            return "cannot be so and not so at once"
    return ""


def _deny(subject: _Subject, condition: Condition, soft: bool) -> str:
    numeric = condition.above is not None or condition.below is not None
    if (
        condition.subject == "process"
        and numeric + (condition.is_ is not None) + (condition.stated is not None) > 1
    ):
        return ""  # denied as a whole: one of its parts may hold
    if numeric or condition.subject == "trait":
        low, high = _interval(condition, soft)
        if low <= subject.low and subject.high <= high:
            return "can only lie where another condition denies it"
        # What is left of the interval, where the denied part covers one of its ends.
        if low <= subject.low:
            subject.low = max(subject.low, high)
        elif subject.high <= high:
            subject.high = min(subject.high, low)
        return ""
    if condition.subject == "measure" and condition.is_ is not None:
        subject.states -= _STATES[condition.is_]
        return "" if subject.states else "can only be in a state that another condition denies"
    if condition.is_ is not None:
        return "is asked for and denied" if condition.is_ in subject.words else ""
    if condition.subject in ("structure", "state", "suspect"):
        return "is asked for and denied"
    return ""


def check_conditions(report: Report) -> None:
    """Find rules that can never fire, and conditions that always or never hold."""
    for name, rule in report.knowledge.rules.items():
        if problem := contradiction(rule):
            report.add("rule", name, "contradiction", problem)
        held, denied = _parts(rule)
        soft = any(then.structure for then in rule.then)
        for condition in (*held, *denied):
            if condition.subject == "measure":
                for message in _reach(report, condition, soft):
                    report.add("rule", name, "reach", message)


def _reach(report: Report, condition: Condition, soft: bool) -> Iterable[str]:
    """Compare a condition on a measure with what is possible and with the bands that there are."""
    measure = report.knowledge.measures.get(condition.name)
    if measure is None:
        return
    least, most = measure.possible
    low, high = _interval(condition, soft)
    if low >= most:
        yield f"{condition.name} above {condition.above:g} never holds: at most {most:g} is possible"
    elif condition.above and low < least:  # "above: 0" is how a rule says "there is some at all"
        yield f"{condition.name} above {condition.above:g} always holds: at least {least:g} is certain"
    if high <= least:
        yield f"{condition.name} below {condition.below:g} never holds: at least {least:g} is certain"
    elif condition.below is not None and high > most:
        yield f"{condition.name} below {condition.below:g} always holds: at most {most:g} is possible"
    if condition.is_ is None:
        return
    bands = [band for band in report.knowledge.bands if band.measure == condition.name]
    if not bands:
        yield f"{condition.name} has no band, so 'is: {condition.is_}' never holds"
    elif condition.is_ in ("low", "not_low") and all(band.low is None for band in bands):
        yield f"no band of {condition.name} has a low edge, so it {_ever(condition.is_)}"
    elif condition.is_ in ("high", "not_high") and all(band.high is None for band in bands):
        yield f"no band of {condition.name} has a high edge, so it {_ever(condition.is_)}"


def _ever(state: str) -> str:
    return f"is always {state}" if state.startswith("not") else f"is never {state}"
