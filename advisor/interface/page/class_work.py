"""The view of the class: a chain step by step, with what the assistant says kept back until it is asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor import default_advisor, load_knowledge
from advisor.explanation.blocks import Block, Item, Paragraph
from advisor.explanation.lesson.causes_apart import cause_cards, causes_of_fault, told_apart
from advisor.explanation.lesson.changed_course import changed_course
from advisor.explanation.lesson.lesson_blocks import handout_of, key_of, lesson_of, step_blocks
from advisor.explanation.lesson.teach_answers import LessonFault
from advisor.explanation.lesson.teach_course import course_of
from advisor.explanation.lesson.teach_steps import (
    LETTERS,
    ROWS,
    ChainLink,
    ClassQuestion,
    Course,
    Step,
    Topic,
)
from advisor.explanation.lesson.topics import formula_topic
from advisor.explanation.wording import percent, sentence
from advisor.interface.desk.teach_topic import known_topic
from advisor.interface.page.asked import Asked, Json
from advisor.interface.page.asked_formula import formula_asked
from advisor.interface.page.own_lesson import OWN, own_lesson
from advisor.knowledge_base.faults import InputFault
from advisor.remedy.change_fault import ChangeFault
from advisor.remedy.written_change import apply_changes
from advisor.rendering.html import Html, PageStyle, html_page, html_part, html_runs, text
from advisor.version import __version__

LESSON = "lesson"
"""What stands for the lesson that was sent along."""
_CAUSES_BESIDE = 6
_SHEETS = {"handout": handout_of, "key": key_of, "lesson": lesson_of}
_ARROWS = {True: "leads to", False: "no longer leads to"}


def _course(asked: Asked) -> Course:
    """Work the course of a topic out.

    Raises:
        InputFault: there is no such topic, or a lesson that no longer fits.
    """
    examiner, knowledge = default_advisor().examiner, load_knowledge()
    word = asked.text("topic", most=100)
    topic: Topic | None
    if word == LESSON:
        topic = own_lesson(asked)
    elif word == OWN:
        topic = formula_topic(formula_asked(asked), knowledge, examiner, word=word)
    else:
        topic = known_topic(word, knowledge, examiner)
    if topic is None:
        raise InputFault("there is no such lesson; choose one of the list")
    try:
        return course_of(topic, examiner)
    except LessonFault as fault:
        raise InputFault(f"this lesson does not fit what the assistant finds: {fault}") from None
    except ChangeFault as fault:
        raise InputFault(f"a question of this lesson changes what is not there: {fault}") from None


def course(asked: Asked) -> Json:
    """Give all steps of a topic, each with the part that the class sees first and the part that tells."""
    found = _course(asked)
    return {
        "title": found.topic.title,
        "chain": "".join(_links(found)),
        "steps": [_step(step, found) for step in found.steps],
        "changes": found.topic.formula is not None and bool(found.chain),
        "doubts": " ".join(_doubts(found)),
    }


def _doubts(found: Course) -> Iterator[str]:
    """Where a lesson holds another choice to be right than the assistant finds."""
    held = {q.ask: q.right for q in found.topic.lesson.questions} if found.topic.lesson is not None else {}
    questions = [step.asked for step in found.steps if step.asked is not None]
    for number, asked in enumerate(questions, 1):
        if (right := held.get(asked.ask)) is not None and right != LETTERS[asked.right]:
            finds = LETTERS[asked.right]
            yield f"Question {number}: the lesson holds {right} to be right; the assistant finds {finds}."


def _step(step: Step, found: Course) -> Json:
    keys = [link.key for link in found.chain]
    shown: Html
    if step.asked is not None:
        shown, told = _question(step.asked), html_part(tuple(_answer(step.asked)))
    else:
        shown, told = html_part(tuple(step_blocks(step, tell=False))), ""
    return {
        "stage": ROWS[step.row],
        "title": step.title.replace(" -> ", " → "),
        "shown": shown,
        "told": told,
        "tells": step.tells,
        "link": keys.index(step.link) if step.link in keys else -1,
    }


def _question(asked: ClassQuestion) -> Html:
    """The question, and for each choice how many hands went up."""
    choices = "".join(
        f"<li><span>{LETTERS[n]}) {html_runs(sentence(choice))}</span> <label class='hands'>hands <input type='number' "
        f"min='0' max='999' step='1' inputmode='numeric' aria-label='Hands for {LETTERS[n]}'></label></li>"
        for n, choice in enumerate(asked.choices)
    )
    return f"<p>{html_runs(sentence(asked.ask))}</p><ul class='votes'>{choices}</ul>"


def _answer(asked: ClassQuestion) -> Iterator[Block]:
    right = (f"{LETTERS[asked.right]}) ", *sentence(asked.choices[asked.right]))
    yield Paragraph(runs=right, meaning="verdict")
    yield Paragraph(runs=("The assistant: ", *sentence(asked.found), "."))
    yield Paragraph(runs=sentence(asked.because))


def _links(found: Course, chain: Iterable[ChainLink] | None = None) -> Iterator[Html]:
    """Each link under its stage; whether it is lit is said in words and by its line."""
    for number, link in enumerate(found.chain if chain is None else chain):
        lit = "lit" if link.lit else "out"
        yield (
            f"<li class='{lit}' data-link='{number}'><span class='stage'>{text(ROWS[link.row])}</span> "
            f"<span class='ends'>{text(found.names[link.start])} <em>{_ARROWS[link.lit]}</em> "
            f"{text(found.names[link.to].lower())}</span> <span class='carried'>{percent(link.carried)}</span></li>"
        )


def changed(asked: Asked) -> Json:
    """Lay the chain as it was beside the chain of the changed formula.

    Raises:
        InputFault: the topic has no formula, or the change does not fit it.
    """
    found = _course(asked)
    formula = found.topic.formula
    if formula is None:
        raise InputFault("there is no formula here to change")
    changes = [one.strip() for one in asked.text("changes", most=500).split(";") if one.strip()]
    if not changes:
        raise InputFault("write a change, such as: water -30 g")
    try:
        other = apply_changes(formula, changes, load_knowledge()).formula
    except ChangeFault as fault:
        raise InputFault(str(fault)) from None
    now = changed_course(found, other, default_advisor().examiner)
    sides = "".join(
        f"<div><h3>{title}</h3><ol class='chain'>{''.join(_links(found, one.chain))}</ol></div>"
        for title, one in (("As it was", found), (f"With: {text('; '.join(changes))}", now))
    )
    said = html_part(tuple(_what_it_did(found, now)))
    return {"beside": f"<div class='beside'>{sides}</div>{said}", "said": f"Changed: {'; '.join(changes)}."}


def _what_it_did(before: Course, now: Course) -> Iterator[Block]:
    if before.found is None or now.found is None:
        return
    symptom = before.topic.symptom
    if symptom is not None:
        a, b = (one.diagnosis.risks[symptom].risk for one in (before.found, now.found))
        yield Item(
            label="-",
            runs=(f"Risk of {before.names[symptom].lower()}: {percent(a)} before, {percent(b)} now.",),
        )
    first = now.found.diagnosis.causes[0]
    yield Item(
        label="-",
        runs=(f"Likeliest cause now: {now.names[first.id].lower()}, {percent(first.probability)}.",),
    )


def sheet(asked: Asked) -> Json:
    """A handout, its key or the whole lesson as a page of its own, to be printed.

    Raises:
        InputFault: no such topic or sheet.
    """
    what = asked.choice("sheet", tuple(_SHEETS))
    found = _course(asked)
    blocks = _SHEETS[what](found)
    title = f"{found.topic.title}: {what}"
    return {"html": html_page(title, blocks, (f"Made by dough-advisor {__version__}.",)), "title": title}


def causes_of(asked: Asked) -> Json:
    """One fault with its causes beside each other, and what tells each pair apart.

    Raises:
        InputFault: no such fault.
    """
    knowledge, graph = load_knowledge(), default_advisor().examiner.whole_graph
    symptom = asked.text("topic", most=100)
    if symptom not in knowledge.symptoms:
        raise InputFault("choose a fault of the list")
    causes = causes_of_fault(symptom, graph, _CAUSES_BESIDE)
    cards = "".join(f"<li>{html_part(card)}</li>" for card in cause_cards(symptom, causes, graph, knowledge))
    apart = html_part(tuple(told_apart(symptom, causes, graph, knowledge)), PageStyle(prefix="causes-"))
    return {
        "causes": f"<h2>{text(knowledge.symptoms[symptom].name)}</h2><ul class='cards'>{cards}</ul>{apart}"
    }
