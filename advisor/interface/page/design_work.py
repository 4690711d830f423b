"""The view in which formulas are written: first ones, a better one, how far lines may go, which bakes teach most."""

from __future__ import annotations

from advisor import load_knowledge
from advisor.explanation.bake_plan import fill_in_block, plan_answer, plan_blocks, table_to_fill
from advisor.explanation.designing.improve_page import improve_page
from advisor.explanation.designing.start_page import start_page
from advisor.explanation.designing.tolerance_page import tolerance_page
from advisor.formula_design.aims import AIMS, aim_named
from advisor.formula_design.bake_plan import MOST_BAKES, PlanFault
from advisor.formula_design.fence import fence_of
from advisor.formula_design.improving import improved
from advisor.formula_design.request import request_of
from advisor.formula_design.starting import first_formulas
from advisor.formula_design.tolerance import tolerance_of
from advisor.interface.page.asked import Asked, Json
from advisor.interface.page.asked_formula import (
    REGIONS,
    advisor_here,
    formula_asked,
    limits_asked,
    report_asked,
)
from advisor.interface.page.bake_work import written_into
from advisor.knowledge_base.faults import InputFault
from advisor.rendering.html import Html, PageStyle, html_part, text
from advisor.rendering.pictures.svg import svg_text
from advisor.rendering.pictures.tolerance import tolerance_picture

_MOST_SLICES = 2000
_MOST_WORDS = 4000


def started(asked: Asked) -> Json:
    """First formulas from what is at hand, each to be taken into the field; or what stands in the way.

    Raises:
        InputFault: a kind, an ingredient or a pan that is not known, or nothing at hand.
    """
    knowledge, region = load_knowledge(), asked.choice("region", REGIONS)
    at_hand = _names(asked, "from")
    like = formula_asked(asked) if asked.yes("like") else None
    if not at_hand and like is None:
        raise InputFault("say what is at hand, such as: eggs, almond flour, psyllium")
    request = request_of(
        knowledge,
        kind=asked.text("kind", most=100) or None, made_from=at_hand, slices=asked.whole("slices", 1, _MOST_SLICES),
        pan=asked.text("pan", most=200).strip() or None, limits=limits_asked(asked), like=like, region=region,
    )  # fmt: skip
    answer = first_formulas(advisor_here().examiner, request, region=region)
    take = {
        f"formula-{n}": _button(f"data-take='{n - 1}'", "Take this one", one.formula.name)
        for n, one in enumerate(answer.formulas, 1)
    }
    return {
        "answer": html_part(
            start_page(answer, knowledge, typed=False), PageStyle(prefix="new-", beside=take)
        ),
        "cards": [one.card for one in answer.formulas],
        "said": f"Formulas found: {len(answer.formulas)}.",
    }


def bettered(asked: Asked) -> Json:
    """The formula made better towards an aim, to be written into the field.

    Raises:
        InputFault: an aim, a line to keep or a name that is not known, or an aim that this formula has no number for.
    """
    knowledge, examiner = load_knowledge(), advisor_here().examiner
    formula, aim = formula_asked(asked), aim_named(asked.choice("aim", tuple(AIMS)))
    share = asked.number("at_most", 0.1, 100.0)
    region = asked.choice("region", REGIONS)
    fence = fence_of(
        formula, _names(asked, "keep"), None if share is None else share / 100, limits_asked(asked), examiner,
        swap=_names(asked, "swap"), region=region,
    )  # fmt: skip
    answer = improved(examiner, formula, aim, fence, region=region)
    take = {"new-formula": _button("data-take='0'", "Write this into the formula", aim.says)}
    blocks = improve_page(answer, knowledge, typed=False)
    before = report_asked(asked).required()
    return {
        "answer": html_part(blocks, PageStyle(prefix="better-", beside=take)),
        "cards": [written_into(asked, before, answer.formula)] if answer.path else [],
        "said": f"Steps found: {len(answer.path)}.",
    }


def may_vary(asked: Asked) -> Json:
    """How far each line and value may go, with its picture."""
    knowledge = load_knowledge()
    answer = tolerance_of(advisor_here().examiner, formula_asked(asked))
    scene = tolerance_picture(answer)
    style = PageStyle(prefix="far-", pictures={scene.id: (svg_text(scene), scene.title)})
    return {"answer": html_part(tolerance_page(answer, knowledge), style), "said": "The answer is there."}


def bakes_that_teach(asked: Asked) -> Json:
    """The few bakes that teach most of this kitchen, and the table to fill in: for paper, and as a file.

    Raises:
        InputFault: no bake of this formula can be followed.
    """
    try:
        answer = plan_answer(
            formula_asked(asked), load_knowledge(), most=asked.whole("bakes", 1, MOST_BAKES) or MOST_BAKES
        )
    except PlanFault as fault:
        raise InputFault(str(fault)) from None
    return {
        "answer": html_part(tuple(plan_blocks(answer, typed=False)), PageStyle(prefix="plan-")),
        "table": html_part((fill_in_block(answer),)),
        "file": table_to_fill(answer),
        "name": "bakes-to-fill-in.csv",
        "said": f"Bakes to make: {len(answer.bakes)}.",
    }


def stopped(asked: Asked) -> Json:
    """Nothing: whatever is under way in the same place is dropped for it."""
    return None


def _names(asked: Asked, name: str) -> tuple[str, ...]:
    """Names as a baker lists them: with commas or a line each."""
    listed = asked.text(name, most=_MOST_WORDS).replace("\n", ",").split(",")
    return tuple(one.strip() for one in listed if one.strip())


def _button(data: str, label: str, of: str) -> Html:
    return f"<p><button type='button' class='go' {data} aria-label='{label}: {text(of, 100)}'>{label}</button></p>"
