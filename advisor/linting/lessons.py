"""Do lessons name what there is, and does each chain exist? What they answer is for the tests: it takes the engine."""

from __future__ import annotations

import re

from advisor.knowledge_base.lesson_entries import Lesson, LessonQuestion
from advisor.knowledge_base.text_fields import places_in_text
from advisor.linting.report import Report

_FORM = re.compile(r"(?:\.[0-9]f)?")
"""Decimals of a number: nothing else is needed, and a width without an end would fill the memory."""
_IN_WORDS = ("now", "before")
"""Places that are filled with words: what the question reads, of the changed formula and of the first one."""


def check_lessons(report: Report) -> None:
    """Look up every id in every lesson, and the places of its sentences; a question has its choices side by side."""
    known = report.knowledge
    for name, lesson in known.lessons.items():
        report.refer("lesson", name, "demo formula", lesson.formula, known.formulas)
        for symptom in (*lesson.saw, lesson.symptom):
            report.refer("lesson", name, "symptom", symptom, known.symptoms)
        if report.refer("lesson", name, "cause", lesson.cause, known.causes):
            _chain(report, lesson)
        for number, question in enumerate(lesson.questions, 1):
            _question(report, name, number, question)


def _chain(report: Report, lesson: Lesson) -> None:
    onward: dict[str, list[str]] = {}
    for link in report.knowledge.links:
        onward.setdefault(link.start, []).append(link.to)
    reached, ahead = set[str](), [lesson.cause]
    while ahead:
        node = ahead.pop()
        if node not in reached:
            reached.add(node)
            ahead += onward.get(node, [])
    if lesson.symptom in report.knowledge.symptoms and lesson.symptom not in reached:
        report.add("lesson", lesson.id, "lesson", f"no links lead from {lesson.cause} to {lesson.symptom}")


def _question(report: Report, name: str, number: int, question: LessonQuestion) -> None:
    known, reads = report.knowledge, question.reads
    shelves = {"measure": known.measures, "cause": known.causes, "risk": known.symptoms}
    for kind, shelf in shelves.items():
        if (target := getattr(reads, kind)) is not None:
            report.refer("lesson", name, {"risk": "symptom"}.get(kind, kind), target, shelf)
    for choice in question.choices:
        if (reads.first is None) != (choice.is_ is None):
            wanted = "an id, by 'is'" if reads.first else "edges, by at_least and below"
            report.add("lesson", name, "lesson", f"question {number}: '{choice.says}' needs {wanted}")
        elif choice.is_ is not None:
            shelf = known.causes if reads.first == "cause" else known.symptoms
            report.refer("lesson", name, str(reads.first), choice.is_, shelf)
    for place in places_in_text(question.because):
        report.refer("lesson", name, "measure", place.name, {*known.measures, *_IN_WORDS})
        if not (place.form == "" if place.name in _IN_WORDS else _FORM.fullmatch(place.form)):
            report.add(
                "lesson",
                name,
                "lesson",
                f"question {number}: {place.written} is written as in {{core_c:.1f}}",
            )
