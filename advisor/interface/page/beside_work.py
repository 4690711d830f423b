"""What stands beside each other: a formula as it is and as it was, and two loaves that have nothing in common."""

from __future__ import annotations

from advisor import load_knowledge
from advisor.diagnosis.pipeline import Examination
from advisor.explanation.answering import answer_of
from advisor.explanation.comparison import ComparisonBlocks
from advisor.explanation.two_loaves import OneLoaf, two_loaves_blocks
from advisor.formula.files import formula_from_file
from advisor.formula.formula import Formula
from advisor.interface.page.asked import Asked, Json
from advisor.interface.page.asked_formula import advisor_here, formula_asked
from advisor.interface.page.bake_work import headline, picture
from advisor.interface.page.own_lesson import OWN
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.models.loaf.timeline import timeline
from advisor.remedy.comparing import compare, differences
from advisor.rendering.html import Html, PageStyle, html_part, text
from advisor.rendering.pictures.bars import water_picture
from advisor.rendering.pictures.timeline import timeline_picture


def compared(asked: Asked) -> Json:
    """Lay the formula as it stands beside how it was."""
    advisor, knowledge = advisor_here(), load_knowledge()
    after = formula_asked(asked)
    before = formula_asked(Asked({"text": asked.text("was"), "region": asked.text("region", "us", 20)}))
    found = compare(advisor.examiner, before, after)
    says, names = ComparisonBlocks(knowledge), ("as it was", "as it is now")
    blocks = tuple(says.of(found, [change for change, _ in differences(before, after)], names))
    sides = zip(names, (found.before, found.after), ("was-", "now-"), strict=True)
    lines = "".join(
        f"<div>{_head(n.capitalize())}{_clock(n.capitalize(), one, p)}</div>" for n, one, p in sides
    )
    return {
        "comparison": f"{html_part(blocks, PageStyle(prefix='compare-'))}<div class='beside'>{lines}</div>"
    }


def two_loaves(asked: Asked) -> Json:
    """Lay two loaves beside each other, each with its verdict, its time axis and its water.

    Raises:
        FormulaFault: the formula that is written cannot be read.
        InputFault: twice the same, or a name that is no demo formula.
    """
    advisor, knowledge = advisor_here(), load_knowledge()
    names = (asked.text("left", OWN, 100), asked.text("right", OWN, 100))
    if names[0] == names[1]:
        raise InputFault("choose two loaves that are not the same")
    loaves: list[OneLoaf] = []
    sides: list[Html] = []
    for name, prefix in zip(names, ("left-", "right-"), strict=True):
        formula = _chosen(name, asked)
        found = advisor.look(formula)
        answer = answer_of(found, knowledge)
        called = shown(answer.name, 60)
        if loaves and loaves[0].called == called:
            called = f"{called}, the second"
        one = OneLoaf(called=called, found=found.examination, answer=answer)
        loaves.append(one)
        water = picture(water_picture(one.found, knowledge), prefix, called)
        sides.append(
            f"<div>{_head(called)}{headline(answer)}{_clock(called, one.found, prefix)}{water}</div>"
        )
    tables = html_part(tuple(two_loaves_blocks(loaves[0], loaves[1], knowledge)), PageStyle(prefix="two-"))
    return {
        "beside": f"<div class='beside'>{''.join(sides)}</div>{tables}",
        "said": f"{loaves[0].called} beside {loaves[1].called}.",
    }


def _chosen(name: str, asked: Asked) -> Formula:
    if name == OWN:
        return formula_asked(asked)
    if (path := load_knowledge().formulas.get(name)) is None:
        raise InputFault("there is no demo formula of that name")
    return formula_from_file(path, load_knowledge())


def _head(name: str) -> Html:
    return f"<h3>{text(name)}</h3>"


def _clock(name: str, found: Examination, prefix: str) -> Html:
    """The time axis of one of two formulas."""
    line = timeline(found.workings, load_knowledge())
    return picture(timeline_picture(line, name), prefix)
