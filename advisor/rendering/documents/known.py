"""What is known: the kinds `ingredients`, `sources`, `glossary` and `findings`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

from advisor.knowledge_base.all_entries import sources_behind
from advisor.knowledge_base.entry import Grade
from advisor.knowledge_base.faults import Finding
from advisor.knowledge_base.graph_entries import Symptom
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.own_making import is_own
from advisor.knowledge_base.terms import Term
from advisor.rendering.documents.shape import Document, shape


@shape
class KnownIngredientShape:
    """One ingredient."""

    own: bool
    """Whether it is out of the user's own file."""
    entry: Ingredient
    """All that is known of it."""
    all_sources: tuple[str, ...]
    """Keys of every source that a figure of it names."""


@shape
class IngredientsDocument(Document):
    """Ingredients, as `ingredients` shows them."""

    kind: Literal["ingredients"] = "ingredients"
    """Ingredients."""
    ingredients: tuple[KnownIngredientShape, ...]
    """Those that were asked for."""
    said: tuple[str, ...]
    """What was done, and what was taken over from another ingredient."""


@shape
class SourceShape:
    """A work that figures or rules rest on."""

    key: str
    """By which entries name it."""
    cites: str
    """The work, as one cites it."""
    kind: str
    """What sort of work it is."""
    seen: str
    """How much of it was read."""
    note: str | None
    """What else is to be said of it."""
    rests_on_it: tuple[str, ...]
    """Kind and id of every entry that names it."""


@shape
class SourcesDocument(Document):
    """Sources, as `sources` shows them."""

    kind: Literal["sources"] = "sources"
    """Sources."""
    sources: tuple[SourceShape, ...]
    """Those that were asked for."""
    grades: Mapping[str, int]
    """How many entries and figures have each grade."""


@shape
class CitedShape:
    """A source by its key."""

    key: str
    """By which entries name it."""
    cites: str
    """The work, as one cites it."""


@shape
class TermShape:
    """One word."""

    kind: Literal["term", "measure", "structure"]
    """A term of the trade, a measure, or a structure."""
    word: str
    """The word."""
    also: tuple[str, ...]
    """What else it is called."""
    says: str
    """What it means."""
    unit: str | None
    """Unit of a measure; null elsewhere."""
    grade: Grade | None
    """How well that is known; null for a measure."""
    sources: tuple[CitedShape, ...]
    """Who says so."""


@shape
class GlossaryDocument(Document):
    """Words, as `glossary` shows them."""

    kind: Literal["glossary"] = "glossary"
    """Words."""
    words: tuple[TermShape, ...]
    """Those that were asked for."""
    nearest: tuple[str, ...]
    """Words that are near, where the one asked for is not known."""


@shape
class SymptomEntryShape:
    """One symptom and how to recognise it."""

    id: str
    """Its id."""
    name: str
    """What it is called."""
    also: tuple[str, ...]
    """What else it is called."""
    says: str
    """What it is."""
    look: str
    """How to tell."""
    question: str
    """How it is asked for."""


@shape
class SymptomsDocument(Document):
    """Symptoms, as `symptoms` shows them."""

    kind: Literal["symptoms"] = "symptoms"
    """Symptoms."""
    symptoms: tuple[SymptomEntryShape, ...]
    """Those that were asked for."""


@shape
class FindingShape:
    """One fault in rules/ or knowledge/."""

    file: str
    """The file."""
    line: int
    """The line, from 1; 0 where it is about no line."""
    check: str
    """Name of the check that found it."""
    message: str
    """What is wrong and what to do."""


@shape
class FindingsDocument(Document):
    """Faults in rules/ and knowledge/, as `lint` shows them."""

    kind: Literal["findings"] = "findings"
    """Faults of the knowledge."""
    findings: tuple[FindingShape, ...]
    """All of them."""


def symptoms_document(found: Iterable[Symptom]) -> SymptomsDocument:
    """Give symptoms with how to recognise them."""
    return SymptomsDocument(
        symptoms=tuple(
            SymptomEntryShape(
                id=s.id, name=s.name, also=s.also, says=s.says, look=s.look, question=s.question
            )
            for s in found
        )
    )


def findings_document(findings: Iterable[Finding]) -> FindingsDocument:
    """Give what the linter found."""
    return FindingsDocument(
        findings=tuple(
            FindingShape(file=f.file, line=f.line, check=f.check, message=f.message) for f in findings
        )
    )


def glossary_document(
    found: Iterable[Term], nearest: tuple[str, ...], knowledge: Knowledge
) -> GlossaryDocument:
    """Give words with what they mean."""
    words = tuple(
        TermShape(
            kind=term.kind,
            word=term.word,
            also=term.also,
            says=term.says,
            unit=term.unit,
            grade=term.grade,
            sources=tuple(CitedShape(key=key, cites=knowledge.sources[key].cites) for key in term.sources),
        )
        for term in found
    )
    return GlossaryDocument(words=words, nearest=nearest)


def ingredients_document(
    found: Iterable[Ingredient], said: Iterable[str], knowledge: Knowledge
) -> IngredientsDocument:
    """Give ingredients with everything that is known of each."""
    rows = tuple(
        KnownIngredientShape(own=is_own(e), entry=e, all_sources=sources_behind(e, knowledge)) for e in found
    )
    return IngredientsDocument(ingredients=rows, said=tuple(said))
