"""One fault with all its causes beside each other, and the observation that parts each pair of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from advisor.diagnosis.cause_graph import CauseGraph
from advisor.explanation.blocks import Block, Chain, Emphasis, Heading, Item, Paragraph, Quantity
from advisor.explanation.chains import names_of
from advisor.knowledge_base.knowledge import Knowledge


def causes_of_fault(symptom: str, graph: CauseGraph, at_most: int) -> tuple[str, ...]:
    """Give the causes that lead to a symptom, the one that does so most often first."""
    reached = graph.reached_by.get(symptom, {})
    return tuple(sorted(reached, key=lambda cause: (-reached[cause], cause))[:at_most])


def cause_cards(
    symptom: str, causes: Sequence[str], graph: CauseGraph, knowledge: Knowledge
) -> Iterator[tuple[Block, ...]]:
    """Each cause by itself: what it is, how it leads to the fault, and how often."""
    names = names_of(knowledge)
    for cause in causes:
        routes = graph.routes(cause, symptom)
        chain = (Chain(steps=tuple(names[node] for node in routes[0].nodes)),) if routes else ()
        often = Quantity(value=graph.reached_by[symptom][cause], unit="share")
        yield (
            Heading(text=knowledge.causes[cause].name, level=3),
            Paragraph(runs=(knowledge.causes[cause].says,)),
            *chain,
            Paragraph(runs=("It leads to this fault in ", often, " of its cases.")),
        )


def told_apart(
    symptom: str, causes: Sequence[str], graph: CauseGraph, knowledge: Knowledge
) -> Iterator[Block]:
    """For each pair what one of the two brings far more often than the other, and how to look for it."""
    yield Heading(text="What tells two of them apart", ident="apart")
    for pair in combinations(causes, 2):
        brought = [graph.influence.get(cause, {}) for cause in pair]

        others = sorted((set(brought[0]) | set(brought[1])) - {symptom})
        apart = {other: brought[0].get(other, 0.0) - brought[1].get(other, 0.0) for other in others}
        if not apart:
            continue
        best = max(apart, key=lambda other, by=apart: abs(by[other]))  # type: ignore[misc]
        first, second = pair if apart[best] > 0 else pair[::-1]
        names = [knowledge.causes[cause].name for cause in (first, second)]
        look = knowledge.symptoms[best]
        question = Emphasis(meaning="name", runs=(f"{names[0]}, or {names[1].lower()}? ",))
        says = f"{look.name} speaks for the first of the two. {look.look}"
        yield Item(label="-", runs=(question, says))
