"""`advisor diagnose`: a loaf has failed; from what it showed to causes and changes."""

from __future__ import annotations

import argparse
import sys
from dataclasses import dataclass
from pathlib import Path

from advisor import load_knowledge
from advisor.interface.assessment_page import assessment_page
from advisor.interface.check_command import advisor_for, constraints_from
from advisor.interface.formula_choice import InputFault, choose_formula
from advisor.interface.json_form import assessment_json
from advisor.interface.output import check_names, write_json, write_page
from advisor.knowledge_base.faults import KnowledgeFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.strict_yaml import Plain, read_yaml


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What the baker saw, looked for in vain, and answered."""

    saw: tuple[str, ...]
    not_seen: tuple[str, ...]
    answers: dict[str, str]


def run_diagnose(options: argparse.Namespace) -> int:
    """Diagnose one baked formula; exit 0 when answered, 2 on a fault.

    Raises:
        InputFault: no formula, no symptoms and no terminal to ask at; or names that are not known.
    """
    knowledge = load_knowledge()
    word = options.formula
    if word is None:
        if not sys.stdin.isatty():
            raise InputFault("advisor: name a formula (a file, - or a demo formula) or run this in a terminal")
        from advisor.interface.formula_prompt import ask_for_formula

        word = ask_for_formula()
    formula = choose_formula(word, knowledge, options.region)
    told = _told(options, knowledge)
    if not told.saw and not told.not_seen and not told.answers:
        if not sys.stdin.isatty() or word == "-":
            raise InputFault("advisor: say what the loaf showed with --saw (and --not), or give --answers FILE")
        from advisor.interface.question_round import ask_symptoms

        told = ask_symptoms(knowledge)
    found = advisor_for(options.engine).diagnose(
        formula,
        saw=told.saw,
        not_seen=told.not_seen,
        answers=told.answers,
        constraints=constraints_from(options, knowledge),
    )
    if options.json:
        write_json(assessment_json(found, knowledge))
    else:
        limit = knowledge.coefficient("risk_limit")
        write_page(assessment_page(found, knowledge, limit, all_of_it=options.all))
    return 0


def _told(options: argparse.Namespace, knowledge: Knowledge) -> Told:
    saw, not_seen, answers = list(options.saw), list(options.not_seen), dict[str, str]()
    if options.answers:
        more_saw, more_not, answers = _answers_file(Path(options.answers))
        saw, not_seen = saw + more_saw, not_seen + more_not
    saw = [name.replace("-", "_") for name in saw]
    not_seen = [name.replace("-", "_") for name in not_seen]
    check_names([*saw, *not_seen], knowledge.symptoms, "symptom")
    check_names(answers, knowledge.questions, "question")
    for question, answer in answers.items():
        check_names([answer], knowledge.questions[question].answers, f"answer to '{question}'")
    if both := sorted(set(saw) & set(not_seen)):
        raise InputFault(f"advisor: '{both[0]}' is given as seen and as not seen; keep one")
    return Told(saw=tuple(dict.fromkeys(saw)), not_seen=tuple(dict.fromkeys(not_seen)), answers=answers)


def _answers_file(path: Path) -> tuple[list[str], list[str], dict[str, str]]:
    try:
        data = read_yaml(path, str(path)).data
    except KnowledgeFault as fault:
        raise InputFault(str(fault)) from None
    if not isinstance(data, dict) or set(data) - {"saw", "not", "answers"}:
        raise InputFault(f"{path}:1: expected the keys saw, not and answers; nothing else")
    answers = data.get("answers") or {}
    if not isinstance(answers, dict):
        raise InputFault(f"{path}:1: answers must be question: answer, a line each")
    return _names(path, data.get("saw")), _names(path, data.get("not")), {k: str(v) for k, v in answers.items()}


def _names(path: Path, value: Plain) -> list[str]:
    if value is None:
        return []
    if not isinstance(value, list) or not all(isinstance(v, str) for v in value):
        raise InputFault(f"{path}:1: saw and not must be lists of symptom names")
    return [str(v) for v in value]
