"""`advisor start`, `advisor tolerance`, `advisor improve`: formulas written, weighed and made better."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor import load_knowledge
from advisor.formula_design.request import request_of
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
        made_from=options.made_from or options.on_hand or (),
        slices=options.slices,
        pan=options.pan,
        limits=constraints_from(options, knowledge),
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


def run_tolerance(options: argparse.Namespace) -> int:
    """Say how far every line and value of a formula may go.

    Raises:
        InputFault: a picture with another ending.
        FormulaFault: the text is no formula.
    """
    from advisor.formula_design.tolerance import tolerance_of
    from advisor.rendering.picture_file import refuse_other_endings

    if options.plot is not None:
        refuse_other_endings(Path(options.plot))
    knowledge = load_knowledge()
    formula = choose_formula(options.formula, knowledge, options.region)
    answer = tolerance_of(advisor_for(options.engine).examiner, formula, risk=options.risk)
    if options.plot is not None:
        from advisor.rendering.pictures.plot import write_scene
        from advisor.rendering.pictures.tolerance import tolerance_picture

        write_scene(tolerance_picture(answer), Path(options.plot))
    if options.json:
        from advisor.rendering.documents.tolerance import tolerance_document

        write_document(tolerance_document(answer))
    else:
        from advisor.explanation.designing.tolerance_page import tolerance_page

        show_page(page_text(tolerance_page(answer, knowledge)), pager=not options.no_pager)
    return 0


def run_improve(options: argparse.Namespace) -> int:
    """Make a formula better towards an aim; exit 0 where a step is found, else 1.

    Raises:
        InputFault: an aim or a line to keep that is not known, or an aim that this formula has no number for.
        FormulaFault: the text is no formula.
    """
    from advisor.formula_design.aims import aim_named
    from advisor.formula_design.fence import fence_of
    from advisor.formula_design.improving import improved

    knowledge, examiner = load_knowledge(), advisor_for(options.engine).examiner
    formula = choose_formula(options.formula, knowledge, options.region)
    fence = fence_of(
        formula, options.keep, options.at_most, constraints_from(options, knowledge), examiner,
        swap=options.swap, region=options.region,
    )  # fmt: skip
    answer = improved(examiner, formula, aim_named(options.aim), fence, region=options.region)
    if options.apply:
        write_page(answer.card)
    elif options.json:
        from advisor.rendering.documents.improve import improve_document

        write_document(improve_document(answer, knowledge))
    else:
        from advisor.explanation.designing.improve_page import improve_page

        show_page(page_text(improve_page(answer, knowledge)), pager=not options.no_pager)
    return 0 if answer.path else 1
