"""The report as blocks: the whole page of the answer, with proofs, pictures, the formula and the sources."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.explanation.answer import Answer
from advisor.explanation.bake_plan import fill_in_block, plan_answer, plan_blocks
from advisor.explanation.blocks import (
    Block,
    Emphasis,
    Figure,
    Heading,
    Item,
    Page,
    Paragraph,
    Quantity,
    Row,
    Table,
)
from advisor.explanation.causes import named_causes
from advisor.explanation.designing.improve_page import aim_said, improve_item
from advisor.explanation.designing.tolerance_page import tolerance_page
from advisor.explanation.label import label_answer
from advisor.explanation.label_page import label_part
from advisor.explanation.page import report_first, rest_of
from advisor.explanation.proofs import proof_item
from advisor.explanation.thresholds import Thresholds
from advisor.explanation.wording import sentence
from advisor.formula.formula import Formula
from advisor.formula_design.aims import AIMS, Aim
from advisor.formula_design.bake_plan import MOST_BAKES, PlanFault
from advisor.formula_design.fence import fence_of
from advisor.formula_design.improving import improved
from advisor.formula_design.tolerance import ToleranceAnswer, tolerance_of
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Assessment
from advisor.remedy.constraints import Constraints

PARTS = {
    "tolerance": "How far each line may go",
    "improve": "What could be better",
    "plan": "Bakes to make",
}
"""Parts that are written where they are asked for, since each takes seconds, with their headings."""
TIMELINE = "timeline"
"""The picture that stands where the page has its time axis."""
GRADES = (
    "Rules, links and figures carry a grade: published (a work named here), practice (a fact of the trade without a "
    "source), memory (to be confirmed), calibrated (chosen so that known formulas come out right), demo."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedPart:
    """A part that was asked for: its name in `PARTS`, its blocks, and what its picture is drawn of."""

    name: str
    blocks: tuple[Block, ...]
    tolerance: ToleranceAnswer | None = None


def parts_named(names: Sequence[str]) -> tuple[str, ...]:
    """Give the parts that some words name, with commas between, in the order of the report.

    Raises:
        InputFault: there is no part of that name.
    """
    said = [one.strip().lower() for name in names for one in name.split(",") if one.strip()]
    if unknown := [one for one in said if one not in PARTS]:
        raise InputFault(f"advisor: --with '{unknown[0][:40]}': there are: {', '.join(PARTS)}")
    return tuple(name for name in PARTS if name in said)


def asked_part(name: str, formula: Formula, examiner: Examiner, limits: Constraints) -> AskedPart:
    """Work out one of the `PARTS`, which takes seconds."""
    knowledge = examiner.knowledge
    tolerance = tolerance_of(examiner, formula) if name == "tolerance" else None
    blocks: list[Block]
    if tolerance is not None:
        blocks = list(tolerance_page(tolerance, knowledge))
    elif name == "improve":
        blocks = [_aim_item(aim, formula, examiner, limits) for aim in AIMS.values()]
    else:
        try:
            plan = plan_answer(formula, knowledge, most=MOST_BAKES)
            blocks = [*plan_blocks(plan, typed=False), fill_in_block(plan)]
        except PlanFault as fault:
            blocks = [Paragraph(runs=sentence(f"{fault}."))]
    inner = (replace(b, level=3) if isinstance(b, Heading) else b for b in blocks if not isinstance(b, Row))
    return AskedPart(name=name, blocks=(Heading(text=PARTS[name], ident=name), *inner), tolerance=tolerance)


def _aim_item(aim: Aim, formula: Formula, examiner: Examiner, limits: Constraints) -> Item:
    try:
        found = improved(examiner, formula, aim, fence_of(formula, (), None, limits, examiner))
    except InputFault as fault:  # an aim that this formula has no number for, such as a price
        why = str(fault).removeprefix(f"advisor: --aim {aim.id}: ")
        return Item(label="-", runs=sentence(f"{aim_said(aim).capitalize()}: {why}."))
    return improve_item(found, examiner.knowledge)


def report_of(
    answer: Answer,
    assessment: Assessment,
    knowledge: Knowledge,
    pictures: Sequence[Figure],
    asked: Sequence[AskedPart] = (),
) -> Page:
    """All blocks of the report, in its order; `asked` are the parts that are written only where they are wanted."""
    found = assessment.examination
    proofs = {
        cause.id: item
        for cause in answer.causes
        if (item := proof_item(cause.id, found, knowledge)) is not None
    }
    return (
        *report_first(answer, proofs),
        *rest_of(answer, "full", proofs),
        Heading(text="Pictures", ident="pictures"),
        *(figure for figure in pictures if figure.id != TIMELINE or answer.timeline is None),
        *(block for part in asked for block in part.blocks),
        *_formula(found),
        *label_part(label_answer(found.formula, knowledge)),
        *_sources(assessment, knowledge),
    )  # fmt: skip


def _formula(found: Examination) -> Iterator[Block]:
    """Every line with what it was taken to be."""
    total = found.formula.dough_g
    yield Heading(text="The formula", ident="formula")
    yield Table(
        caption="Ingredients",
        head=("as written", "taken to be", "weight", "of the dough", "how it was converted"),
        rows=tuple(
            (
                (Emphasis(meaning="name", runs=(line.text.strip()[:200] or line.ingredient.name,)),),
                (line.ingredient.name,),
                (Quantity(value=line.grams, unit="g"),),
                (f"{100 * line.grams / total:.1f} %",),
                (line.conversion[:200],),
            )
            for line in found.formula.lines
        ),
        figures=frozenset({2, 3}),
    )


def _sources(assessment: Assessment, knowledge: Knowledge) -> Iterator[Block]:
    """Works that the rules, links and cautions of this page rest on."""
    found = assessment.examination
    cited: dict[str, None] = {}
    for rank in named_causes(found, Thresholds.read(knowledge)):
        for rule in rank.rules:
            cited |= dict.fromkeys(knowledge.rules[rule].sources)
        steps = {pair for chain in rank.chains for pair in pairwise(chain)}
        for link in knowledge.links:
            if (link.start, link.to) in steps:
                cited |= dict.fromkeys(link.sources)
    for firing in found.inference.firings:
        cited |= dict.fromkeys(knowledge.rules[firing.rule].sources)
    for caution in assessment.cautions:
        cited |= dict.fromkeys(caution.sources)
    yield Heading(text="Sources", ident="sources")
    yield from (Item(label="-", runs=(f"{key}: {knowledge.sources[key].cites}",)) for key in sorted(cited))
    yield Paragraph(runs=(GRADES,))
