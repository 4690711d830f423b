"""The cause graph: exact influences, routes as explanation, and what it refuses."""

from __future__ import annotations

import itertools
import pickle

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st
from laws import examples

from advisor.diagnosis.cause_graph import CauseGraph
from advisor.knowledge_base.faults import KnowledgeFault
from advisor.knowledge_base.graph_entries import Link

CAUSES = ("c0", "c1")
MECHANISMS = ("m0", "m1", "m2", "m3")
SYMPTOMS = ("s0", "s1")


def link(start: str, to: str, strength: float, acts: str = "early_oven") -> Link:
    return Link.model_validate({"from": start, "to": to, "strength": strength, "acts": acts, "grade": "demo"})


def build(*edges: tuple[str, str, float]) -> CauseGraph:
    return CauseGraph.build(CAUSES, MECHANISMS, SYMPTOMS, [link(*edge) for edge in edges])


def by_enumeration(edges: list[tuple[str, str, float]], start: str, end: str) -> float:
    """Open and shut every link in all ways; a graph library decides what is reached."""
    total = 0.0
    for opened in itertools.product((True, False), repeat=len(edges)):
        graph = nx.DiGraph()
        graph.add_nodes_from((*CAUSES, *MECHANISMS, *SYMPTOMS))
        weight = 1.0
        for (a, b, strength), is_open in zip(edges, opened, strict=True):
            weight *= strength if is_open else 1.0 - strength
            if is_open:
                graph.add_edge(a, b)
        total += weight * nx.has_path(graph, start, end)
    return total


def test_a_single_route_multiplies_its_links() -> None:
    graph = build(("c0", "m0", 0.8), ("m0", "s0", 0.85))
    assert {"s0": pytest.approx(0.68)} == graph.influence["c0"]


def test_two_routes_without_a_shared_link_combine_as_noisy_or() -> None:
    graph = build(("c0", "m0", 0.5), ("m0", "s0", 0.6), ("c0", "m1", 0.4), ("m1", "s0", 0.5))
    assert pytest.approx(1 - (1 - 0.3) * (1 - 0.2)) == graph.influence["c0"]["s0"]


def test_a_shared_link_is_counted_once() -> None:
    graph = build(
        ("c0", "m0", 0.5), ("m0", "m1", 0.8), ("m0", "m2", 0.6), ("m1", "s0", 0.9), ("m2", "s0", 0.7)
    )
    beyond = 1 - (1 - 0.8 * 0.9) * (1 - 0.6 * 0.7)
    assert pytest.approx(0.5 * beyond) == graph.influence["c0"]["s0"]


POSSIBLE = [
    *itertools.product(CAUSES, MECHANISMS),
    *itertools.combinations(MECHANISMS, 2),
    *itertools.product(MECHANISMS, SYMPTOMS),
]


@examples(25)
@given(
    chosen=st.lists(st.sampled_from(POSSIBLE), min_size=1, max_size=9, unique=True),
    data=st.data(),
)
def test_influence_equals_enumeration_of_open_links(
    chosen: list[tuple[str, str]], data: st.DataObject
) -> None:
    edges = [(a, b, data.draw(st.sampled_from([0.1, 0.35, 0.5, 0.85, 0.99]))) for a, b in chosen]
    graph = build(*edges)
    for cause, symptom in itertools.product(CAUSES, SYMPTOMS):
        expected = by_enumeration(edges, cause, symptom)
        assert expected == pytest.approx(graph.influence[cause].get(symptom, 0.0), abs=1e-12)
        assert graph.influence[cause].get(symptom, 0.0) == graph.reached_by[symptom].get(cause, 0.0)


def test_routes_are_all_simple_paths_strongest_first() -> None:
    graph = build(
        ("c0", "m0", 0.5), ("m0", "m1", 0.9), ("m0", "s0", 0.4), ("m1", "s0", 0.8), ("c0", "m1", 0.3)
    )
    routes = graph.routes("c0", "s0")
    edges = nx.DiGraph((link.start, link.to) for link in graph.links)
    expected = {tuple(path) for path in nx.all_simple_paths(edges, "c0", "s0")}
    assert expected == {route.nodes for route in routes}
    assert [pytest.approx(0.36), pytest.approx(0.24), pytest.approx(0.2)] == [r.strength for r in routes]
    assert routes[0].acts == ("early_oven",) * 3
    assert graph.routes("c1", "s0") == ()


def test_order_of_links_does_not_matter_and_the_graph_pickles() -> None:
    edges = [("c0", "m0", 0.5), ("m0", "m1", 0.9), ("m0", "s0", 0.4), ("m1", "s0", 0.8), ("c1", "m1", 0.3)]
    one, other = build(*edges), build(*reversed(edges))
    assert one.influence == other.influence
    assert one.influence == pickle.loads(pickle.dumps(other)).influence


@pytest.mark.parametrize(
    ("edges", "words"),
    [
        ([("c0", "mm0", 0.5)], "did you mean 'm0'"),
        ([("s0", "m0", 0.5)], "starts at a cause or a mechanism"),
        ([("m0", "c0", 0.5)], "ends at a mechanism or a symptom"),
        ([("c0", "m0", 0.5), ("c0", "m0", 0.6)], "stands twice"),
        ([("m0", "m1", 0.5), ("m1", "m2", 0.5), ("m2", "m0", 0.5)], "in a circle"),
    ],
)
def test_a_graph_that_cannot_be_is_refused(edges: list[tuple[str, str, float]], words: str) -> None:
    with pytest.raises(KnowledgeFault, match=words):
        build(*edges)
