"""When does one rule hold wherever another holds, and does it then say as much?

Everything here errs on the side of silence: where one part of a rule does not plainly follow from one part of the
other, nothing is said to follow.
"""

from __future__ import annotations

from collections.abc import Iterable

from advisor.knowledge_base.rule_entries import SUPPORTING, Conclusion, Condition, Denial, Rule

STATES = {
    "low": frozenset({"low"}), "in": frozenset({"in"}), "high": frozenset({"high"}),
    "not_low": frozenset({"in", "high"}), "not_high": frozenset({"in", "low"}),
}  # fmt: skip
"""The states of a band in which a condition on it holds."""
OPPOSING = ("against", "rules_out")
_INFINITY = float("inf")
Part = Condition | Denial


def interval(condition: Condition) -> tuple[float, float] | None:
    """Between which two numbers, both left out, the condition holds; `None` where it reads no number."""
    if condition.above is None and condition.below is None:
        return (0.0, _INFINITY) if condition.subject == "trait" else None
    low = -_INFINITY if condition.above is None else condition.above
    return low, _INFINITY if condition.below is None else condition.below


def follows(narrow: Part, wide: Part) -> bool:
    """Does `wide` hold whenever `narrow` does, however strongly?"""
    if narrow == wide:
        return True
    if isinstance(narrow, Denial):
        # What is not known is denied as well, so that a denial gives nothing but another denial.
        return isinstance(wide, Denial) and follows(wide.not_, narrow.not_)
    if isinstance(wide, Denial):
        return _excludes(narrow, wide.not_)
    if (narrow.subject, narrow.name) != (wide.subject, wide.name):
        return False
    if narrow.subject == "measure" and (narrow.is_ or wide.is_):
        return bool(narrow.is_ and wide.is_) and STATES[str(narrow.is_)] <= STATES[str(wide.is_)]
    if narrow.subject == "symptom":
        return (narrow.seen is not False) == (wide.seen is not False)
    if wide.is_ not in (None, narrow.is_) or wide.stated not in (None, narrow.stated):
        return False
    inner, outer = interval(narrow), interval(wide)
    return outer is None or (inner is not None and outer[0] <= inner[0] and inner[1] <= outer[1])


def _excludes(held: Condition, other: Condition) -> bool:
    if (held.subject, held.name) != (other.subject, other.name):
        return False
    if held.subject == "measure" and held.is_ and other.is_:
        return not STATES[held.is_] & STATES[other.is_]
    if held.subject == "symptom":
        return (held.seen is not False) != (other.seen is not False)
    if held.is_ and other.is_ and held.is_ != other.is_:
        return True
    if held.stated is not None and other.stated is not None and held.stated != other.stated:
        return True
    one, two = interval(held), interval(other)
    return one is not None and two is not None and (one[0] >= two[1] or two[0] >= one[1])


def implies(narrow: Iterable[Part], wide: Iterable[Part]) -> bool:
    """Do all of `wide` hold whenever all of `narrow` do?"""
    parts = tuple(narrow)
    return all(any(follows(n, w) for n in parts) for w in wide)


def implies_as_strongly(narrow: Rule, wide: Rule) -> bool:
    """Does `wide` fire whenever `narrow` does, and never more weakly?

    A rule is as strong as its weakest graded condition, so each graded condition of the wide rule must be no weaker
    than one of the narrow rule: the same scale with an edge passed earlier, or no scale at all.
    """
    opposing = any(then.evidence in OPPOSING for then in (*narrow.then, *wide.then))

    def as_strong(n: Part, w: Part) -> bool:
        if n == w:
            return True
        if isinstance(n, Denial) or isinstance(w, Denial):
            return follows(n, w)
        if w.is_ is not None and w.subject == "measure":
            # A gate ("not low") has no excess, but it has a depth, which grades what speaks against.
            return w.is_.startswith("not") and not opposing and follows(n, w)
        return follows(n, w) and (w.over is None or w.over == n.over)

    return all(any(as_strong(n, w) for n in narrow.when) for w in wide.when)


def group_of(rule: Rule, then: Conclusion) -> str:
    """The evidence group of a suspect: as stated, else the first measure, else the first thing, that the rule reads."""
    if then.evidence_group:
        return then.evidence_group
    held = [part for part in rule.when if isinstance(part, Condition)]
    named = [part.measure for part in held if part.measure is not None]
    names = (part.not_.name if isinstance(part, Denial) else part.name for part in (*held, *rule.when))
    return [*named, *names][0]


def says_as_much(wide: Rule, narrow: Rule) -> bool:
    """Does each conclusion of `narrow` stand in `wide` as well, as strong or stronger and in the same group?"""
    return all(
        any(w == n or _outweighs(wide, w, narrow, n) for w in wide.then)
        and (not n.suspect or any(group_of(wide, w) == group_of(narrow, n) for w in wide.then if w.suspect))
        for n in narrow.then
    )


def _outweighs(wide: Rule, w: Conclusion, narrow: Rule, n: Conclusion) -> bool:
    if not n.suspect or w.suspect != n.suspect or group_of(wide, w) != group_of(narrow, n):
        return False
    for ladder in (SUPPORTING, OPPOSING):
        if n.evidence in ladder and w.evidence in ladder:
            return ladder.index(str(w.evidence)) >= ladder.index(str(n.evidence))
    return False
