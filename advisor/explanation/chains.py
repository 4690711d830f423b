"""The chain of one cause: its links in order of time, and how much of the cause arrives over each."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from advisor.diagnosis.cause_graph import CauseGraph, Route
from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.explanation.lesson.teach_steps import ROWS, ChainLink, Topic
from advisor.explanation.thresholds import Thresholds
from advisor.knowledge_base.knowledge import Knowledge

_ORDER = tuple(ROWS)


def names_of(knowledge: Knowledge) -> dict[str, str]:
    """Cause, mechanism or symptom to its name."""
    shelves = (knowledge.causes, knowledge.mechanisms, knowledge.symptoms)
    return {name: entry.name for shelf in shelves for name, entry in shelf.items()}


def chain_of(topic: Topic, found: Examination | None, examiner: Examiner) -> tuple[ChainLink, ...]:
    """The links of the topic's chain, in order of stage and then from cause to symptom."""
    if topic.cause is None or topic.symptom is None:
        return ()
    graph = examiner.whole_graph if found is None else examiner.graph_of(found.formula)
    limits = Thresholds.read(examiner.knowledge)
    routes = _routes(topic, graph, limits.lesson_routes)
    if not routes and found is not None:
        # In this dough the mechanism cannot happen; the class is shown the road all the same, unlit.
        routes = _routes(topic, examiner.whole_graph, limits.lesson_routes)
    if topic.through is None:
        routes += _beside(topic, found, graph, limits.lesson_beside)
    return links_of(routes, chance_of(topic.cause, found), examiner.whole_graph, limits.link_lit)


def _beside(topic: Topic, found: Examination | None, graph: CauseGraph, most: int) -> tuple[Route, ...]:
    """The strongest route to each of the symptoms that the cause brings beside the one that is asked about."""
    assert topic.cause is not None
    reached = graph.influence.get(topic.cause, {})
    risks = found.diagnosis.risks if found is not None else {}
    others = sorted(
        (s for s in reached if s != topic.symptom),
        key=lambda s: (-reached[s] * (risks[s].risk if s in risks else 1.0), s),
    )
    return tuple(graph.routes(topic.cause, s)[0] for s in others[:most])


def _routes(topic: Topic, graph: CauseGraph, most: int) -> tuple[Route, ...]:
    assert topic.cause is not None and topic.symptom is not None
    routes = graph.routes(topic.cause, topic.symptom)
    if topic.through is not None:
        routes = tuple(r for r in routes if topic.through in r.nodes) or routes
    return routes[:most]


def chance_of(cause: str, found: Examination | None) -> float:
    """Chance of a cause as it stands; 1 where there is no formula, so that the strengths alone are read."""
    if found is None:
        return 1.0
    rank = found.diagnosis.cause(cause)
    return rank.probability if rank is not None else 0.0


def links_of(
    routes: Iterable[Route], chance: float, graph: CauseGraph, lit_from: float
) -> tuple[ChainLink, ...]:
    """Links of some routes, each once, with the most that arrives over any of them; lit from a share (0..1) on."""
    grades = {(link.start, link.to): link.grade for link in graph.links}
    strengths = {(link.start, link.to): link.strength for link in graph.links}
    best: dict[tuple[str, str], tuple[int, ChainLink]] = {}
    for route in routes:
        carried = chance
        for depth, ((start, to), acts) in enumerate(zip(pairwise(route.nodes), route.acts, strict=True)):
            strength = strengths[(start, to)]
            carried *= strength
            known = best.get((start, to))
            if known is None or carried > known[1].carried:
                link = ChainLink(
                    start=start,
                    to=to,
                    row=acts,
                    strength=strength,
                    grade=grades[(start, to)],
                    carried=carried,
                    lit=carried >= lit_from,
                )
                best[(start, to)] = (max(depth, known[0] if known else 0), link)
    in_order = sorted(best.values(), key=lambda item: (_ORDER.index(item[1].row), item[0], item[1].key))
    return tuple(link for _, link in in_order)
