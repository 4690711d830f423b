"""Does the cause graph run forward in time: does nothing act before what leads to it?"""

from __future__ import annotations

from typing import get_args

from advisor.knowledge_base.graph_entries import Link, Stage
from advisor.knowledge_base.knowledge import link_key
from advisor.linting.report import Report

STAGES: tuple[Stage, ...] = get_args(Stage)
"""From mixing to storage, in the order in which a loaf goes through them."""


def check_times(report: Report) -> None:
    """Find links that act before anything has led to their start."""
    leading: dict[str, list[Link]] = {}
    for link in report.knowledge.links:
        leading.setdefault(link.to, []).append(link)
    for link in report.knowledge.links:
        before = leading.get(link.start, [])
        if not before or link.start not in report.knowledge.mechanisms:
            continue
        first = min((each.acts for each in before), key=STAGES.index)
        if STAGES.index(link.acts) < STAGES.index(first):
            message = f"acts at {_said(link.acts)}, but nothing leads to {link.start} before {_said(first)}"
            report.add("link", link_key(link), "time", message)
            continue
        for each in before:
            # A chain may pass a mechanism at different times; from one cause it may not run backwards.
            if STAGES.index(each.acts) > STAGES.index(link.acts) and not _onward_later(
                report, link.start, each
            ):
                message = f"comes at {_said(each.acts)}, when all that follows from {each.to} is over"
                report.add("link", link_key(each), "time", message)


def _onward_later(report: Report, mechanism: str, arrival: Link) -> bool:
    onward = (link for link in report.knowledge.links if link.start == mechanism)
    return any(STAGES.index(link.acts) >= STAGES.index(arrival.acts) for link in onward)


def _said(stage: Stage) -> str:
    return stage.replace("_", " ")
