"""The report as blocks: the whole page of the answer, with proofs, pictures, the formula and the sources."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from advisor.diagnosis.pipeline import Examination
from advisor.explanation.answer import Answer
from advisor.explanation.blocks import (
    Block,
    Emphasis,
    Figure,
    Heading,
    Item,
    Page,
    Paragraph,
    Quantity,
    Table,
)
from advisor.explanation.causes import named_causes
from advisor.explanation.label import label_answer
from advisor.explanation.label_page import label_part
from advisor.explanation.page import report_first, rest_of
from advisor.explanation.proofs import proof_item
from advisor.explanation.thresholds import Thresholds
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.assessing import Assessment

TIMELINE = "timeline"
"""The picture that stands where the page has its time axis."""
GRADES = (
    "Rules, links and figures carry a grade: published (a work named here), practice (a fact of the trade without a "
    "source), memory (to be confirmed), calibrated (chosen so that known formulas come out right), demo."
)


def report_of(
    answer: Answer, assessment: Assessment, knowledge: Knowledge, pictures: Sequence[Figure]
) -> Page:
    """All blocks of the report, in its order."""
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
