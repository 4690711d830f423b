"""What is known: ingredients, symptoms, words, sources, lessons, faults of the knowledge, and schemas."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.api.results import Told
from advisor.api.shared import default_advisor, load_knowledge
from advisor.formula.formula import Formula
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.own_entry import level

if TYPE_CHECKING:
    from advisor.explanation.lesson.teach_steps import Topic
    from advisor.rendering.documents.known import (
        FindingsDocument,
        GlossaryDocument,
        IngredientsDocument,
        SourcesDocument,
        SymptomsDocument,
    )
    from advisor.rendering.documents.lesson import LessonDocument
    from advisor.rendering.documents.writing import Json

_NAMED = 8


def _listed(what: str, names: list[str]) -> str:
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return f"{what}: {', '.join(names[:_NAMED])}{more}" if names else f"{what}: none"


def ingredients(word: str | None = None) -> Told[IngredientsDocument]:
    """Tell what is known of ingredients: all without a word, else what it names, a family, or what holds it."""
    from advisor.rendering.documents.known import ingredients_document

    knowledge = load_knowledge()
    found = found_by(word, knowledge)
    return Told(
        ingredients_document(found, (), knowledge), _listed("ingredients", [entry.name for entry in found])
    )


def found_by(word: str | None, knowledge: Knowledge) -> tuple[Ingredient, ...]:
    """Ingredients that a word means: all without one; the one of this name; else a family; else all that hold it."""
    everything = tuple(knowledge.ingredients.values())
    if word is None:
        return everything
    wanted = level(word)
    if not wanted:
        return ()
    exact = tuple(e for e in everything if wanted in {level(n) for n in (e.id, e.name, *e.also)})
    if exact:
        return exact
    if family := tuple(e for e in everything if level(e.family) == wanted):
        return family
    return ingredients_holding(word, knowledge)


def ingredients_holding(word: str, knowledge: Knowledge) -> tuple[Ingredient, ...]:
    """Ingredients of which a name holds a word."""
    wanted = level(word)
    entries = knowledge.ingredients.values()
    return tuple(e for e in entries if any(wanted in level(n) for n in (e.id, e.name, *e.also)))


def symptoms(words: str | None = None) -> Told[SymptomsDocument]:
    """Tell what a loaf may show: all without words, else what they name, may mean, or describe."""
    from advisor.diagnosis.symptom_names import symptoms_meant
    from advisor.rendering.documents.known import symptoms_document

    knowledge = load_knowledge()
    found = list(knowledge.symptoms.values()) if words is None else list(symptoms_meant(words, knowledge))
    return Told(symptoms_document(found), _listed("symptoms", [s.name.lower() for s in found]))


def glossary(word: str | None = None) -> Told[GlossaryDocument]:
    """Tell what a word of the trade, a measure or a structure means; all of them without a word."""
    from advisor.knowledge_base.terms import look_up, nearest_terms, terms_of
    from advisor.rendering.documents.known import glossary_document

    knowledge = load_knowledge()
    entries = terms_of(knowledge)
    found = look_up(word, entries) if word else entries
    near = () if found or not word else nearest_terms(word, entries)
    return Told(glossary_document(found, near, knowledge), _listed("words", [term.word for term in found]))


def sources(word: str = "") -> Told[SourcesDocument]:
    """Tell what rests on which work: all works, or those that hold a word or that anything of this name rests on."""
    from advisor.api.backing import Backing, backings, is_wanted, sources_document

    knowledge, wanted = load_knowledge(), word.strip().casefold()
    everything = list(backings(knowledge))
    resting: dict[str, list[Backing]] = {key: [] for key in knowledge.sources}
    for backing in everything:
        for key in dict.fromkeys(backing.sources):
            resting.setdefault(key, []).append(backing)
    chosen = [s for key, s in knowledge.sources.items() if is_wanted(s, resting[key], wanted)]
    return Told(sources_document(chosen, resting, everything), _listed("works", [s.key for s in chosen]))


def lint() -> Told[FindingsDocument]:
    """Look for faults in rules/ and knowledge/."""
    from advisor.api.linted import look_over
    from advisor.knowledge_base.faults import KnowledgeFault
    from advisor.knowledge_base.places import find_places
    from advisor.rendering.documents.known import findings_document

    try:
        findings = look_over(find_places())[1]
    except KnowledgeFault as fault:
        findings = tuple(sorted(set(fault.findings)))
    return Told(findings_document(findings), _listed("findings", [str(one) for one in findings]))


def schema(kind: str) -> dict[str, Json]:
    """Give the JSON Schema of a kind of document, or of something that people write.

    Raises:
        KeyError: no such kind.
    """
    from advisor.rendering.documents.schemas import schema_of

    return schema_of(kind)


def lessons() -> tuple[str, ...]:
    """Give the ids of the lessons, in their order."""
    return tuple(load_knowledge().lessons)


def teach(topic: str | Formula, *, hide_answers: bool = False) -> Told[LessonDocument]:
    """Tell a chain from cause to fault step by step: of a lesson by its id, or of a formula's likeliest cause.

    Raises:
        KeyError: no such lesson.
    """
    from advisor.explanation.lesson.teach_course import course_of
    from advisor.rendering.documents.lesson import lesson_document

    course = course_of(_topic(topic), default_advisor().examiner)
    says = f"{course.topic.title}: {len(course.steps)} steps"
    return Told(lesson_document(course, hide_answers=hide_answers), says)


def _topic(topic: str | Formula) -> Topic:
    from advisor.explanation.lesson.topics import formula_topic, lesson_topic

    knowledge = load_knowledge()
    if isinstance(topic, Formula):
        return formula_topic(topic, knowledge, default_advisor().examiner)
    if topic not in knowledge.lessons:
        raise KeyError(f"no lesson '{topic}'; there are: {', '.join(knowledge.lessons)}")
    return lesson_topic(knowledge.lessons[topic], knowledge)
