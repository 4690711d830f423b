"""Every lesson: the engine answers its questions, and answers them as the lesson says."""

from __future__ import annotations

import pytest

from advisor import default_advisor, load_knowledge
from advisor.explanation.lesson.teach_answers import Changes, LessonFault, answered
from advisor.explanation.lesson.topics import lesson_topic
from advisor.explanation.thresholds import Thresholds
from advisor.knowledge_base.lesson_entries import Choice, LessonQuestion
from advisor.rendering.quantities import said

LESSONS = load_knowledge().lessons


def looked_at(lesson):
    topic = lesson_topic(lesson, load_knowledge())
    examiner = default_advisor().examiner
    return topic, examiner.examine(topic.formula, saw=topic.saw, after_bake=bool(topic.saw)), examiner


def test_there_are_at_least_ten_lessons():
    assert 10 <= len(LESSONS)


@pytest.mark.parametrize("name", sorted(LESSONS))
def test_the_engine_answers_as_the_lesson_says(name):
    topic, found, examiner = looked_at(LESSONS[name])
    changes = Changes(topic, examiner)
    answers = [answered(q, topic, found, examiner, changed_at=changes) for q in LESSONS[name].questions]
    assert [q.right for q in LESSONS[name].questions] == ["abcd"[a.right] for a in answers]
    told = [said(a.because) for a in answers]
    assert all(told) and not any("{" in text or " - " in text for text in told)


@pytest.mark.parametrize("name", sorted(LESSONS))
def test_the_cause_of_a_lesson_is_at_work_in_its_formula(name):
    topic, found, _ = looked_at(LESSONS[name])
    assert Thresholds.read(load_knowledge()).link_lit <= found.diagnosis.cause(topic.cause).probability
    own = [r for r in found.diagnosis.causes if r.refines is None or r.refines != topic.cause]
    assert topic.cause in [r.id for r in own[:2]]


@pytest.mark.parametrize("name", sorted(LESSONS))
def test_the_cause_of_a_lesson_adds_most_to_the_risk_of_its_symptom(name):
    topic, found, _ = looked_at(LESSONS[name])
    share = {c.cause: c.share for c in found.diagnosis.risks[topic.symptom].contributions}
    assert topic.cause == max(share, key=lambda c: share[c])


def question(*choices):
    return LessonQuestion.model_validate(
        {
            "ask": "How much?",
            "reads": {"measure": "dough_g"},
            "choices": [{"says": "x", **c} for c in choices],
            "right": "a",
            "because": "So.",
        }
    )


@pytest.mark.parametrize("choices", [({"below": 1}, {"below": 2}), ({"below": 1e6}, {"at_least": 0})])
def test_a_question_without_just_one_right_choice_is_refused(choices):
    topic, found, examiner = looked_at(LESSONS["the-door"])
    with pytest.raises(LessonFault, match="choices fit"):
        answered(question(*choices), topic, found, examiner)


def test_a_choice_holds_from_its_edge_up_to_the_next():
    choice = Choice(says="x", at_least=1.0, below=2.0)
    assert [False, True, True, False] == [choice.fits(x) for x in (0.99, 1.0, 1.99, 2.0)]
    assert not choice.fits("excess_water")
