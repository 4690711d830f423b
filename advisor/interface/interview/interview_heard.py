"""What an interview has heard so far, in order, so that any of it can be taken back or told otherwise."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from advisor.diagnosis.asking import QuestionInWords
from advisor.diagnosis.next_question import SEEN
from advisor.interface.desk.bakers_answers import Told

Kind = Literal["symptom", "question"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """One answer: to which symptom or question; `None` where the baker does not know, or put it aside."""

    kind: Kind
    id: str
    answer: str | None
    skipped: bool = False


@dataclass(slots=True)
class Heard:
    """Symptoms ticked, and answers in the order in which they were given."""

    ticked: tuple[str, ...] = ()
    given: list[Given] = field(default_factory=list)

    @property
    def asked(self) -> int:
        """How many questions were put; one that was put aside does not count."""
        return sum(not one.skipped for one in self.given)

    @property
    def ids(self) -> tuple[str, ...]:
        """Symptoms and questions that need not be asked again."""
        return tuple(one.id for one in self.given)

    @property
    def told(self) -> Told:
        """What there is to go by."""
        symptoms = [one for one in self.given if one.kind == "symptom" and one.answer is not None]
        saw = (*self.ticked, *(one.id for one in symptoms if one.answer == SEEN))
        absent = tuple(one.id for one in symptoms if one.answer != SEEN and one.id not in saw)
        answers = {
            one.id: one.answer for one in self.given if one.kind == "question" and one.answer is not None
        }
        return Told(saw=tuple(dict.fromkeys(saw)), not_seen=absent, answers=answers)

    def hear(self, asked: QuestionInWords, answer: str | None, *, skipped: bool = False) -> None:
        """Take an answer in, in the place of an earlier one to the same question."""
        new = Given(kind=asked.kind, id=asked.id, answer=answer, skipped=skipped)
        for place, one in enumerate(self.given):
            if one.id == asked.id:
                self.given[place] = new
                return
        self.given.append(new)

    def take_back(self) -> bool:
        """Forget the last answer; `False` where there is none."""
        if not self.given:
            return False
        self.given.pop()
        return True

    def tick(self, symptoms: Sequence[str]) -> None:
        """Put these in the place of what was ticked; an answer about one of them is forgotten."""
        self.ticked = tuple(symptoms)
        self.given = [one for one in self.given if not (one.kind == "symptom" and one.id in self.ticked)]

    def copy(self) -> Heard:
        """Give one that can be changed apart from this."""
        return Heard(self.ticked, [replace(one) for one in self.given])
