"""The view of the report: the essentials on one page, and the whole of it as one file."""

from __future__ import annotations

import re

from advisor import load_knowledge
from advisor.explanation.answer import Answer
from advisor.explanation.answering import answer_of
from advisor.explanation.essentials import essentials_of
from advisor.explanation.further import Further
from advisor.explanation.label import label_answer
from advisor.explanation.label_page import label_part
from advisor.explanation.report import asked_part, parts_named
from advisor.interface.page.asked import Asked, Json
from advisor.interface.page.asked_formula import advisor_here, formula_asked, limits_asked
from advisor.interface.page.bake_work import picture
from advisor.models.loaf.timeline import timeline
from advisor.remedy.assessing import Advisor, Assessment
from advisor.rendering.html import PageStyle, html_part
from advisor.rendering.pictures.timeline import timeline_picture
from advisor.rendering.report import pictures_of, report_page

_NO_NAME = re.compile(r"[^a-z0-9]+")


def _assessed(asked: Asked) -> tuple[Advisor, Assessment, Answer]:
    """The answer, after the bake where something was told of it, else before."""
    advisor, formula, limits = advisor_here(), formula_asked(asked), limits_asked(asked)
    saw, absent, answers = asked.words("saw"), asked.words("not"), asked.named("answers")
    if saw or absent or answers:
        found = advisor.diagnose(formula, saw=saw, not_seen=absent, answers=answers, constraints=limits)
    else:
        found = advisor.check(formula, limits)
    further = Further.of(advisor, found, limits, joint=True)
    return advisor, found, answer_of(found, advisor.knowledge, further)


def essentials(asked: Asked) -> Json:
    """What a baker pins to the wall (formula, verdict, first change, numbers, time axis), and beside it the label."""
    _, found, answer = _assessed(asked)
    line = timeline(found.examination.workings, load_knowledge())
    return {
        "name": answer.name,
        "essentials": html_part(
            tuple(essentials_of(answer, found.examination.formula)), PageStyle(prefix="report-")
        ),
        "label": html_part(
            tuple(label_part(label_answer(found.examination.formula, load_knowledge()))),
            PageStyle(prefix="as-"),
        ),
        "picture": picture(timeline_picture(line), "report-"),
    }


def whole_report(asked: Asked) -> Json:
    """The whole report as one file, with the parts that are wished, and the name that it is saved under.

    Raises:
        InputFault: there is no part of that name.
    """
    names = parts_named(asked.words("with"))
    advisor, found, answer = _assessed(asked)
    scenes, _ = pictures_of(found, advisor.examiner)
    limits, formula = limits_asked(asked), found.examination.formula
    parts = [asked_part(part, formula, advisor.examiner, limits) for part in names]
    name = _NO_NAME.sub("-", answer.name.lower()).strip("-")[:60] or "formula"
    return {
        "file": report_page(answer, found, advisor.examiner, scenes, parts),
        "name": f"{name}-report.html",
    }
