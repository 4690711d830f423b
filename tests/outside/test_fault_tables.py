"""The cause graph against published fault tables: what a table blames, the graph must be able to blame.

The tables, with their sources, stand in tests/cases/fault_tables.yaml; the works are described in
knowledge/sources.yaml. A pair that the graph does not hold is listed there as out of scope, with the reason.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, TypeVar

import pytest
from pydantic import BaseModel, ConfigDict, Field, model_validator

from advisor.knowledge_base.entry import Id, Text
from advisor.knowledge_base.graph_entries import Cause, Link, Symptom
from advisor.knowledge_base.reading import read_entries
from advisor.knowledge_base.texts import Source

KNOWLEDGE = Path(__file__).parents[2] / "knowledge"
TABLES = Path(__file__).parents[1] / "cases" / "fault_tables.yaml"
E = TypeVar("E", bound=BaseModel)
LEAST_INFLUENCE = 0.15
"""Below this the graph would name the pair and never act on it (own judgement)."""


class Pair(BaseModel):
    """One fault and what a table blames for it."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    seen: Text
    blamed: Text
    symptom: Id | None = None
    cause: Id | None = None
    out_of_scope: Text | None = None

    @model_validator(mode="after")
    def _mapped_or_explained(self) -> Pair:
        mapped = self.symptom is not None and self.cause is not None
        if mapped == (self.out_of_scope is not None):
            raise ValueError("a pair has either symptom and cause, or out_of_scope: why")
        return self


class FaultTable(BaseModel):
    """The pairs of one source, or of works that were not read and are not named."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    source: Id | None = None
    about: Text
    pairs: Annotated[tuple[Pair, ...], Field(min_length=1)]


def _entries(name: str, model: type[E]) -> list[E]:
    return [entry for entry, _ in read_entries(KNOWLEDGE / f"{name}.yaml", name, model)]


FAULT_TABLES = [table for table, _ in read_entries(TABLES, TABLES.name, FaultTable)]
MAPPED = [(t.source or "gathered", p) for t in FAULT_TABLES for p in t.pairs if p.out_of_scope is None]


@pytest.fixture(scope="module")
def onward() -> dict[str, list[Link]]:
    out: dict[str, list[Link]] = {}
    for link in _entries("links", Link):
        out.setdefault(link.start, []).append(link)
    return out


def routes(onward: dict[str, list[Link]], start: str, goal: str) -> Iterator[float]:
    """Give the product of strengths along every route from start to goal."""
    if start == goal:
        yield 1.0
    for link in onward.get(start, []):
        for product in routes(onward, link.to, goal):
            yield link.strength * product


@pytest.mark.parametrize(
    ("source", "pair"), [pytest.param(s, p, id=f"{s}:{p.cause}>{p.symptom}") for s, p in MAPPED]
)
def test_the_graph_can_blame_what_the_table_blames(
    onward: dict[str, list[Link]], source: str, pair: Pair
) -> None:
    assert pair.cause is not None and pair.symptom is not None
    best = max(routes(onward, pair.cause, pair.symptom), default=0.0)
    assert best >= LEAST_INFLUENCE, f"{source}: '{pair.seen}' from '{pair.blamed}'"


def test_mapped_ids_exist() -> None:
    causes = {c.id for c in _entries("causes", Cause)}
    symptoms = {s.id for s in _entries("symptoms", Symptom)}
    assert {p.cause for _, p in MAPPED} - causes == set()
    assert {p.symptom for _, p in MAPPED} - symptoms == set()


def test_every_table_names_a_described_source() -> None:
    described = {s.key for s in _entries("sources", Source)}
    assert {t.source for t in FAULT_TABLES if t.source is not None} - described == set()
    assert 1 >= sum(t.source is None for t in FAULT_TABLES)


def test_most_of_what_the_tables_blame_is_in_scope() -> None:
    pairs = [p for t in FAULT_TABLES for p in t.pairs]
    assert 0.7 * len(pairs) <= len(MAPPED), f"{len(MAPPED)} of {len(pairs)} pairs in scope"


def test_the_graph_also_says_no(onward: dict[str, list[Link]]) -> None:
    """Causes that no table blames for a fault do not reach it."""
    for cause, symptom in [
        ("sliced_hot", "flat_loaf"),
        ("excess_acid", "soapy_taste"),
        ("psyllium_pigment", "green_crumb"),
        ("too_little_water", "runny_dough"),
        ("overbaked", "pale_crust"),
        ("underfilled_pan", "overflow"),
    ]:
        assert list(routes(onward, cause, symptom)) == [], f"{cause} reaches {symptom}"
