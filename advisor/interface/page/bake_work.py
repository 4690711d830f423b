"""The view before the bake: what an amount that is being moved does, and the answer with its changes once it rests."""

from __future__ import annotations

from advisor import load_knowledge
from advisor.explanation.answer import Answer, SaidChange, stands
from advisor.explanation.answering import answer_of
from advisor.explanation.blocks import Block, Emphasis, Heading, Paragraph, Runs
from advisor.explanation.further import Further
from advisor.explanation.page import page_of
from advisor.explanation.page_numbers import dough_blocks, dough_runs
from advisor.formula.formula import Formula
from advisor.formula.reports import ReadReport
from advisor.formula.writing.as_text import write_formula_text
from advisor.formula.writing.edited_text import with_changes
from advisor.formula.yaml_lines import is_yaml
from advisor.interface.desk.applying import applied
from advisor.interface.page.asked import Asked, Json
from advisor.interface.page.asked_formula import advisor_here, formula_asked, limits_asked, report_asked
from advisor.knowledge_base.faults import InputFault
from advisor.models.loaf.timeline import timeline
from advisor.remedy.assessing import Assessment
from advisor.rendering.baker_units import units_in_use
from advisor.rendering.html import Html, PageStyle, html_part, html_runs, text
from advisor.rendering.pictures.bands import bands_picture
from advisor.rendering.pictures.bars import water_picture
from advisor.rendering.pictures.risks import risks_picture
from advisor.rendering.pictures.scene import Scene
from advisor.rendering.pictures.svg import svg_text
from advisor.rendering.pictures.timeline import timeline_picture
from advisor.rendering.quantities import runs_text

_RISKS_SHOWN, _NUMBERS_SHOWN = 6, 12
_WRITE = "Write this into the formula"
ASK = "in the report"
"""Where a page of the browser has what its own view leaves out."""


def looked_at(asked: Asked) -> Json:
    """Give verdict, risks, numbers, water and time axis of a formula as it is moved; no change is looked for."""
    advisor, formula = advisor_here(), formula_asked(asked)
    assessment = advisor.look(formula, limits_asked(asked))
    answer = answer_of(assessment, advisor.knowledge)
    return _at_once(answer, assessment)


def _at_once(answer: Answer, assessment: Assessment, *, planned: bool = False) -> dict[str, Json]:
    knowledge, found = load_knowledge(), assessment.examination
    numbers = [n for n in answer.numbers if n.out][:_NUMBERS_SHOWN]
    numbers += [n for n in answer.numbers if not n.out][: _NUMBERS_SHOWN - len(numbers)]
    limit = knowledge.coefficient("risk_limit")
    reason = _parted(answer.verdict.problem)[1]
    if planned and answer.verdict.first:
        reason = (*reason, " ", *answer.verdict.first)
    line = timeline(found.workings, knowledge)
    moves = line.gas[-1] > 0 or any(line.set_share)
    return {
        "name": answer.name,
        "dough": html_runs(dough_runs(answer.dough)),
        "verdict": headline(answer),
        "reason": html_part((Paragraph(runs=reason),)) if reason else "",
        "slice": html_part((*dough_blocks(answer.dough), _allergens(answer))),
        "risks": picture(risks_picture(found, knowledge, _RISKS_SHOWN, limit)),
        "numbers": picture(bands_picture(numbers, units_in_use())),
        "water": picture(water_picture(found, knowledge)),
        "time": picture(timeline_picture(line)) if moves else "<p>Nothing rises and nothing sets.</p>",
        "said": runs_text(answer.verdict.problem, units_in_use()),
    }


def _parted(problem: Runs) -> tuple[Runs, Runs]:
    """What stays in sight while an amount is moved, and the rest: a verdict leads with what it stresses."""
    plain = next((n for n, run in enumerate(problem) if not isinstance(run, Emphasis) and run != " "), 0)
    return (problem[:plain], problem[plain:]) if plain else (problem, ())


def headline(answer: Answer) -> Html:
    """The verdict in its first words."""
    return html_part((Paragraph(runs=_parted(answer.verdict.problem)[0], meaning="verdict"),))


def _allergens(answer: Answer) -> Paragraph:
    held = ", ".join(answer.allergens) or "none that is known here"
    return Paragraph(runs=(Emphasis(meaning="caution", runs=(f"Contains {held}.",)),))


