"""One self-contained page for a browser or a printer: everything that is known of a formula, with its pictures."""

from __future__ import annotations

from advisor.diagnosis.pipeline import Examiner
from advisor.explanation.wording import LIMITS
from advisor.models.loaf.timeline import timeline
from advisor.remedy.assessing import Assessment
from advisor.rendering.html import Html, name, page, paragraph, section, text
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
from advisor.rendering.report.report_causes import causes_html
from advisor.rendering.report.report_sections import (
    cautions_html,
    formula_html,
    granted_html,
    numbers_html,
    proposals_html,
    sources_html,
    summary_html,
)
from advisor.version import __version__

_CAPTIONS = {
    "causes": "Read from left to right: what is at fault, what it does at each stage, and what is seen in the end.",
    "timeline": "Gas that comes before the loaf has set lifts it; what comes after cannot.",
    "water": "Where the dashed line lies right of what the loaf keeps well, the crumb stays wet; left of it, dry.",
    "leavening": "What is given off in the bowl is lost to a dough that stands; what comes in the early oven lifts it.",
    "composition": "By mass balance from the ingredients.",
    "before-after": "What the first change of all does, worked out by looking at the changed formula anew.",
}


def pictures_of(answer: Assessment, examiner: Examiner) -> tuple[tuple[Scene, ...], Selection]:
    """All pictures of an answer, and the part of the cause graph that is drawn."""
    found, knowledge = answer.examination, examiner.knowledge
    chosen = selection_of(found, examiner)
    scenes = [graph_picture(chosen, knowledge)] if chosen.links else []
    line = timeline(found.workings, knowledge)
    if line.gas[-1] > 0 or any(line.set_share):
        scenes.append(timeline_picture(line))
    scenes += [
        water_picture(found, knowledge), leavening_picture(found, knowledge), composition_picture(found)
    ]  # fmt: skip
    if answer.plans.proposals:
        first = answer.plans.proposals[0]
        scenes.append(before_after_picture(first.risk, knowledge, first.says))
    return tuple(scenes), chosen


def report_page(answer: Assessment, examiner: Examiner, scenes: tuple[Scene, ...]) -> Html:
    """Write the page."""
    knowledge, found = examiner.knowledge, answer.examination
    sections = [
        ("summary", "What it comes down to", summary_html(answer, knowledge)),
        ("change", "What to change", proposals_html(answer, knowledge)),
        ("cautions", "Mind, and cautions", cautions_html(answer)),
        ("why", "Why", causes_html(answer, knowledge)),
        ("pictures", "Pictures", "\n".join(_figure(scene) for scene in scenes)),
        ("formula", "The formula", formula_html(found)),
        ("numbers", "Numbers", numbers_html(found, knowledge)),
        ("granted", "Taken for granted", granted_html(answer)),
        ("sources", "Sources", sources_html(answer, knowledge)),
    ]
    sections = [one for one in sections if one[2]]
    what = "before the bake" if answer.kind == "check" else "after the bake"
    banner = f"<h1>{name(found.formula.name)}</h1>\n{paragraph(text(f'Looked at {what}.'))}"
    foot = paragraph(text(LIMITS)) + "\n" + paragraph(text(f"Made by dough-advisor {__version__}."))
    return page(
        f"{found.formula.name}: report",
        banner,
        [(ident, heading) for ident, heading, _ in sections],
        [section(ident, heading, inner) for ident, heading, inner in sections],
        foot,
    )


def _figure(scene: Scene) -> Html:
    region = f'<div class="wide" role="region" tabindex="0" aria-label="{text(scene.title)}">'
    caption = f"<figcaption>{text(_CAPTIONS.get(scene.id, ''))}</figcaption>"
    return f"<figure>{region}\n{svg_text(scene)}\n</div>{caption}</figure>"
