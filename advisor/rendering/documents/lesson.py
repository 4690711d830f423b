"""A course step by step, and the list of lessons: the kinds `lesson` and `lessons`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from advisor.explanation.lesson.teach_steps import LETTERS, ChainLink, ClassQuestion, Course, Step, StepKind
from advisor.rendering.documents.shape import Document, Share, shape

Stage = Literal["plan", "mixing", "proof", "early_oven", "late_oven", "cooling", "storage", "slice"]
Letter = Literal["a", "b", "c", "d"]


@shape
class ClassQuestionShape:
    """A question to the class."""

    ask: str
    """The question."""
    after: tuple[str, ...]
    """Changes of the formula that it is asked about."""
    choices: tuple[str, ...]
    """The choices, a first."""
    right: Letter | None
    """The right choice; null where answers are hidden."""
    found: str | None
    """What the engine finds; null where answers are hidden."""
    because: str | None
    """Why that is so; null where answers are hidden."""


@shape
class SideShape:
    """One of two causes that compete."""

    title: str
    """Its name."""
    speaks_for: Annotated[tuple[str, ...], Field(alias="for")]
    """What speaks for it."""
    against: tuple[str, ...]
    """What speaks against it."""


@shape
class StepShape:
    """One step of the course."""

    kind: StepKind
    """What sort of step it is."""
    stage: Stage
    """At which stage of the bread it stands."""
    title: str
    """The headline."""
    body: tuple[str, ...]
    """Paragraphs."""
    facts: tuple[str, ...]
    """Facts with their numbers."""
    rule: str | None
    """Id of the rule that fires here."""
    link: tuple[str, str] | None
    """The link of the chain that this step lights, from and to."""
    sides: tuple[SideShape, ...]
    """Two causes that compete; empty elsewhere."""
    question: ClassQuestionShape | None
    """A question to the class."""


@shape
class LinkShape:
    """One link of the chain from a cause to a symptom."""

    start: Annotated[str, Field(alias="from")]
    """Id of the cause or mechanism where it begins."""
    to: str
    """Id of the mechanism or symptom where it ends."""
    acts: Stage
    """At which stage it acts."""
    strength: Share
    """How surely the one brings the other."""
    grade: str
    """How well that is known."""
    carried: Share
    """How much of the cause arrives at its end."""
    lit: bool
    """Whether enough arrives for the link to count."""


@shape
class LessonDocument(Document):
    """A course on one topic, as `teach` shows it."""

    kind: Literal["lesson"] = "lesson"
    """A course."""
    title: str
    """Its title."""
    lesson: str | None
    """Id of the lesson in knowledge/lessons.yaml, where it is one."""
    formula: str | None
    """Title of the formula, where it is about one."""
    cause: str | None
    """Id of the cause; null where answers are hidden."""
    symptom: str | None
    """Id of the symptom; null where answers are hidden."""
    steps: tuple[StepShape, ...]
    """The steps in order."""
    chain: tuple[LinkShape, ...]
    """The chain that the steps light; empty where answers are hidden."""


@shape
class LessonNameShape:
    """One lesson by its name."""

    id: str
    """Its id, by which `teach` takes it."""
    title: str
    """Its title."""


@shape
class LessonsDocument(Document):
    """What can be taught."""

    kind: Literal["lessons"] = "lessons"
    """The list of what can be taught."""
    lessons: tuple[LessonNameShape, ...]
    """Lessons with questions to a class."""
    formulas: tuple[str, ...]
    """Demo formulas with a fault, each a topic too."""


def lesson_document(course: Course, *, hide_answers: bool = False) -> LessonDocument:
    """Give all steps and the chain; with hidden answers, only what does not tell."""
    topic = course.topic
    return LessonDocument(
        title=topic.title,
        lesson=topic.lesson.id if topic.lesson else None,
        formula=topic.formula.name if topic.formula else None,
        cause=None if hide_answers else topic.cause,
        symptom=None if hide_answers else topic.symptom,
        steps=tuple(_step(step, hide_answers) for step in course.steps if not (hide_answers and step.tells)),
        chain=() if hide_answers else tuple(map(_link, course.chain)),
    )


def _link(link: ChainLink) -> LinkShape:
    return LinkShape(
        start=link.start, to=link.to, acts=_stage(link.row), strength=link.strength, grade=link.grade,
        carried=link.carried, lit=link.lit,
    )  # fmt: skip


def _stage(row: str) -> Stage:
    return row  # type: ignore[return-value]  # a row of the course, which are these


def _step(step: Step, hide_answers: bool) -> StepShape:
    return StepShape(
        kind=step.kind,
        stage=_stage(step.row),
        title=step.title,
        body=step.body,
        facts=step.facts,
        rule=step.rule,
        link=step.link,
        sides=tuple(SideShape(title=s.title, speaks_for=s.speaks_for, against=s.against) for s in step.sides),
        question=_asked(step.asked, hide_answers) if step.asked else None,
    )


def _asked(asked: ClassQuestion, hide_answers: bool) -> ClassQuestionShape:
    right: Letter = LETTERS[asked.right]  # type: ignore[assignment]  # one of the four
    return ClassQuestionShape(
        ask=asked.ask,
        after=asked.after,
        choices=asked.choices,
        right=None if hide_answers else right,
        found=None if hide_answers else asked.found,
        because=None if hide_answers else asked.because,
    )