def picture(scene: Scene, prefix: str = "", of: str = "") -> Html:
    """A picture in a frame that can be slid sideways on a narrow screen; `of` tells it from others of its kind."""
    scene.id, name = f"{prefix}{scene.id}", f"{of}: {scene.title}" if of else scene.title
    return (
        f"<figure><div class='wide' role='region' tabindex='0' aria-label='{text(name)}'>{svg_text(scene)}</div>"
        "</figure>"
    )


def planned(asked: Asked) -> Json:
    """Give the whole answer before the bake, and the changes that can be made with a tap."""
    advisor, formula, limits = advisor_here(), formula_asked(asked), limits_asked(asked)
    assessment = advisor.check(formula, limits)
    further = Further.of(advisor, assessment, limits, joint=True)
    answer = answer_of(assessment, advisor.knowledge, further)
    return {
        **_at_once(answer, assessment, planned=True),
        "answer": html_part(_below_verdict(answer), answer_style("before-", answer, assessment)),
        "changes": taps(answer, assessment),
    }


def _below_verdict(answer: Answer) -> tuple[Block, ...]:
    """The page of an answer without its title and verdict, which stand above it."""
    blocks = page_of(answer, more="", ask=ASK)
    start = next((n for n, block in enumerate(blocks) if isinstance(block, Heading)), len(blocks))
    above = (b for b in blocks[:start] if isinstance(b, Paragraph) and b.meaning != "verdict")
    return (*above, *blocks[start:])


def answer_style(prefix: str, answer: Answer, assessment: Assessment) -> PageStyle:
    """An answer's page with a button beside each change that a formula can show."""
    beside = {
        f"change {change.number}": (
            f" <button type='button' class='beside-it' data-apply='{change.number}' "
            f"aria-label='{_WRITE}: {text(runs_text(change.in_short, units_in_use()))}'>{_WRITE}</button>"
        )
        for change in _writable(answer, assessment)
    }
    return PageStyle(prefix=prefix, beside=beside)


def _writable(answer: Answer, assessment: Assessment) -> tuple[SaidChange, ...]:
    """The changes that a formula can show; handling is done and not written."""
    before = assessment.examination.formula
    return tuple(change for change in answer.changes if change.proposal.formula != before)


def taps(answer: Answer, assessment: Assessment, *, rest: bool = False) -> Html:
    """The changes of an answer that a formula can show, each as a button; `rest`: what its page has no button for."""
    some = _writable(answer, assessment)
    out = [
        _tap(str(change.number), html_runs(change.in_short))
        for change in some
        if not (rest and (change.number == 1 or stands(change.shown, "usual")))
    ]
    if answer.together is not None and some:
        out.append(_tap("together", "the smallest changes together"))
    return "".join(out)


def _tap(which: str, label: Html) -> Html:
    number = f"{which}. " if which.isdigit() else ""
    return f"<li><button type='button' data-apply='{which}'>{number}{label}</button></li>"


def applied_change(asked: Asked) -> Json:
    """Give the text of the formula as it was moved, with one of its changes where one is named; its other words stay.

    Raises:
        InputFault: there is no such change, or the process cannot be written.
    """
    before, after = report_asked(asked).required(), formula_asked(asked)
    which = asked.text("change", most=20)
    if which:
        advisor, limits = advisor_here(), limits_asked(asked)
        if asked.yes("baked"):
            found = advisor.diagnose(
                after, saw=asked.words("saw"), not_seen=asked.words("not"), answers=asked.named("answers"),
                constraints=limits,
            )  # fmt: skip
        else:
            found = advisor.check(after, limits)
        after = applied(advisor, found, limits, which)

    return {"text": written_into(asked, before, after)}


def written_into(asked: Asked, before: Formula, after: Formula) -> str:
    """The text of the page with one formula in place of another: each change in its own line, its other words stay.

    Raises:
        InputFault: the process cannot be written.
    """

    def read(text: str) -> ReadReport:
        return report_asked(Asked({"text": text, "region": asked.text("region", "us", 20)}))

    text_now = asked.text("text")
    try:
        if is_yaml(text_now):
            return write_formula_text(after)
        return with_changes(text_now, before, after, read)
    except ValueError as error:
        raise InputFault(f"{error}; write that line anew") from None
