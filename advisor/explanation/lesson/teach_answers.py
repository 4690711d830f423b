"""What the engine answers to the questions of a lesson: a number or an id, and the choice that it makes right."""

from __future__ import annotations

from collections.abc import Callable

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.explanation.lesson.teach_steps import ClassQuestion, Topic
from advisor.explanation.wording import number, percent, with_unit
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.lesson_entries import LessonQuestion, LessonReading
from advisor.knowledge_base.text_fields import filled_in
from advisor.remedy.written_change import apply_changes


class LessonFault(ValueError):
    """Raised when the engine's answer fits no choice of a question, or more than one: the lesson must be mended."""


def answered(
    question: LessonQuestion,
    topic: Topic,
    found: Examination,
    examiner: Examiner,
    *,
    changed_at: Changes | None = None,
) -> ClassQuestion:
    """Let the engine answer one question.

    Raises:
        ChangeFault: a change of the question does not fit the formula.
        LessonFault: not just one choice is right.
    """
    knowledge = examiner.knowledge
    after = (changed_at or Changes(topic, examiner))(question.after) if question.after else found
    answer = _read(question.reads, after, found)
    if answer is None:
        raise LessonFault(f"'{question.ask}': the engine has no number for it")
    right = [place for place, choice in enumerate(question.choices) if choice.fits(answer)]
    if len(right) != 1:
        raise LessonFault(f"'{question.ask}': {len(right)} choices fit the engine's answer {answer}")
    return ClassQuestion(
        ask=question.ask,
        after=question.after,
        choices=tuple(choice.says for choice in question.choices),
        right=right[0],
        found=_said(question.reads, answer, after, found, knowledge),
        because=_filled(question.because, after, found, question.reads, knowledge),
    )


class Changes:
    """Looks at the topic's formula with some changes, each set of them once."""

    def __init__(self, topic: Topic, examiner: Examiner) -> None:
        assert topic.formula is not None
        self._formula, self._examiner = topic.formula, examiner
        self._known: dict[tuple[str, ...], Examination] = {}

    def __call__(self, changes: tuple[str, ...]) -> Examination:
        """Give the examination of the changed formula, which is not baked yet: what was seen was another loaf."""
        if changes not in self._known:
            changed = apply_changes(self._formula, changes, self._examiner.knowledge).formula
            self._known[changes] = self._examiner.examine(changed, after_bake=False)
        return self._known[changes]


def _read(reads: LessonReading, after: Examination, before: Examination) -> float | str | None:
    if reads.first == "cause":
        return after.diagnosis.causes[0].id
    if reads.first == "symptom":
        return min(after.diagnosis.risks.values(), key=lambda r: (-r.risk, r.symptom)).symptom
    now = _number(reads, after)
    if not reads.moved or now is None:
        return now
    was = _number(reads, before)
    return None if was is None else now - was


def _number(reads: LessonReading, found: Examination) -> float | None:
    if reads.measure is not None:
        return found.situation.measures.get(reads.measure)
    if reads.cause is not None:
        rank = found.diagnosis.cause(reads.cause)
        return rank.probability if rank is not None else 0.0
    return found.diagnosis.risks[str(reads.risk)].risk


def _wording(reads: LessonReading, knowledge: Knowledge) -> tuple[str, Callable[[float], str]]:
    """The name of what is read, and how its number is written."""
    if reads.measure is not None:
        entry = knowledge.measures[reads.measure]
        unit = "" if entry.unit == "-" else entry.unit
        return entry.name, lambda x: with_unit(number(x, entry.decimals), unit)
    if reads.cause is not None:
        return f"chance of {knowledge.causes[reads.cause].name.lower()}", percent
    return f"risk of {knowledge.symptoms[str(reads.risk)].name.lower()}", percent


def _said(
    reads: LessonReading, answer: float | str, after: Examination, before: Examination, knowledge: Knowledge
) -> str:
    if isinstance(answer, str):
        if reads.first == "cause":
            return f"{knowledge.causes[answer].name}, {percent(after.diagnosis.causes[0].probability)}"
        return f"{knowledge.symptoms[answer].name}, {percent(after.diagnosis.risks[answer].risk)}"
    name, written = _wording(reads, knowledge)
    now, was = _number(reads, after), _number(reads, before)
    if after is before or was is None or now is None:
        return f"{name}: {written(now or 0.0)}"
    return f"{name}: {written(was)} before, {written(now)} after"


def _filled(
    text: str, after: Examination, before: Examination, reads: LessonReading, knowledge: Knowledge
) -> str:
    """Fill measures of the changed formula, and `before` and `now` for what the question reads."""
    places: dict[str, object] = dict(after.situation.measures)
    if reads.first is None:
        _, written = _wording(reads, knowledge)
        for place, found in (("before", before), ("now", after)):
            value = _number(reads, found)
            places[place] = "-" if value is None else written(value)
    return filled_in(text, places)
