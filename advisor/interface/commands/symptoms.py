"""`advisor symptoms`: every symptom, how to recognise it, and what it is also called."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence

from advisor import load_knowledge
from advisor.diagnosis.symptom_names import symptoms_meant
from advisor.explanation.blocks import Block, Command, Heading, Paragraph, Row
from advisor.explanation.wording import sentence
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.showing import page_text
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.graph_entries import Symptom


def run_symptoms(options: argparse.Namespace) -> int:
    """Print the symptoms that a word or a phrase may mean, or all of them; exit 1 where none fits."""
    knowledge = load_knowledge()
    wanted = " ".join(options.word).strip()
    found = symptoms_meant(wanted, knowledge) if wanted else tuple(knowledge.symptoms.values())
    if options.json:
        from advisor.rendering.documents.known import symptoms_document

        write_document(symptoms_document(found))
    else:
        write_page(page_text(tuple(_page(found) if found else _none(wanted))))
    return 0 if found else 1


def _page(found: Sequence[Symptom]) -> Iterator[Block]:
    for symptom in found:
        yield Heading(text=f"{symptom.name} ({symptom.id})", level=3)
        yield Paragraph(runs=sentence(symptom.says))
        yield Paragraph(runs=sentence(f"How to tell: {symptom.look}"))
        if symptom.also:
            yield Paragraph(runs=(f"Also called: {', '.join(symptom.also)}.",))
    yield Row(left=("Say it in your own words too:",), right=())
    yield Command(text="advisor diagnose FORMULA --saw 'it sank as it cooled'")


def _none(wanted: str) -> Iterator[Block]:
    yield Paragraph(runs=(f"No symptom fits '{shown(wanted)}'. 'advisor symptoms' lists them all.",))
