"""One self-contained page for a browser or a printer: everything that is known of a formula, with its pictures."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.diagnosis.pipeline import Examiner
from advisor.explanation.answer import Answer
from advisor.explanation.blocks import Figure
from advisor.explanation.report import AskedPart, report_of
from advisor.explanation.wording import LIMITS
from advisor.models.loaf.timeline import timeline
from advisor.remedy.assessing import Assessment
from advisor.rendering.html import Html, PageStyle, html_page
from advisor.rendering.pictures.bars import (
    before_after_picture,
    composition_picture,
    leavening_picture,
    water_picture,
)
from advisor.rendering.pictures.graph import Selection, graph_picture, selection_of
from advisor.rendering.pictures.scene import Scene
from advisor.rendering.pictures.svg import svg_text
from advisor.rendering.pictures.timeline import timeline_picture
from advisor.rendering.pictures.tolerance import tolerance_picture
from advisor.version import __version__

_CAPTIONS = {
    "causes": "Read from left to right: what is at fault, what it does at each stage, and what is seen in the end.",
    "timeline": "Gas that comes before the loaf has set lifts it; what comes after cannot.",
    "water": "Where the dashed line lies right of what the loaf keeps well, the crumb stays wet; left of it, dry.",
    "leavening": "What is given off in the bowl is lost to a dough that stands; what comes in the early oven lifts it.",
    "composition": "By mass balance from the ingredients.",
    "before-after": "What the first change does: the changed formula, looked at afresh.",
}


def pictures_of(assessment: Assessment, examiner: Examiner) -> tuple[tuple[Scene, ...], Selection]:
    """All pictures of an answer, and the part of the cause graph that is drawn."""
    found, knowledge = assessment.examination, examiner.knowledge
    chosen = selection_of(found, examiner)
    scenes = [graph_picture(chosen, knowledge)] if chosen.links else []
    line = timeline(found.workings, knowledge)
    if line.gas[-1] > 0 or any(line.set_share):
        scenes.append(timeline_picture(line))
    scenes += [
        water_picture(found, knowledge), leavening_picture(found, knowledge), composition_picture(found)
    ]  # fmt: skip
    if assessment.plans.proposals:
        first = assessment.plans.proposals[0]
        scenes.append(before_after_picture(first.risk, knowledge, first.says))
    return tuple(scenes), chosen


def report_page(
    answer: Answer,
    assessment: Assessment,
    examiner: Examiner,
    scenes: tuple[Scene, ...],
    asked: Sequence[AskedPart] = (),
) -> Html:
    """Write the page; `asked` are the parts that are written only where they are wanted."""
    figures = tuple(Figure(id=scene.id, caption=_CAPTIONS.get(scene.id, "")) for scene in scenes)
    drawn = [tolerance_picture(part.tolerance) for part in asked if part.tolerance is not None]
    return html_page(
        f"{answer.name}: report",
        report_of(answer, assessment, examiner.knowledge, figures, asked),
        (f"{LIMITS} Made by dough-advisor {__version__}.",),
        PageStyle(pictures={scene.id: (svg_text(scene), scene.title) for scene in (*scenes, *drawn)}),
    )
