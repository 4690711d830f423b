"""Texts shown to people: sources, cautions, questions, traits, glossary words."""

from __future__ import annotations

from collections.abc import Collection
from typing import Annotated, Literal

from pydantic import Field, model_validator

from advisor.knowledge_base.entry import Entry, Graded, Id, Text, Words


class Source(Entry):
    """One work that figures rest on, described once."""

    key: Id
    cites: Annotated[str, Field(min_length=5, max_length=500)]
    kind: Literal["paper", "book", "data_set", "regulation", "standard", "guide"]
    seen: Literal["whole", "part", "abstract", "secondary", "memory"]
    note: Text | None = None


class Caution(Graded):
    """A usual caution, shown where a rule calls for it."""

    id: Id
    short: Words
    text: Text
    defers_to: Text | None = None


class Question(Graded):
    """A fact about the process or the kitchen that only the baker knows."""

    id: Id
    question: Text
    because: Text
    answers: dict[Id, Text]
    fine: tuple[Id, ...] = ()
    """Answers of one who made it as written; where a slip of the hand is asked for."""
    shows: dict[Id, tuple[Id, ...]] = Field(default_factory=dict)
    """Answer to the symptoms that it tells of; those that another answer would have told of are then absent."""
    seconds: Annotated[float, Field(gt=0, le=300)]

    def observed(self, answer: str) -> dict[str, bool]:
        """Give the symptoms that an answer tells of, seen or absent; none where it tells of none."""
        if answer not in self.shows:
            return {}
        told = {symptom: False for symptoms in self.shows.values() for symptom in symptoms}
        return told | dict.fromkeys(self.shows[answer], True)


class Rescue(Graded):
    """What can still be done with a dough or a loaf that a cause has spoilt; `mind` is the caution with it."""

    id: Id
    stage: Literal["dough", "loaf"]
    for_: Annotated[tuple[Id, ...], Field(min_length=1, alias="for")]
    says: Text
    because: Text
    mind: Text | None = None
    not_with: tuple[Id, ...] = ()


class Trait(Entry):
    """A property of an ingredient that rules may read."""

    id: Id
    says: Text


class GlossaryWord(Graded):
    """A term of the trade in a plain sentence or two; `also` has other words and forms that it explains."""

    word: Words
    also: tuple[Words, ...] = ()
    says: Text


class Threshold(Graded):
    """From when on a thing is said, and the word for it; `says` names what is compared."""

    id: Id
    value: Annotated[float, Field(ge=0, le=20)]
    word: Words | None = None
    says: Text


class HandSlip(Graded):
    """One way in which a loaf is not made as written: an amount, a value of the process, or a cause of the hand."""

    id: Id
    factor: Annotated[float, Field(ge=0, le=4)] | None = None
    """What the amount of a line is multiplied by; 0 leaves it out."""
    process: Id | None = None
    value: float | None = None
    times: Annotated[float, Field(gt=0, le=4)] | None = None
    cause: Id | None = None
    question: Id | None = None
    told_by: dict[Id, tuple[Id, ...]] = Field(default_factory=dict)
    """Questions to the answers by which a baker tells this slip; `its_part` stands for the line's part of the dough."""
    needs: Id | None = None
    """Part of a dough that the formula must have for the slip to be possible."""
    settled_by: Id | None = None
    """Process value that tells whether it was made where the formula states it: then it is no slip."""
    rate: Annotated[float, Field(ge=0, le=0.2)] = 0.0
    """How often it is made beside the other slips."""
    says: Text
    asks: Text | None = None

    @model_validator(mode="after")
    def _one_kind(self) -> HandSlip:
        if sum(part is not None for part in (self.factor, self.process, self.cause)) != 1:
            raise ValueError("a slip has exactly one of factor, process, cause")
        if not self.rate or (self.cause is None and not self.asks):
            raise ValueError("a slip needs a rate, and one of an amount or of the process says what it asks")
        if self.process is not None and (self.value is None) == (self.times is None):
            raise ValueError("a slip of the process has either value or times")
        return self


class WeighedPart(Graded):
    """A part of a dough as a baker looks it over: ingredients of a role, a family, or with a word in the name."""

    id: Id
    roles: tuple[Id, ...] = ()
    families: tuple[Id, ...] = ()
    names: tuple[str, ...] = ()
    more: tuple[Id, ...] = ()
    """Causes that twice as much of it means to any baker, whatever the bands say."""
    less: tuple[Id, ...] = ()
    """Causes that half of it, or none, means."""

    def holds(self, roles: Collection[str], family: str, name: str) -> bool:
        """Say whether an ingredient belongs to it."""
        return bool(
            set(self.roles) & set(roles)
            or family in self.families
            or set(self.names) & set(name.lower().replace(",", " ").split())
        )


class Kink(Graded):
    """A place where a risk really jumps when one thing is moved a little, with the reason."""

    id: Id
    formula: Id
    turned: Id
    """The ingredient or the field of the process that was moved."""
    symptom: Id
    says: Text


class Gap(Graded):
    """A verdict that cannot be given where a model gives no number: what it is, and what the baker can write."""

    id: Id
    needs: Id | None = None
    """The measure that the verdict hangs on; none for what holds the loaf, a bake as told, any other number."""
    what: Text
    write: Words | None = None
    decides: bool


class Unstated(Graded):
    """A field of the process that a formula may leave out: how to ask for it, and what was taken instead."""

    id: Id
    asks: Text
    took: Text
    groups: Annotated[tuple[Id, ...], Field(min_length=1)]
    """Groups of measures that rest on it."""
    measures: tuple[Id, ...] = ()
    """Measures whose evidence counts for less while it is only assumed."""
    share: Annotated[float, Field(ge=0, lt=1)] | None = None
    """Chance that what was taken is near enough to the truth for that evidence; none: it counts in full."""
