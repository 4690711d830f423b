"""The cause graph: which cause leads by which mechanisms to which symptom, and how strongly.

Built once from the knowledge and then only looked up. Only the view for drawing and for graph algorithms
needs a graph library; building sorts and searches by itself, since importing one costs more than everything
that is done here.
"""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from graphlib import CycleError, TopologicalSorter
from typing import TYPE_CHECKING

from advisor.diagnosis.influence import reach
from advisor.knowledge_base.faults import Finding, KnowledgeFault
from advisor.knowledge_base.graph_entries import Link, Stage

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
        parents: dict[str, list[tuple[str, float]]] = {}
        children: dict[str, list[Link]] = {}
        for link in sorted(edges, key=lambda edge: (edge.start, edge.to)):
            parents.setdefault(link.to, []).append((link.start, link.strength))
            children.setdefault(link.start, []).append(link)
        order = _parents_first(cause_ids, parents)
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
            _routes=_all_routes(cause_ids, children, sinks),
        )

    def routes(self, cause: str, symptom: str) -> tuple[Route, ...]:
        """Give every route from a cause to a symptom, strongest first; none if it does not lead there."""
        return self._routes.get((cause, symptom), ())

    def leads_nowhere(self) -> tuple[str, ...]:
        """Give the causes that reach no symptom: nothing the baker sees could speak for them."""
        return tuple(cause for cause in self.causes if not self.influence[cause])

    def as_digraph(self) -> nx.DiGraph[str]:
        """Give the graph for drawing: nodes carry `kind`, edges `strength`, `acts` and `grade`."""
        import networkx

        graph: nx.DiGraph[str] = networkx.DiGraph()
        for kind, ids in (
            ("cause", self.causes),
            ("mechanism", self.mechanisms),
            ("symptom", self.symptoms),
        ):
            graph.add_nodes_from(ids, kind=kind)
        for link in self.links:
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
                near = difflib.get_close_matches(end, allowed, n=1)
                hint = f"; did you mean '{near[0]}'?" if near else ""
                messages.append(f"{shown}: a link {what}, and '{end}' is none{hint}")
        if (link.start, link.to) in seen:
            messages.append(f"{shown}: the link stands twice")
        seen.add((link.start, link.to))
    if messages:
        raise KnowledgeFault(tuple(_finding(message) for message in messages))


def _finding(message: str) -> Finding:
    return Finding(file="knowledge/links.yaml", line=0, check="graph", message=message)


def _parents_first(
    causes: Collection[str], parents: Mapping[str, list[tuple[str, float]]]
) -> tuple[str, ...]:
    """Order all nodes but causes so that what feeds a node stands before it."""
    sorter = TopologicalSorter({node: [parent for parent, _ in fed] for node, fed in parents.items()})
    first = frozenset(causes)
    try:
        return tuple(node for node in sorter.static_order() if node not in first)
    except CycleError as error:
        circle = " > ".join(reversed(error.args[1]))
        raise KnowledgeFault((_finding(f"links run in a circle: {circle}"),)) from error


def _all_routes(
    causes: Iterable[str], children: Mapping[str, list[Link]], sinks: frozenset[str]
) -> dict[tuple[str, str], tuple[Route, ...]]:
    found: dict[tuple[str, str], list[Route]] = {}
    for cause in causes:
        open_ends: list[Route] = [Route(nodes=(cause,), acts=(), strength=1.0)]
        while open_ends:
            route = open_ends.pop()
            for link in children.get(route.nodes[-1], ()):
                longer = Route(
                    nodes=(*route.nodes, link.to),
                    acts=(*route.acts, link.acts),
                    strength=route.strength * link.strength,
                )
                if link.to in sinks:
                    found.setdefault((cause, link.to), []).append(longer)
                else:
                    open_ends.append(longer)
    return {ends: tuple(sorted(rs, key=lambda r: (-r.strength, r.nodes))) for ends, rs in found.items()}
