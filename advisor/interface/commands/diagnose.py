"""`advisor diagnose`: a loaf has failed; from what it showed to causes and changes."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor import load_knowledge
from advisor.diagnosis.asking import QuestionChooser
from advisor.explanation.answering import answer_of
from advisor.explanation.further import Further
from advisor.explanation.page import page_of
from advisor.interface.commands.check import depth_of, page_in_form
from advisor.interface.desk.advisor_choice import advisor_for, constraints_from
from advisor.interface.desk.applying import applied_page, refuse_save_alone
from advisor.interface.desk.bakers_answers import Told, told_by
from advisor.interface.desk.choosing import symptom_chooser, write_notes
from advisor.interface.desk.formula_choice import NO_FORMULA, choose_formula
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.prompting import can_ask
from advisor.interface.desk.record_learnt import in_this_kitchen
from advisor.interface.desk.showing import plain_text, show_page
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.whole_file import write_whole
from advisor.remedy.assessing import Advisor


def run_diagnose(options: argparse.Namespace) -> int:
    """Diagnose one baked loaf; exit 0 when answered, 2 on a fault.

    Raises:
        InputFault: no formula, no symptoms and no terminal to ask at; or names that are not known.
    """
    if options.save:
        refuse_save_alone(options)
    knowledge = load_knowledge()
    told = told_by(options.saw, options.not_seen, options.answers, knowledge, symptom_chooser(knowledge))
    write_notes(told.notes)
    limits = constraints_from(options, knowledge)
    if options.formula is None and told.loaf is None and not can_ask():
        raise InputFault(NO_FORMULA)
    if not (told.anything or told.remarks) and (options.formula == "-" or not can_ask()):
        raise InputFault(
            "advisor: say what the loaf showed with --saw (and --not), give --answers FILE, or run this in a terminal"
        )
    advisor = in_this_kitchen(advisor_for(options.engine), options)
    if not told.anything and can_ask() and options.formula != "-":
        from advisor.interface.interview.interview_session import run_interview

        return run_interview(options, advisor, limits)
    word = options.formula
    if word is None and told.loaf is not None:
        return _without_formula(options, told, advisor)
    if word is None:
        from advisor.interface.desk.formula_prompt import ask_for_formula

        word = ask_for_formula(options.region)
    formula = choose_formula(word, knowledge, options.region)
    found = advisor.diagnose(
        formula, saw=told.saw, not_seen=told.not_seen, answers=told.answers, constraints=limits
    )
    if options.apply is not None:
        write_page(applied_page(options, advisor, found, limits, word))
        return 0
    further = Further.of(advisor, found, limits, joint=options.all or options.json, sure=options.all)
    question = QuestionChooser(advisor.examiner).choose(found.examination, asked=len(told.answers))
    answer = answer_of(found, knowledge, further, question=question)
    if options.json:
        from advisor.rendering.documents.assessment import assessment_document

        write_document(assessment_document(found, knowledge, question, further))
    else:
        pager = not options.no_pager and options.format == "text"
        show_page(page_in_form(answer, options), pager=pager)
    _keep_transcript(options, plain_text(page_of(answer, depth_of(options))))
    if can_ask() and word != "-" and not options.json and options.format == "text":
        from advisor.interface.desk.kept_once import KeptOnce, offer_to_keep

        offer_to_keep(KeptOnce(formula, told, advisor, options.record))
    return 0


def _without_formula(options: argparse.Namespace, told: Told, advisor: Advisor) -> int:
    """Diagnose a loaf that was described in the file of answers."""
    from advisor.diagnosis.described_loaf import LoafExaminer
    from advisor.interface.interview.interview_loaf import loaf_document, loaf_lines

    if told.loaf is None or options.apply is not None:
        raise InputFault("advisor: --apply needs the formula")
    examiner = LoafExaminer(advisor.examiner, told.loaf)
    found = examiner.examine(examiner.loaf, saw=told.saw, not_seen=told.not_seen, answers=told.answers)
    page = "\n".join(loaf_lines(found, examiner)) + "\n"
    if options.json:
        write_document(
            loaf_document(found, examiner, QuestionChooser(examiner).choose(found, asked=len(told.answers)))
        )
    else:
        write_page(page)
    _keep_transcript(options, page)
    return 0


def _keep_transcript(options: argparse.Namespace, page: str) -> None:
    """Write what was answered to a file too; without an interview the answer is all that was said."""
    if options.transcript:
        write_whole(Path(options.transcript), page)
