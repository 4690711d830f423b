"""`advisor start`: first formulas from what is at hand."""

from __future__ import annotations

import argparse

from advisor import load_knowledge
from advisor.formula_design.request import DesignLimits, request_of
from advisor.interface.desk.advisor_choice import advisor_for, constraints_from
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.showing import page_text, show_page
from advisor.knowledge_base.faults import InputFault


def run_design_start(options: argparse.Namespace) -> int:
    """Write first formulas; exit 0 where one is found that a check lets pass, else 1.

    Raises:
        InputFault: a kind, an ingredient or a pan that is not known, or a card that is not there.
    """
    from advisor.formula_design.starting import first_formulas

    knowledge = load_knowledge()
    like = choose_formula(options.like, knowledge, options.region) if options.like else None
    request = request_of(
        knowledge,
        kind=options.kind,
        made_from=options.made_from or (),
        slices=options.slices,
        pan=options.pan,
        limits=DesignLimits(
            net_carb_max=options.net_carb_max,
            protein_min=options.protein_min,
            cost_max=options.cost_max,
            avoid=constraints_from(options, knowledge).avoid,
        ),
        like=like,
        region=options.region,
    )
    answer = first_formulas(advisor_for(options.engine).examiner, request, region=options.region)
    passes = any(one.passes for one in answer.formulas)
    if options.card is not None:
        if not 1 <= options.card <= len(answer.formulas):
            raise InputFault(f"advisor: there is no card {options.card}; there are {len(answer.formulas)}")
        write_page(answer.formulas[options.card - 1].card)
    elif options.json:
        from advisor.rendering.documents.start import start_document

        write_document(start_document(answer, knowledge))
    else:
        from advisor.explanation.designing.start_page import start_page

        show_page(page_text(start_page(answer, knowledge)), pager=not options.no_pager)
    return 0 if passes else 1
