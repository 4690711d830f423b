"""`advisor teach`: a chain of cause and effect, step by step: on the whole screen, as text, or as Markdown."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor import load_knowledge
from advisor.diagnosis.pipeline import Examiner
from advisor.explanation.blocks import Heading, Item, Page, Row
from advisor.explanation.lesson.lesson_blocks import handout_of, key_of, lesson_of
from advisor.explanation.lesson.teach_answers import LessonFault
from advisor.explanation.lesson.teach_course import course_of
from advisor.explanation.lesson.teach_steps import Course
from advisor.explanation.wording import sentence
from advisor.interface.desk.advisor_choice import advisor_for
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.progress import progress
from advisor.interface.desk.prompting import Left, Prompter, can_ask
from advisor.interface.desk.showing import page_text
from advisor.interface.desk.teach_topic import demo_faults, topic_of
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.whole_file import write_whole
from advisor.rendering.markdown import markdown_of
from advisor.version import __version__

_ENDINGS = (".md", ".html")


def run_teach(options: argparse.Namespace) -> int:
    """Play, print or write one topic; without one, list what there is. Exit 0, or 2 on a fault.

    Raises:
        InputFault: no such topic, or a file that cannot be written.
    """
    _refuse_other_endings(options)
    knowledge = load_knowledge()
    word = options.topic
    if word is None:
        word = _chosen(options, knowledge)
        if word is None:
            return 0
    with progress("advisor: working out the lesson"):
        examiner = advisor_for("auto").examiner
        course = _course(word, knowledge, examiner, options.region)
    if options.json:
        from advisor.rendering.documents.lesson import lesson_document

        write_document(lesson_document(course, hide_answers=options.hide_answers))
        return 0
    if options.out is None and options.key is None:
        _show(course, examiner, hide_answers=options.hide_answers)
        return 0
    if options.out is not None:
        write_whole(Path(options.out), _written(course, options))
    if options.key is not None:
        write_whole(Path(options.key), markdown_of(key_of(course)))
    return 0


def _refuse_other_endings(options: argparse.Namespace) -> None:
    if options.out is not None and Path(options.out).suffix.lower() not in _ENDINGS:
        raise InputFault(f"advisor: {options.out}: a lesson ends in .md or .html; name the file so")
    if options.key is not None and Path(options.key).suffix.lower() != ".md":
        raise InputFault(f"advisor: {options.key}: a key ends in .md; name the file so")


def _sheet(course: Course, *, hide_answers: bool) -> Page:
    """The lesson, or its handout."""
    return handout_of(course) if hide_answers else lesson_of(course)


def _written(course: Course, options: argparse.Namespace) -> str:
    """The lesson, or its handout, in the form that the file's ending asks for."""
    blocks = _sheet(course, hide_answers=options.hide_answers)
    if Path(options.out).suffix.lower() == ".html":
        from advisor.rendering.html import html_page

        return html_page(course.topic.title, blocks, (f"Made by dough-advisor {__version__}.",))
    return markdown_of(blocks)


def _course(word: str, knowledge: Knowledge, examiner: Examiner, region: str) -> Course:
    topic = topic_of(word, knowledge, examiner, region)
    try:
        return course_of(topic, examiner)
    except LessonFault as fault:
        raise InputFault(f"advisor: this lesson no longer fits what the engine finds: {fault}") from None


def _show(course: Course, examiner: Examiner, *, hide_answers: bool) -> None:
    if not can_ask():
        write_page(page_text(_sheet(course, hide_answers=hide_answers)))
        return
    from advisor.interface.teach.teach_lecture import Lecture
    from advisor.interface.teach.teach_screen import play

    play(Lecture(course, examiner, hide_answers=hide_answers))


def _chosen(options: argparse.Namespace, knowledge: Knowledge) -> str | None:
    """Ask at a terminal which topic it is to be; elsewhere list the topics, which is the answer."""
    if options.out is not None or options.key is not None:
        raise InputFault("advisor: name a topic to write down; 'advisor teach' alone lists them")
    if options.json:
        from advisor.rendering.documents.lesson import LessonNameShape, LessonsDocument

        names = tuple(LessonNameShape(id=x.id, title=x.title) for x in knowledge.lessons.values())
        write_document(LessonsDocument(lessons=names, formulas=tuple(demo_faults(knowledge))))
        return None
    if not can_ask():
        write_page(topics_text(knowledge))
        return None
    prompter = Prompter()
    prompter.say(topics_text(knowledge))
    try:
        said = prompter.line(
            "Which? ", words=[*knowledge.lessons, *demo_faults(knowledge), *knowledge.causes]
        )
    except Left:
        return None
    return said or None


def topics_text(knowledge: Knowledge) -> str:
    """What can be taught: lessons, formulas with a fault, and that every name of the cause graph is a topic."""
    lessons = (Item(label=f"{one.id}:", runs=sentence(f"{one.title}.")) for one in knowledge.lessons.values())
    faults = (
        Item(label=f"{name}:", runs=(f"{knowledge.causes[cause].name.lower()}.",))
        for name, cause in demo_faults(knowledge).items()
    )
    own = (
        "Or a formula of your own (a file, or - for standard input), or the name of a symptom, cause or mechanism, "
        "such as gummy_centre, excess_water or soft_walls."
    )
    more = Row(left=(own,), right=())
    return page_text(
        (Heading(text="Lessons"), *lessons, Heading(text="Formulas with a fault"), *faults, more)
    )
