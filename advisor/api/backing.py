"""What rests on which work: every graded thing of the knowledge, with its sources."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, get_args

from advisor.knowledge_base.all_entries import all_entries, parts_of
from advisor.knowledge_base.entry import Figure, Grade, Graded
from advisor.knowledge_base.ingredient import Composition
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.measured import Band
from advisor.knowledge_base.texts import Source

if TYPE_CHECKING:
    from advisor.rendering.documents.known import SourcesDocument

GRADES: tuple[str, ...] = get_args(Grade)


@dataclass(frozen=True, slots=True, kw_only=True)
class Backing:
    """Something graded: the entry that it stands in, its grade, its sources, and the test that pins it."""

    kind: str
    name: str
    grade: str
    sources: tuple[str, ...]
    pinned_by: str | None

    @property
    def label(self) -> str:
        """Kind and id, as one reads them out."""
        return f"{self.kind} {self.name}"

    def matches(self, word: str) -> bool:
        """Does the id hold this word (lower case)?"""
        return word in self.name.casefold() or word == self.kind


def backings(knowledge: Knowledge) -> Iterator[Backing]:
    """Every graded thing in the knowledge: entries, and the figures inside them."""
    for named in all_entries(knowledge):
        for part in parts_of(named.entry):
            if not isinstance(part, Graded):
                continue
            sources = (*part.sources, part.data_set) if isinstance(part, Composition) else part.sources
            pinned_by = part.pinned_by if isinstance(part, Figure | Band) else None
            yield Backing(
                kind=named.kind, name=named.name, grade=part.grade, sources=sources, pinned_by=pinned_by
            )


def is_wanted(source: Source, resting: list[Backing], word: str) -> bool:
    """Does a work, or anything that rests on it, hold this word (in small letters)?"""
    return (
        word in source.key.casefold()
        or word in source.cites.casefold()
        or any(backing.matches(word) for backing in resting)
    )


def labels(resting: list[Backing]) -> list[str]:
    """Give kind and id of what rests on a work, each once."""
    return list(dict.fromkeys(backing.label for backing in resting))


def sources_document(
    chosen: list[Source], resting: dict[str, list[Backing]], everything: list[Backing]
) -> SourcesDocument:
    """Give the works that were chosen, with what rests on each, and how many things have each grade."""
    from advisor.rendering.documents.known import SourcesDocument, SourceShape

    return SourcesDocument(
        sources=tuple(
            SourceShape(
                key=source.key,
                cites=source.cites,
                kind=source.kind,
                seen=source.seen,
                note=source.note,
                rests_on_it=tuple(labels(resting[source.key])),
            )
            for source in chosen
        ),
        grades={grade: sum(b.grade == grade for b in everything) for grade in GRADES},
    )
