"""The view after the bake: what was seen, one question at a time, the answer, and the bake that is kept."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from advisor import default_advisor, load_knowledge
from advisor.diagnosis.asking import QuestionChooser, QuestionInWords
from advisor.diagnosis.symptom_names import plain, reader_of, words_of_symptoms
from advisor.explanation.answering import answer_of
from advisor.explanation.further import Further
from advisor.explanation.page import page_of
from advisor.formula.formula import Formula
from advisor.interface.desk.bake_keeping import Noted, as_kept, kept_already, kept_bake
from advisor.interface.desk.bakers_answers import Told
from advisor.interface.desk.own_places import record_path
from advisor.interface.desk.symptom_words import phrases_in, read_said
from advisor.interface.page.asked import Asked, Json
from advisor.interface.page.asked_formula import advisor_here, formula_asked, limits_asked
from advisor.interface.page.bake_work import ASK, answer_style, taps
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Advisor
from advisor.rendering.html import Html, html_part, text
from advisor.trial_record.bake import MEASURED, SCORES, CameOut, Scores
from advisor.trial_record.faults import BakeFault
from advisor.trial_record.record import open_record

_UNKNOWN = "I do not know"
_BETWEEN = re.compile(r"[.;!?]+(?:\s|$)|\n")
"""What parts one sentence of a baker's from the next."""


def heard(asked: Asked) -> Json:
    """Hear symptoms in a baker's own words, each sentence by itself: what is meant, and what one may mean.

    Raises:
        InputFault: a phrase that is empty or hides what it says.
    """
    knowledge, reader = load_knowledge(), reader_of(load_knowledge())
    phrase = asked.text("phrase", most=2000)
    sentences = [part for one in _BETWEEN.split(phrase) if (part := one.strip())] or [phrase]
    said = read_said(sentences, knowledge)
    known = words_of_symptoms(knowledge)
    offered = [
        (one, group)
        for one in phrases_in(sentences, known)
        if plain(one) not in known
        for group in reader.hear(one.replace("_", " ")).choices
        if not set(group) & set(said.saw)
    ]
    names = [knowledge.symptoms[s].name for s in said.saw]
    told = (
        f"Ticked: {', '.join(names)}." if names else "No fault is ticked by that; the list has all of them."
    )
    if offered:
        told = f"{told} Which of these is meant?" if names else "Which of these is meant?"
    return {
        "saw": list(said.saw),
        "offers": "".join(_offer(one, group, knowledge) for one, group in offered),
        "said": told,
    }


def _offer(phrase: str, group: Sequence[str], knowledge: Knowledge) -> Html:
    """What one sentence may mean, to be tapped."""
    taps = "".join(
        f"<button type='button' data-tick='{text(s)}'>{text(knowledge.symptoms[s].name)}</button>"
        for s in group
    )
    return f"<div class='choices' role='group' aria-label='{text(phrase, 100)}'><q>{text(phrase, 100)}</q> {taps}</div>"


def _told(asked: Asked) -> Told:
    """What was seen, looked for in vain and answered.

    Raises:
        InputFault: a symptom, question or answer that is not known, or a symptom both ways.
    """
    knowledge = load_knowledge()
    saw, absent, answers = asked.words("saw"), asked.words("not"), asked.named("answers")
    for symptom in (*saw, *absent):
        if symptom not in knowledge.symptoms:
            raise InputFault("a fault was named that is not known here; open the page anew")
    if set(saw) & set(absent):
        raise InputFault("a fault cannot be seen and not seen; tick it or answer no, not both")
    for question, answer in answers.items():
        if question not in knowledge.questions or answer not in knowledge.questions[question].answers:
            raise InputFault("a question was answered that is not known here; open the page anew")
    return Told(saw=saw, not_seen=absent, answers=answers)


@lru_cache(maxsize=2)
def _chooser(advisor: Advisor) -> QuestionChooser:
    return QuestionChooser(advisor.examiner)


