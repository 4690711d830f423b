"""`advisor why`: the proof of a cause or a symptom for one formula and what its loaf showed."""

from __future__ import annotations

import argparse

from advisor import load_knowledge
from advisor.explanation.proofs import symptom_blocks, why_blocks, why_not_blocks
from advisor.interface.desk.advisor_choice import advisor_for
from advisor.interface.desk.asked_about import asked_about
from advisor.interface.desk.bakers_answers import told_by
from advisor.interface.desk.choosing import write_notes
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.showing import page_text


def run_why(options: argparse.Namespace) -> int:
    """Say why a cause is suspected or not, or where a symptom's risk comes from.

    Raises:
        InputFault: what is asked about is neither a cause nor a symptom.
    """
    knowledge = load_knowledge()
    kind, name = asked_about(" ".join(options.topic), knowledge)
    formula = choose_formula(options.formula, knowledge, options.region)
    told = told_by(options.saw, options.not_seen, options.answers, knowledge)
    write_notes(told.notes)
    found = advisor_for(options.engine).examiner.examine(
        formula, saw=told.saw, not_seen=told.not_seen, answers=told.answers, after_bake=told.anything
    )
    if options.json:
        from advisor.rendering.documents.proof import proof_document

        write_document(proof_document(found, knowledge, kind, name))
        return 0
    if kind == "symptom":
        blocks = symptom_blocks(found, knowledge, name)
    else:
        blocks = (*why_blocks(found, knowledge, name), *why_not_blocks(found, knowledge, name))
    write_page(page_text(blocks))
    return 0
