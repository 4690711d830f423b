"""In which structures can the conditions of a rule on measures hold together, and is every band of use to someone?

A condition on a band says nothing where the structure has no such band or its band no such edge. Where two structures
are blended the edges lie between theirs, so that a rule that fits neither fits no blend of them either.
"""

from __future__ import annotations

from advisor.knowledge_base.knowledge import Knowledge, band_key
from advisor.knowledge_base.measured import Band
from advisor.knowledge_base.rule_entries import Condition, Denial, Rule
from advisor.linting.conditions import contradiction
from advisor.linting.implication import interval
from advisor.linting.references import ANY_STRUCTURE
from advisor.linting.report import Report

_INFINITY = float("inf")
_EDGE = 1e-9
"""A value on the edge of a band is in: a band that ends where values begin still holds that one value."""


def band_in(knowledge: Knowledge, measure: str, structure: str) -> Band | None:
    """The band of a measure in one structure: its own, else the one that serves any."""
    bands = [band for band in knowledge.bands if band.measure == measure]
    own = (band for band in bands if structure in band.structures)
    return next(own, next((band for band in bands if ANY_STRUCTURE in band.structures), None))


def allowed_structures(knowledge: Knowledge, rule: Rule) -> tuple[str, ...]:
    """Structures that a rule asks for, or all that it does not deny."""
    asked = [part.structure for part in rule.when if isinstance(part, Condition) and part.structure]
    denied = {part.not_.structure for part in rule.when if isinstance(part, Denial)}
    return tuple(name for name in asked or knowledge.structures if name not in denied)


def misfit(knowledge: Knowledge, rule: Rule, structure: str) -> str:
    """Say why the rule cannot fire in one structure; empty where its conditions on measures leave room."""
    room: dict[str, tuple[float, float]] = {}
    for part in rule.when:
        if not isinstance(part, Condition) or part.measure is None or part.measure not in knowledge.measures:
            continue
        name = part.measure
        band = band_in(knowledge, name, structure)
        if part.is_ is not None and band is None:
            return f"{name} has no band there"
        if part.is_ in ("low", "high") and band is not None and getattr(band, part.is_) is None:
            return f"the band of {name} has no {part.is_} edge there"
        low, high = _room(part, band)
        before = room.get(name, knowledge.measures[name].possible)
        room[name] = (max(before[0], low), min(before[1], high))
        if room[name][0] >= room[name][1]:
            return f"{name} cannot be {_said(rule, name)} there"
    return ""


def _room(condition: Condition, band: Band | None) -> tuple[float, float]:
    """Between which values a condition holds; the edges of a structure's own rule are soft, and not narrowed here."""
    if condition.is_ is None or band is None:
        low, high = interval(condition) or (-_INFINITY, _INFINITY)
        slack = (condition.over or 0.0) / 2
        return low - slack, high + slack
    least = -_INFINITY if band.low is None else band.low
    most = _INFINITY if band.high is None else band.high
    return {
        "low": (-_INFINITY, least), "in": (least - _EDGE, most + _EDGE), "high": (most, _INFINITY),
        "not_low": (least - _EDGE, _INFINITY), "not_high": (-_INFINITY, most + _EDGE),
    }[condition.is_]  # fmt: skip


def _said(rule: Rule, measure: str) -> str:
    words = []
    for part in rule.when:
        if isinstance(part, Condition) and part.measure == measure:
            words += [part.is_] if part.is_ else []
            words += [f"above {part.above:g}"] if part.above is not None else []
            words += [f"below {part.below:g}"] if part.below is not None else []
    return " and ".join(words)


def check_bands(report: Report) -> None:
    """Find rules that fit no structure that they allow, and bands that no rule and no lever goes by."""
    known = report.knowledge
    readers: dict[str, set[str]] = {}
    for name, rule in known.rules.items():
        allowed = allowed_structures(known, rule)
        problems = {structure: misfit(known, rule, structure) for structure in allowed}
        if (
            problems
            and all(problems.values())
            and not contradiction(rule)
            and not _told_by_reach(known, rule)
        ):
            reasons = "; ".join(f"in {structure} {problem}" for structure, problem in problems.items())
            report.add("rule", name, "reach", f"never fires: {reasons}")
        for part in rule.when:
            condition = part.not_ if isinstance(part, Denial) else part
            if condition.measure and condition.is_:
                readers.setdefault(condition.measure, set()).update(s for s in allowed if not problems[s])
    for lever in known.levers.values():
        if lever.until and lever.until.into:
            readers.setdefault(lever.until.measure, set()).update(lever.structures or known.structures)
    for band in known.bands:
        served = {s for s in known.structures if band_in(known, band.measure, s) is band}
        if not served and band.structures != (ANY_STRUCTURE,):
            continue  # its structures are not known, or another band has them: other checks say so
        if not served & readers.get(band.measure, set()):
            report.add("band", band_key(band), "orphan", "no rule and no lever goes by this band")


def check_lever_bands(report: Report) -> None:
    """Find structures for which a lever is written, but in which there is no band to turn it into."""
    known = report.knowledge
    banded = {band.measure for band in known.bands}
    for name, lever in known.levers.items():
        if lever.until is None or lever.until.into is None or lever.until.measure not in banded:
            continue  # without any band it has nowhere to go at all, which the check of levers says
        target = lever.until.measure
        # A lever for any structure serves those that have the band; one with a list says which ones it is for.
        if lacking := [s for s in lever.structures if band_in(known, target, s) is None]:
            message = f"has nowhere to go in {', '.join(lacking)}: no band of {target} there"
            report.add("lever", name, "reach", message)


def _told_by_reach(known: Knowledge, rule: Rule) -> bool:
    """Another check names a condition that no band at all, or no possible value, can meet."""
    for part in rule.when:
        if not isinstance(part, Condition) or part.measure is None or part.measure not in known.measures:
            continue
        bands = [band for band in known.bands if band.measure == part.measure]
        edgeless = part.is_ in ("low", "high") and all(getattr(b, part.is_) is None for b in bands)
        low, high = interval(part) or (-_INFINITY, _INFINITY)
        least, most = known.measures[part.measure].possible
        if (part.is_ and not bands) or edgeless or low >= most or high <= least:
            return True
    return False
