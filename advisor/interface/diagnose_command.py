"""`advisor diagnose`: a loaf has failed; from what it showed to causes and changes."""

from __future__ import annotations

import argparse
import shlex

from advisor import load_knowledge
from advisor.diagnosis.asking import QuestionChooser
from advisor.formula.formula import Formula
from advisor.interface.applying import applied
from advisor.interface.assessment_page import assessment_page
from advisor.interface.check_command import advisor_for, constraints_from
from advisor.interface.formula_choice import InputFault, choose_formula
from advisor.interface.further import Further
from advisor.interface.json_form import assessment_json
from advisor.interface.output import write_json, write_page
from advisor.interface.prompting import Prompter, can_ask
from advisor.interface.told import Told, told_by
from advisor.remedy.assessing import Advisor


def run_diagnose(options: argparse.Namespace) -> int:
    """Diagnose one baked formula; exit 0 when answered, 2 on a fault.

    Raises:
        InputFault: no formula, no symptoms and no terminal to ask at; or names that are not known.
    """
    knowledge = load_knowledge()
    told = told_by(options.saw, options.not_seen, options.answers, knowledge)
    limits = constraints_from(options, knowledge)
    word = options.formula
    if word is None:
        if not can_ask():
            raise InputFault(
                "advisor: name a formula (a file, - or a demo formula), or run this in a terminal"
            )
        from advisor.interface.formula_prompt import ask_for_formula

        word = ask_for_formula(options.region)
    formula = choose_formula(word, knowledge, options.region)
    advisor = advisor_for(options.engine)
    asked = not told.anything
    if asked:
        told = _asked(word, formula, advisor)
    found = advisor.diagnose(
        formula, saw=told.saw, not_seen=told.not_seen, answers=told.answers, constraints=limits
    )
    if options.apply is not None:
        write_page(applied(advisor, found, limits, options.apply))
        return 0
    further = Further.of(advisor, found, limits, joint=options.all or options.json)
    if options.json:
        question = QuestionChooser(advisor.examiner).choose(found.examination, asked=len(told.answers))
        write_json(assessment_json(found, knowledge, question, further))
    else:
        limit = knowledge.coefficient("risk_limit")
        write_page(assessment_page(found, knowledge, limit, all_of_it=options.all, further=further))
    if asked:
        _say_how_to_repeat(word, told)
    return 0


def _asked(word: str, formula: Formula, advisor: Advisor) -> Told:
    if word == "-" or not can_ask():
        raise InputFault(
            "advisor: say what the loaf showed with --saw (and --not), give --answers FILE, or run this in a terminal"
        )
    from advisor.interface.question_round import ask_about

    return ask_about(formula, advisor.examiner)


def _say_how_to_repeat(word: str, told: Told) -> None:
    """Keep the answers of a round, and say by which command they give the same result."""
    from advisor.interface.keeping import keep

    path = keep(told.as_file(), name="answers", suffix=".yaml")
    command = shlex.join(["advisor", "diagnose", word, "--answers", str(path)])
    Prompter().say(f"\nYour answers are kept. The same again, or after changing either file:\n  {command}")
