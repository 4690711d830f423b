"""Is the cause graph whole? No circle, links of the right kind, every cause felt, every symptom explained."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.knowledge_base.knowledge import link_key
from advisor.linting.report import Report


def check_graph(report: Report) -> None:
    """Check kinds of links, circles, and that causes and symptoms reach each other."""
    _kinds(report)
    onward: dict[str, list[str]] = {}
    for link in report.knowledge.links:
        onward.setdefault(link.start, []).append(link.to)
    _circle_of_links(report, onward)
    _circle_of_refinements(report)
    known = report.knowledge
    explained: set[str] = set()
    for cause in known.causes:
        felt = reached_from(cause, onward) & known.symptoms.keys()
        explained |= felt
        if not felt:
            report.add("cause", cause, "graph", "no chain of links leads from this cause to a symptom")
    for symptom in known.symptoms:
        if symptom not in explained:
            report.add("symptom", symptom, "graph", "no chain of links leads from a cause to this symptom")


def _kinds(report: Report) -> None:
    known = report.knowledge
    kinds = {"cause": known.causes, "mechanism": known.mechanisms, "symptom": known.symptoms}
    for name in known.mechanisms:
        for other in ("cause", "symptom"):
            if name in kinds[other]:
                report.add("mechanism", name, "graph", f"a {other} has the same id")
    for name in known.symptoms:
        if name in known.causes:
            report.add("symptom", name, "graph", "a cause has the same id")
    for link in known.links:
        key = link_key(link)
        if link.start in known.symptoms:
            report.add("link", key, "graph", f"nothing follows from a symptom, and '{link.start}' is one")
        if link.to in known.causes:
            report.add("link", key, "graph", f"nothing leads to a cause, and '{link.to}' is one")
        if link.start in known.causes and link.to in known.symptoms:
            report.add("link", key, "graph", "a cause leads to a mechanism first: what happens in the dough?")


def reached_from(start: str, onward: dict[str, list[str]]) -> set[str]:
    """Everything that can be reached along links, without the start."""
    seen: set[str] = set()
    waiting = list(onward.get(start, ()))
    while waiting:
        node = waiting.pop()
        if node not in seen:
            seen.add(node)
            waiting += onward.get(node, ())
    return seen


def find_circle(onward: dict[str, list[str]]) -> tuple[str, ...]:
    """One circle of nodes, its first node again at the end; empty without one (depth-first search)."""
    done: set[str] = set()
    for root in sorted(onward):
        path: list[str] = []
        stack: list[Iterator[str]] = [] if root in done else [iter(onward[root])]
        path += [root] if stack else []
        while stack:
            following = next(stack[-1], None)
            if following is None:
                stack.pop()
                done.add(path.pop())
            elif following in path:
                return (*path[path.index(following) :], following)
            elif following not in done:
                path.append(following)
                stack.append(iter(onward.get(following, ())))
    return ()


def _circle_of_links(report: Report, onward: dict[str, list[str]]) -> None:
    if circle := find_circle(onward):
        report.add("link", f"{circle[-2]}>{circle[-1]}", "graph", f"closes a circle: {' > '.join(circle)}")


def _circle_of_refinements(report: Report) -> None:
    onward = {name: [c.refines] for name, c in report.knowledge.causes.items() if c.refines}
    if circle := find_circle(onward):
        report.add("cause", circle[-2], "graph", f"refines in a circle: {' > '.join(circle)}")
