"""Lessons: a demo formula, what to ask a class about it, and choices among which the engine finds the right one.

No answer is written down as a number: a question names what to read (a measure, the chance of a cause, the risk of a
symptom, or which of them comes first), and each choice says within which edges, or for which id, it is the right one.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from advisor.knowledge_base.entry import Entry, Id, Text, Words

READS = ("measure", "cause", "risk", "first")
Letter = Literal["a", "b", "c", "d"]
Written = Annotated[str, Field(min_length=3, max_length=80)]
"""A change as a baker writes it: water -30 g."""


class LessonReading(Entry):
    """What the engine is asked for: exactly one of a measure, a cause's chance, a symptom's risk, or what is first."""

    measure: Id | None = None
    """Id of a measure to read."""
    cause: Id | None = None
    """Id of a cause whose chance is read."""
    risk: Id | None = None
    """Id of a symptom whose risk is read."""
    first: Literal["cause", "symptom"] | None = None
    """Read which cause, or which symptom, comes first."""
    moved: bool = False
    """Whether the answer is by how much the changes of the question moved it."""

    @model_validator(mode="after")
    def _reads_one_thing(self) -> LessonReading:
        if sum(getattr(self, name) is not None for name in READS) != 1:
            raise ValueError(f"a question reads exactly one of {', '.join(READS)}")
        if self.moved and self.first is not None:
            raise ValueError("what comes first is no number that moves")
        return self


class Choice(Entry):
    """One answer to vote for, right where the engine's number lies from `at_least` up to `below`, or its id is `is`."""

    says: Words
    """The choice as the class reads it."""
    at_least: float | None = None
    """It is right from this number on."""
    below: float | None = None
    """It is right below this number."""
    is_: Annotated[Id | None, Field(alias="is")] = None
    """It is right where this id is what comes first."""

    @model_validator(mode="after")
    def _has_a_condition(self) -> Choice:
        if (self.is_ is None) == (self.at_least is None and self.below is None):
            raise ValueError("a choice is right by 'is', or by at_least and below")
        return self

    def fits(self, answer: float | str) -> bool:
        """Say whether this choice is the right one."""
        if isinstance(answer, str):
            return self.is_ == answer
        if self.is_ is not None:
            return False
        return (self.at_least is None or answer >= self.at_least) and (
            self.below is None or answer < self.below
        )


class LessonQuestion(Entry):
    """A question to the class; with `after`, about the formula with those changes."""

    ask: Text
    """The question."""
    after: tuple[Written, ...] = ()
    """Changes of the formula that it is asked about."""
    reads: LessonReading
    """What the engine is asked for."""
    choices: Annotated[tuple[Choice, ...], Field(min_length=2, max_length=4)]
    """Two to four choices, a first."""
    right: Letter
    """What the lesson holds to be right; the tests hold it against what the engine finds."""
    because: Text
    """Why the right one is right."""

    @model_validator(mode="after")
    def _right_is_a_choice(self) -> LessonQuestion:
        if "abcd".index(self.right) >= len(self.choices):
            raise ValueError(f"right is '{self.right}', but there are only {len(self.choices)} choices")
        if self.reads.moved and not self.after:
            raise ValueError("'moved' needs 'after': what moved it")
        return self


class Lesson(Entry):
    """One lesson: formula and changes to it, what was seen, the chain to follow, and the questions."""

    id: Id
    """By which `teach` takes it."""
    title: Words
    """Its title."""
    says: Text
    """What it is about."""
    formula: Id
    """Id of the demo formula that it is about."""
    changed: tuple[Written, ...] = ()
    """Changes of that formula, as a baker writes them."""
    saw: tuple[Id, ...] = ()
    """Ids of the symptoms that the loaf showed."""
    cause: Id
    """Id of the cause at the head of the chain."""
    symptom: Id
    """Id of the symptom at its end."""
    questions: Annotated[tuple[LessonQuestion, ...], Field(min_length=2, max_length=6)]
    """Two to six questions to the class."""
    remember: Text
    """What to take home."""
