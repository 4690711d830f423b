"""A lesson of the teacher's own: the text of her file, read as strictly as the lessons that are shipped."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from advisor import load_knowledge
from advisor.explanation.lesson.teach_steps import Topic
from advisor.explanation.lesson.topics import lesson_topic
from advisor.interface.page.asked import Asked
from advisor.interface.page.asked_formula import formula_asked
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import Finding, InputFault, KnowledgeFault
from advisor.knowledge_base.lesson_entries import Lesson
from advisor.knowledge_base.places import Places
from advisor.knowledge_base.reading import read_entry
from advisor.knowledge_base.strict_yaml import Document, parse_yaml
from advisor.linting.lessons import check_lessons
from advisor.linting.report import Report
from advisor.remedy.change_fault import ChangeFault

OWN = "own"
"""What stands for the formula that the page has open, as a topic and as the formula of a lesson."""
_MOST_LETTERS, _FAULTS_TOLD = 60_000, 3
_FILE = "the lesson"


def own_lesson(asked: Asked) -> Topic:
    """Read the lesson that was sent along; its formula is a demo formula, or the one that is written.

    Raises:
        FormulaFault: the formula that is written cannot be read.
        InputFault: it is no lesson, or names what there is not; says on which lines.
    """
    knowledge = load_knowledge()
    try:
        lesson = read_entry(_one(parse_yaml(asked.text("lesson", most=_MOST_LETTERS), _FILE)), _FILE, Lesson)
    except KnowledgeFault as fault:
        raise _told(fault.findings) from None
    formulas = {**knowledge.formulas, OWN: Path()}
    # As a lesson of the shipped ones is looked at, with none but this one in sight.
    report = Report(
        knowledge=replace(knowledge, lessons={lesson.id: lesson}, formulas=formulas, origin={}),
        places=Places(knowledge=Path(), rules=Path()),
    )
    check_lessons(report)
    if report.findings:
        raise _told(report.findings)
    try:
        return lesson_topic(lesson, knowledge, formula_asked(asked) if lesson.formula == OWN else None)
    except ChangeFault as fault:
        raise InputFault(f"a change in the lesson does not fit its formula: {fault}") from None


def _one(document: Document) -> Document:
    """The one lesson of a file, whether it stands in a list, as the shipped ones do, or by itself."""
    data = document.data
    if not isinstance(data, list):
        return document
    if len(data) != 1:
        raise InputFault(f"the file holds {len(data)} lessons; put one lesson into a file")
    return Document(data[0], {path[1:]: line for path, line in document.lines.items() if path[:1] == (0,)})


def _told(findings: Iterable[Finding]) -> InputFault:
    said = list(dict.fromkeys(f"line {f.line}: {f.message}" if f.line else f.message for f in findings))
    more = len(said) - _FAULTS_TOLD
    rest = f" And {more} more." if more > 0 else ""
    return InputFault(f"the lesson cannot be taught yet. {shown('. '.join(said[:_FAULTS_TOLD]), 500)}.{rest}")
