"""`advisor symptoms`: every symptom, how to recognise it, and what it is also called."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from advisor import load_knowledge
from advisor.diagnosis.symptom_names import symptoms_meant
from advisor.interface.desk.output import write_document, write_page
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.graph_entries import Symptom
from advisor.rendering.text import Page


def run_symptoms(options: argparse.Namespace) -> int:
    """Print the symptoms that a word or a phrase may mean, or all of them; exit 1 where none fits."""
    knowledge = load_knowledge()
    wanted = " ".join(options.word).strip()
    found = symptoms_meant(wanted, knowledge) if wanted else tuple(knowledge.symptoms.values())
    if options.json:
        from advisor.rendering.documents.known import symptoms_document

        write_document(symptoms_document(found))
    else:
        write_page(_page(found) if found else _none(wanted))
    return 0 if found else 1


def _page(found: Sequence[Symptom]) -> str:
    page = Page()
    for symptom in found:
        page.blank()
        page.paragraph(f"{symptom.name} ({symptom.id})")
        page.paragraph(symptom.says, 2)
        page.paragraph(f"How to tell: {symptom.look}", 2, 4)
        if symptom.also:
            page.paragraph(f"Also called: {', '.join(symptom.also)}", 2, 4)
    page.blank()
    page.paragraph("Say it in your own words too: advisor diagnose FORMULA --saw 'it sank as it cooled'")
    return page.text()


def _none(wanted: str) -> str:
    page = Page()
    page.paragraph(f"No symptom fits '{shown(wanted)}'. 'advisor symptoms' lists them all.")
    return page.text()
