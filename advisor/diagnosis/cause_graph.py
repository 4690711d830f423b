"""The cause graph: which cause leads by which mechanisms to which symptom, and how strongly.

A networkx graph is built once from the knowledge, checked, ordered and searched; what comes of it (influences and
routes) is plain data that is only looked up afterwards, and that can be kept, so that a later start needs no
graph library.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from math import prod
from typing import TYPE_CHECKING

from advisor.diagnosis.influence import reach
from advisor.knowledge_base.faults import Finding, KnowledgeFault
from advisor.knowledge_base.graph_entries import Link, Stage
from advisor.knowledge_base.likeness import nearest

if TYPE_CHECKING:
    import networkx as nx


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """One way from a cause to a symptom; strength is the product of its links."""

    nodes: tuple[str, ...]
    acts: tuple[Stage, ...]
    """The stage at which each link acts."""
    strength: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseGraph:
    """Influences (cause to symptom to probability 0..1) and routes (strongest first) of the whole graph."""

    causes: tuple[str, ...]
    mechanisms: tuple[str, ...]
    symptoms: tuple[str, ...]
    links: tuple[Link, ...] = field(repr=False)
    influence: Mapping[str, Mapping[str, float]] = field(repr=False)
    reached_by: Mapping[str, Mapping[str, float]] = field(repr=False)
    """The same influences, symptom to cause."""
    _routes: Mapping[tuple[str, str], tuple[Route, ...]] = field(repr=False)

    @classmethod
    def build(
        cls,
        causes: Iterable[str],
        mechanisms: Iterable[str],
        symptoms: Iterable[str],
        links: Iterable[Link],
    ) -> CauseGraph:
        """Build from ids (a mapping of entries by id serves as well) and links.

        Raises:
            KnowledgeFault: a link with an unknown end, against the direction or written twice; a circle.
        """
        cause_ids, mechanism_ids, symptom_ids = tuple(causes), tuple(mechanisms), tuple(symptoms)
        edges = tuple(links)
        _refuse_bad_links(cause_ids, mechanism_ids, symptom_ids, edges)
        graph = _digraph(cause_ids, mechanism_ids, symptom_ids, edges)
        order = _parents_first(graph, cause_ids)
        parents = {
            node: [
                (parent, float(graph.edges[parent, node]["strength"]))
                for parent in sorted(graph.predecessors(node))
            ]
            for node in order
        }
        sinks = frozenset(symptom_ids)
        influence = {cause: reach(cause, order, parents, sinks) for cause in cause_ids}
        reached_by: dict[str, dict[str, float]] = {symptom: {} for symptom in symptom_ids}
        for cause, reached in influence.items():
            for symptom, strength in reached.items():
                reached_by[symptom][cause] = strength
        return cls(
            causes=cause_ids,
            mechanisms=mechanism_ids,
            symptoms=symptom_ids,
            links=edges,
            influence=influence,
            reached_by=reached_by,
            _routes=_all_routes(graph, cause_ids, symptom_ids),
        )

    def routes(self, cause: str, symptom: str) -> tuple[Route, ...]:
        """Give every route from a cause to a symptom, strongest first; none if it does not lead there."""
        return self._routes.get((cause, symptom), ())

    def without(self, mechanisms: Collection[str]) -> CauseGraph:
        """Give the graph without some mechanisms, for a dough in which they cannot happen."""
        left_out = frozenset(mechanisms)
        return CauseGraph.build(
            self.causes,
            (m for m in self.mechanisms if m not in left_out),
            self.symptoms,
            (link for link in self.links if link.start not in left_out and link.to not in left_out),
        )


def _digraph(
    causes: Iterable[str], mechanisms: Iterable[str], symptoms: Iterable[str], links: Iterable[Link]
) -> nx.DiGraph[str]:
    import networkx

    graph: nx.DiGraph[str] = networkx.DiGraph()
    for kind, ids in (("cause", causes), ("mechanism", mechanisms), ("symptom", symptoms)):
        graph.add_nodes_from(ids, kind=kind)
    for link in links:
        graph.add_edge(link.start, link.to, strength=link.strength, acts=link.acts, grade=link.grade)
    return graph


def _refuse_bad_links(
    causes: Collection[str], mechanisms: Collection[str], symptoms: Collection[str], links: Iterable[Link]
) -> None:
    may_start, may_end = {*causes, *mechanisms}, {*mechanisms, *symptoms}
    seen: set[tuple[str, str]] = set()
    messages: list[str] = []
    for link in links:
        shown = f"{link.start}>{link.to}"
        for end, allowed, what in (
            (link.start, may_start, "starts at a cause or a mechanism"),
            (link.to, may_end, "ends at a mechanism or a symptom"),
        ):
            if end not in allowed:
                near = nearest(end, allowed, 1)
                hint = f"; did you mean '{near[0]}'?" if near else ""
                messages.append(f"{shown}: a link {what}, and '{end}' is none{hint}")
        if (link.start, link.to) in seen:
            messages.append(f"{shown}: the link stands twice")
        seen.add((link.start, link.to))
    if messages:
        raise KnowledgeFault(tuple(_finding(message) for message in messages))


def _finding(message: str) -> Finding:
    return Finding(file="knowledge/links.yaml", line=0, check="graph", message=message)


def _parents_first(graph: nx.DiGraph[str], causes: Collection[str]) -> tuple[str, ...]:
    """Order all nodes but causes so that what feeds a node stands before it, the same way every time."""
    import networkx

    try:
        circle = [edge[0] for edge in networkx.find_cycle(graph)]
    except networkx.NetworkXNoCycle:
        first = frozenset(causes)
        return tuple(n for n in networkx.lexicographical_topological_sort(graph) if n not in first)
    shown = " > ".join((*circle, circle[0]))
    raise KnowledgeFault((_finding(f"links run in a circle: {shown}"),))


def _all_routes(
    graph: nx.DiGraph[str], causes: Iterable[str], symptoms: Iterable[str]
) -> dict[tuple[str, str], tuple[Route, ...]]:
    import networkx

    ends = set(symptoms)
    found: dict[tuple[str, str], list[Route]] = {}
    for cause in causes:
        for path in networkx.all_simple_paths(graph, cause, ends):
            edges = [graph.edges[pair] for pair in pairwise(path)]
            route = Route(
                nodes=tuple(path),
                acts=tuple(edge["acts"] for edge in edges),
                strength=prod(edge["strength"] for edge in edges),
            )
            found.setdefault((cause, path[-1]), []).append(route)
    return {pair: tuple(sorted(rs, key=lambda r: (-r.strength, r.nodes))) for pair, rs in found.items()}
