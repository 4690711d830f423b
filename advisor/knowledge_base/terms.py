"""Terms that a page may say, and how a word that a reader gives finds one of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from advisor.knowledge_base.entry import Grade
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.likeness import nearest
from advisor.knowledge_base.plain_words import bases, words_in

_NEAREST = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """Something a page may say: a word of the glossary, a measure or a structure; a measure has a unit and no grade."""

    kind: Literal["term", "measure", "structure"]
    word: str
    says: str
    also: tuple[str, ...] = ()
    unit: str | None = None
    grade: Grade | None = None
    sources: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """All that it is called, in small letters."""
        return tuple(name.casefold() for name in (self.word, *self.also))


def terms_of(knowledge: Knowledge) -> tuple[Term, ...]:
    """Every term, by its first letter; where the glossary has the name of a measure, the glossary speaks."""
    terms = {term.word.casefold(): term for term in _terms(knowledge)}
    return tuple(terms[name] for name in sorted(terms))


def _terms(knowledge: Knowledge) -> Iterator[Term]:
    for name, measure in knowledge.measures.items():
        also = tuple({name.replace("_", " "): None} if name.replace("_", " ") != measure.name else ())
        yield Term(kind="measure", word=measure.name, says=measure.says, also=also, unit=measure.unit)
    for structure in knowledge.structures.values():
        yield Term(
            kind="structure", word=structure.name, says=structure.says, grade=structure.grade,
            sources=structure.sources,
        )  # fmt: skip
    for word in knowledge.glossary.values():
        yield Term(
            kind="term",
            word=word.word,
            says=word.says,
            also=word.also,
            grade=word.grade,
            sources=word.sources,
        )


def look_up(wanted: str, entries: tuple[Term, ...]) -> tuple[Term, ...]:
    """Terms that are called just that; else those that are in another form (proofed), else those that hold the word."""
    plain = " ".join(wanted.casefold().split())
    exact = tuple(e for e in entries if plain in e.names)
    if exact:
        return exact
    forms = _forms(wanted)
    alike = tuple(e for e in entries if any(_same_words(forms, name) for name in e.names))
    if alike or not forms:
        return alike
    return tuple(e for e in entries if _holds(forms, e))


def _forms(text: str) -> list[frozenset[str]]:
    return [bases(word) for word in words_in(text.replace("-", " "))]


def _same_words(forms: list[frozenset[str]], name: str) -> bool:
    others = _forms(name)
    return (
        len(forms) == len(others) and bool(forms) and all(a & b for a, b in zip(forms, others, strict=True))
    )


def _holds(forms: list[frozenset[str]], entry: Term) -> bool:
    own = [form for name in entry.names for form in _forms(name)]
    return all(any(form & other for other in own) for form in forms)


def nearest_terms(wanted: str, entries: tuple[Term, ...]) -> tuple[str, ...]:
    """Terms that are spelt most like a word, the nearest first."""
    owners = {name: entry.word for entry in entries for name in entry.names}
    near = nearest(wanted.casefold(), owners, _NEAREST)
    return tuple(dict.fromkeys(owners[name] for name in near))
