"""From a lesson or a formula to the topic that is taught."""

from __future__ import annotations

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.explanation.lesson.teach_steps import Topic
from advisor.formula.files import formula_from_file
from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.lesson_entries import Lesson
from advisor.remedy.written_change import apply_changes


def lesson_topic(lesson: Lesson, knowledge: Knowledge, formula: Formula | None = None) -> Topic:
    """The topic of a lesson: its demo formula, or another one, with the lesson's changes.

    Raises:
        ChangeFault: a change that does not fit the formula.
    """
    formula = formula or formula_from_file(knowledge.formulas[lesson.formula], knowledge)
    if lesson.changed:
        formula = apply_changes(formula, lesson.changed, knowledge).formula
    return Topic(
        title=lesson.title, formula=formula, cause=lesson.cause, symptom=lesson.symptom, saw=lesson.saw,
        lesson=lesson, word=lesson.id,
    )  # fmt: skip


def formula_topic(
    formula: Formula, knowledge: Knowledge, examiner: Examiner, *, fault: str | None = None, word: str = ""
) -> Topic:
    """The topic of a formula: the fault that it carries, else its likeliest cause, and where that leads."""
    found = examiner.examine(formula, after_bake=False)
    cause = fault or next((rank.id for rank in found.diagnosis.causes), None)
    return Topic(
        title=formula.name, formula=formula, cause=cause, symptom=worst_of(cause, found, examiner), word=word
    )


def worst_of(cause: str | None, found: Examination, examiner: Examiner) -> str | None:
    """The symptom to which a cause adds most risk."""
    if cause is None:
        return None
    reached = examiner.graph_of(found.formula).influence.get(cause, {})
    return max(reached, key=lambda s: (reached[s], found.diagnosis.risks[s].risk, s), default=None)
