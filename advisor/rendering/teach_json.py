"""A course as JSON, kind `lesson`."""

from __future__ import annotations

from advisor.explanation.lesson.teach_steps import LETTERS, ClassQuestion, Course, Step
from advisor.rendering.json_form import DIGITS, Json, head


def course_json(course: Course, *, hide_answers: bool = False) -> dict[str, Json]:
    """All steps and the chain; with hidden answers, only what does not tell."""
    steps = [step for step in course.steps if not (hide_answers and step.tells)]
    chain: list[Json] = [
        {
            "from": link.start, "to": link.to, "acts": link.row, "strength": link.strength, "grade": link.grade,
            "carried": round(link.carried, DIGITS), "lit": link.lit,
        }
        for link in course.chain
    ]  # fmt: skip
    return head("lesson") | {
        "title": course.topic.title,
        "lesson": course.topic.lesson.id if course.topic.lesson else None,
        "formula": course.topic.formula.name if course.topic.formula else None,
        "cause": None if hide_answers else course.topic.cause,
        "symptom": None if hide_answers else course.topic.symptom,
        "steps": [_step(step, hide_answers) for step in steps],
        "chain": [] if hide_answers else chain,
    }


def _step(step: Step, hide_answers: bool) -> Json:
    return {
        "kind": step.kind,
        "stage": step.row,
        "title": step.title,
        "body": list(step.body),
        "facts": list(step.facts),
        "rule": step.rule,
        "link": list(step.link) if step.link else None,
        "sides": [
            {"title": s.title, "for": list(s.speaks_for), "against": list(s.against)} for s in step.sides
        ],
        "question": _asked(step.asked, hide_answers) if step.asked else None,
    }


def _asked(asked: ClassQuestion, hide_answers: bool) -> Json:
    return {
        "ask": asked.ask,
        "after": list(asked.after),
        "choices": list(asked.choices),
        "right": None if hide_answers else LETTERS[asked.right],
        "found": None if hide_answers else asked.found,
        "because": None if hide_answers else asked.because,
    }
