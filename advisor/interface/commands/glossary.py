"""`advisor glossary`: what a word of the trade means, in one or two plain sentences."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from advisor import load_knowledge
from advisor.explanation.blocks import Block, Heading, Paragraph
from advisor.explanation.wording import sentence
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.showing import page_text
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.terms import Term, look_up, nearest_terms, terms_of

_GRADES = {
    "practice": "Common practice, no source",
    "memory": "From memory, to be confirmed",
    "calibrated": "Chosen here so that known formulas come right",
    "demo": "Invented",
}


def run_glossary(options: argparse.Namespace) -> int:
    """Print one term, or all of them where no word is given; exit 1 where no term has that word."""
    knowledge = load_knowledge()
    wanted = " ".join(options.word).strip()
    entries = terms_of(knowledge)
    found = look_up(wanted, entries) if wanted else entries
    near = () if found else nearest_terms(wanted, entries)
    if options.json:
        from advisor.rendering.documents.known import glossary_document

        write_document(glossary_document(found, near, knowledge))
    else:
        write_page(page_text(tuple(_page(found, knowledge) if found else _none(wanted, near))))
    return 0 if found else 1


def _page(found: tuple[Term, ...], knowledge: Knowledge) -> Iterator[Block]:
    for entry in found:
        yield Heading(text=entry.word, level=3)
        yield Paragraph(runs=sentence(entry.says))
        if entry.also:
            yield Paragraph(runs=(f"Also: {', '.join(entry.also)}.",))
        for key in entry.sources:
            yield Paragraph(runs=(f"Source: {knowledge.sources[key].cites}",))
        if entry.unit is not None:
            unit = "" if entry.unit == "-" else f", in {entry.unit}"
            yield Paragraph(runs=(f"Worked out from the formula{unit}.",))
        elif entry.grade in _GRADES:
            yield Paragraph(runs=(f"{_GRADES[entry.grade]}.",))


def _none(wanted: str, near: tuple[str, ...]) -> Iterator[Block]:
    hint = f"Did you mean {' or '.join(near)}?" if near else "'advisor glossary' lists every term."
    yield Paragraph(runs=(f"No term '{shown(wanted)}'. {hint}",))
