"""Two loaves beside each other, however unlike: what each is made of, what each measure is in it, what may go wrong."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from advisor.diagnosis.pipeline import Examination
from advisor.explanation.answer import Answer, SaidNumber
from advisor.explanation.blocks import Block, Emphasis, Heading, Quantity, Runs, Table
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.wording import number_value
from advisor.knowledge_base.knowledge import Knowledge

_NONE: Runs = ("-",)
_NUMBERS, _RISKS = 12, 8
"""Most rows of a table that a class can take in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OneLoaf:
    """A loaf with what it is called here, what was found of it and what is told of it."""

    called: str
    found: Examination
    answer: Answer


def two_loaves_blocks(a: OneLoaf, b: OneLoaf, knowledge: Knowledge) -> Iterator[Block]:
    """Three tables, a column a loaf; no change leads from one to the other, so nothing is called better or worse."""
    yield Heading(text="What they are made of")
    yield Table(
        caption="Of the dough",
        captioned=True,
        head=("ingredient", a.called, b.called),
        rows=tuple(_made_of(a, b)),
        figures=frozenset({1, 2}),
    )
    yield Heading(text="How they differ")
    yield Table(
        caption="Numbers, and where they lie", head=("number", a.called, b.called), rows=tuple(_numbers(a, b))
    )
    yield Heading(text="What may go wrong with each")
    yield Table(
        caption="Faults, largest risk of the two first", head=("fault", a.called, b.called),
        rows=tuple(_risks(a, b, knowledge)),
    )  # fmt: skip


def _made_of(a: OneLoaf, b: OneLoaf) -> Iterator[tuple[Runs, ...]]:
    names = {x.ingredient.id: x.ingredient.name for loaf in (a, b) for x in loaf.found.formula.lines}
    shares = {id_: tuple(_share(loaf, id_) for loaf in (a, b)) for id_ in names}
    for id_ in sorted(names, key=lambda i: (-max(shares[i]), i)):
        yield (names[id_],), *((Quantity(value=s, unit="share"),) if s else _NONE for s in shares[id_])


def _share(loaf: OneLoaf, ingredient: str) -> float:
    formula = loaf.found.formula
    return formula.grams_of(ingredient) / formula.dough_g


def _numbers(a: OneLoaf, b: OneLoaf) -> Iterator[tuple[Runs, ...]]:
    """What is out in one of them first, then what differs most against its band."""
    both = [{n.id: n for n in loaf.answer.numbers} for loaf in (a, b)]
    names = {n.id: n.name for side in both for n in side.values()}

    def order(id_: str) -> tuple[bool, float]:
        some = [side[id_] for side in both if id_ in side]
        return not any(n.out for n in some), -_apart(id_, both)

    for id_ in sorted(names, key=order)[:_NUMBERS]:
        yield (names[id_],), *(_said(side.get(id_)) for side in both)


def _apart(id_: str, both: list[dict[str, SaidNumber]]) -> float:
    """By how many widths of its band a measure differs; without one in either loaf it is all that could be."""
    first, second = (side.get(id_) for side in both)
    if first is None or second is None:
        return 1.0
    edges = [edge for edge in (first.low, first.high) if edge is not None]
    width = edges[1] - edges[0] if len(edges) == 2 else abs(edges[0]) if edges else 1.0
    return abs(first.value - second.value) / (width or 1.0)


def _said(number: SaidNumber | None) -> Runs:
    if number is None:
        return _NONE
    state: Runs = (number.state,)
    return (*number_value(number), ", ", *((Emphasis(meaning="risk", runs=state),) if number.out else state))


def _risks(a: OneLoaf, b: OneLoaf, knowledge: Knowledge) -> Iterator[tuple[Runs, ...]]:
    limits = Thresholds.read(knowledge)
    sides: list[Mapping[str, float]] = [
        {s: r.risk for s, r in loaf.found.diagnosis.risks.items()} for loaf in (a, b)
    ]
    for symptom in sorted(sides[0], key=lambda s: (-max(side[s] for side in sides), s))[:_RISKS]:
        yield (knowledge.symptoms[symptom].name,), *((limits.likelihood(side[symptom]),) for side in sides)