def next_asked(asked: Asked) -> Json:
    """Choose the question that tells most, with how to look; none once no answer would change the advice."""
    told, advisor = _told(asked), advisor_here()
    found = advisor.examiner.examine(
        formula_asked(asked), saw=told.saw, not_seen=told.not_seen, answers=told.answers, after_bake=True
    )
    given = asked.words("given")
    question = _chooser(advisor).choose(found, skipped=given, asked=len(given))
    if question is None:
        return {"question": "", "id": "", "kind": "", "said": "No other question would change the advice."}
    return {
        "question": _question(question, len(given) + 1),
        "id": question.id,
        "kind": question.kind,
        "said": question.question,
    }


def _question(question: QuestionInWords, number: int) -> Html:
    answers = [*question.answers.items(), ("", _UNKNOWN)]
    buttons = "".join(
        f"<button type='button' data-answer='{text(answer)}'>{text(says.rstrip('.'))}</button>"
        for answer, says in answers
    )
    return (
        f"<h3 id='question-h' tabindex='-1'>{number}. {text(question.question)}</h3><p>{text(question.because)}</p>"
        f"<div class='choices' role='group' aria-labelledby='question-h'>{buttons}</div>"
    )


def diagnosed(asked: Asked) -> Json:
    """Give the answer after the bake, with what to do with this loaf.

    Raises:
        InputFault: nothing was told.
    """
    told, advisor, formula, limits = _told(asked), advisor_here(), formula_asked(asked), limits_asked(asked)
    if not told.anything:
        raise InputFault("tick what the loaf showed first")
    found = advisor.diagnose(
        formula, saw=told.saw, not_seen=told.not_seen, answers=told.answers, constraints=limits
    )
    further = Further.of(advisor, found, limits, joint=True)
    answer = answer_of(found, advisor.knowledge, further)
    followed = "".join(
        f"<option value='{text(c.proposal.lever)}'>{text(c.says)}</option>" for c in answer.changes
    )
    return {
        "answer": html_part(page_of(answer, more="", ask=ASK), answer_style("after-", answer, found)),
        "changes": taps(answer, found, rest=True),
        "followed": followed,
        "said": "The answer is there.",
    }


def kept(asked: Asked) -> Json:
    """Keep the bake in the record, with what was seen and marked; the same once, unless another one is meant.

    Raises:
        InputFault: what was noted cannot be, or the record cannot be written.
    """
    told, formula = _told(asked), formula_asked(asked)
    noted = _noted(asked, told)
    _refuse(noted, formula)
    with open_record(record_path(), to_write=True) as record:
        if not asked.yes("another") and (there := kept_already(record, noted, formula)) is not None:
            return {"said": f"It is kept already, as bake {there.number}."}
        bake = kept_bake(record, noted, formula, default_advisor().examiner)
    return {
        "said": f"Kept as bake {bake.number}: {shown(bake.formula, 60)}, {bake.baked_on.replace('T', ' ')}."
    }


def _noted(asked: Asked, told: Told) -> Noted:
    knowledge = load_knowledge()
    followed = asked.text("followed", most=100) or None
    if followed is not None and followed not in knowledge.levers:
        raise InputFault("the change that was followed is not known here")
    nothing_else = asked.yes("nothing_else")
    absent = tuple(s for s in knowledge.symptoms if s not in told.saw) if nothing_else else told.not_seen
    return Noted(
        saw=told.saw,
        not_seen=absent,
        nothing_else=nothing_else,
        scores=Scores(**{name: asked.whole(f"mark_{name}", 1, 5) for name in SCORES}),
        came_out=CameOut(**{name: asked.number(name, -1000, 1e6) for name in MEASURED}),
        followed=followed,
        after=asked.whole("after", 1, 10**9),
        date=asked.text("date", most=30) or None,
        notes=asked.text("notes", most=20_000) or None,
    )


def _refuse(noted: Noted, formula: Formula) -> None:
    """Refuse what cannot be before a record is made for it."""
    try:
        as_kept(noted, formula)
    except BakeFault as fault:
        raise InputFault(str(fault)) from None
