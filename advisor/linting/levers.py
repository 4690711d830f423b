"""Can every cause be treated, and does every lever turn one thing towards one target?"""

from __future__ import annotations

from advisor.knowledge_base.rule_entries import LeverTurn
from advisor.linting.report import Report

_BESIDE = {"undoes", "becomes", "but_not_role"}
"""What stands beside a thing that is turned."""
_ONE_OF = ", ".join(f for f in LeverTurn.model_fields if f not in ("but_not_role", "becomes"))


def check_levers(report: Report) -> None:
    """Every cause has a lever or says why not; every lever turns one thing to one target that can be met."""
    known = report.knowledge
    treated = {lever.for_ for lever in known.levers.values()}
    for name, cause in known.causes.items():
        if name not in treated and cause.no_lever is None:
            report.add("cause", name, "lever", "no lever treats this cause: add one, or say why in no_lever")
        if name in treated and cause.no_lever is not None:
            report.add("cause", name, "lever", "has a lever and says no_lever: keep one of them")
    banded = {band.measure for band in known.bands}
    for name, lever in known.levers.items():
        turned = {thing for thing in LeverTurn.model_fields if getattr(lever.turn, thing) is not None}
        # What the baker does may name the ingredient that it is about; it then applies only where that is in.
        about = {"ingredient_role", "ingredient", "trait"} if "do" in turned else set()
        if len(turned - about - _BESIDE) != 1 or len(turned & about) > 1:
            report.add("lever", name, "lever", f"turns exactly one of {_ONE_OF}")
        if (until := lever.until) is None:
            continue
        if sum(edge is not None for edge in (until.into, until.above, until.below)) != 1:
            report.add("lever", name, "lever", "until needs exactly one of into, above, below")
        if until.into == "band" and until.measure in known.measures and until.measure not in banded:
            report.add("lever", name, "lever", f"until: into band, but {until.measure} has no band")
        _limits(report, name)


def _limits(report: Report, name: str) -> None:
    limits = report.knowledge.levers[name].limits
    pairs = (
        ("at_least", limits.at_least, "at_most", limits.at_most),
        ("at_least_fraction", limits.at_least_fraction, "at_most_fraction", limits.at_most_fraction),
    )
    for low_name, low, high_name, high in pairs:
        if low is not None and high is not None and low >= high:
            report.add("lever", name, "lever", f"{low_name} {low:g} is not below {high_name} {high:g}")
