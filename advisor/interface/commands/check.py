"""`advisor check`: formulas before the bake, one or many."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from advisor import load_knowledge
from advisor.api.sources import holds_several, is_folder
from advisor.explanation.answer import Answer, Depth
from advisor.explanation.answering import answer_of
from advisor.explanation.further import Further
from advisor.explanation.page import document_of, page_of
from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.interface.desk.advisor_choice import advisor_for, constraints_from
from advisor.interface.desk.applying import applied_page, refuse_save_alone
from advisor.interface.desk.formula_choice import NO_FORMULA, choose_formula
from advisor.interface.desk.output import write_json, write_page
from advisor.interface.desk.prompting import can_ask
from advisor.interface.desk.record_learnt import in_this_kitchen
from advisor.interface.desk.showing import page_text, show_page
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.models.loaf.timeline import timeline
from advisor.remedy.assessing import Assessment, guesses_in
from advisor.rendering.picture_file import refuse_other_endings

if TYPE_CHECKING:
    from advisor.rendering.documents.writing import Json

MANY = ("csv", "junit")
"""Forms that hold one formula or many."""


def run_check(options: argparse.Namespace) -> int:
    """Check every formula named; exit 0 below the risk limit, 1 at or above it or past a limit, 2 on a fault.

    A formula that cannot be read does not keep the others from being checked.
    """
    knowledge = load_knowledge()
    if options.demos:
        from advisor.interface.commands.start import demos_page

        write_page(demos_page())
        return 0
    limit = knowledge.coefficient("risk_limit") if options.risk is None else options.risk
    words = options.formulas or _from_terminal(options.region)
    if options.format in MANY:
        from advisor.interface.batch.batch_rows import run_rows

        return run_rows(words, options)
    if options.resume or options.summary or any(is_folder(word) or holds_several(word) for word in words):
        from advisor.interface.batch.batch_run import run_batch

        return run_batch(words, options)
    if options.save:
        _refuse_save(options, words)
    if options.plot is not None:
        _refuse_plot(Path(options.plot), words)
    worst = 0
    documents: list[Json] = []
    for place, (_, found) in enumerate(_answers(words, options)):
        if isinstance(found, str):
            sys.stderr.write(found + "\n")
            worst = 2
            continue
        if options.jsonl and options.apply is None:
            write_json(found[0], one_line=True)
        elif options.json and options.apply is None:
            documents.append(found[0])
        else:
            alone = len(words) == 1 and not options.no_pager and options.format == "text"
            show_page(("\n" if place else "") + found[1], pager=alone)
        if worst != 2 and found[2] >= limit:
            worst = 1
    if documents:
        # One document in any case: a list where several formulas were asked about.
        write_json(documents[0] if len(words) == 1 else documents)
    return worst


def _refuse_plot(path: Path, words: list[str]) -> None:
    if len(words) > 1:
        raise InputFault("advisor: --plot draws one formula; name one, or leave --plot out")
    refuse_other_endings(path)


def _refuse_save(options: argparse.Namespace, words: list[str]) -> None:
    refuse_save_alone(options)
    if len(words) != 1:
        raise InputFault("advisor: --save writes one formula; name one")
    options.formulas = words


Found: TypeAlias = "tuple[dict[str, Json], str, float]"
"""The document, where one is wanted; the page; and the risk that decides the exit."""


def _from_terminal(region: str) -> list[str]:
    """Give the formula asked for at the terminal; without one, standard input."""
    if sys.stdin.isatty():
        if not can_ask():
            raise InputFault(NO_FORMULA)
        from advisor.interface.desk.formula_prompt import ask_for_formula

        return [ask_for_formula(region)]
    return ["-"]


def _answers(words: list[str], options: argparse.Namespace) -> Iterator[tuple[str, Found | str]]:
    # Formulas are read here, not by the workers: standard input is there once, for this process alone. One at a time,
    # since there may be thousands.
    read = (_read(word, options.region) for word in words)
    if options.jobs > 1 and len(words) > 1:
        from functools import partial

        from advisor.api.pool import in_order

        work = partial(_answer, options=options)
        yield from zip(words, in_order(work, read, options.jobs, _killed), strict=True)
        return
    for word, formula in zip(words, read, strict=True):
        yield word, _answer(formula, options)


def _read(word: str, region: str) -> Formula | str:
    try:
        return choose_formula(word, load_knowledge(), region)
    except (FormulaFault, InputFault) as fault:
        return str(fault)


def _answer(formula: Formula | str, options: argparse.Namespace) -> Found | str:
    if isinstance(formula, str):
        return formula
    knowledge = load_knowledge()
    advisor = in_this_kitchen(advisor_for(options.engine), options)
    limits = constraints_from(options, knowledge)
    found = advisor.check(formula, limits)
    if options.apply is not None:
        return (
            {},
            applied_page(options, advisor, found, limits, options.formulas[0]),
            _worst(found, options.strict),
        )
    if options.plot is not None:
        from advisor.rendering.pictures.plot import write_scene
        from advisor.rendering.pictures.timeline import timeline_picture

        line = timeline(found.examination.workings, knowledge)
        write_scene(timeline_picture(line, found.examination.formula.name), Path(options.plot))
    risk_limit = knowledge.coefficient("risk_limit") if options.risk is None else options.risk
    as_document = options.json or options.jsonl
    further = Further.of(
        advisor,
        found,
        limits,
        joint=options.all or as_document,
        slips=options.sensitivity,
        sure=options.all and not options.jsonl,
    )
    if as_document:
        return _document(found, further), "", _worst(found, options.strict)
    answer = answer_of(found, knowledge, further, risk_limit=risk_limit)
    return {}, page_in_form(answer, options), _worst(found, options.strict)


def depth_of(options: argparse.Namespace) -> Depth:
    """How much of the answer is asked for."""
    return "full" if options.all else "brief" if options.brief else "usual"


def page_in_form(answer: Answer, options: argparse.Namespace) -> str:
    """The page as text for where it is written, or as Markdown."""
    if options.format == "markdown":
        from advisor.rendering.markdown import markdown_of

        return markdown_of(document_of(answer, depth_of(options)))
    return page_text(page_of(answer, depth_of(options)))


def _killed(formula: Formula | str, died: BaseException) -> Found | str:
    name = formula if isinstance(formula, str) else formula.name
    return f"advisor: the process that checked '{shown(name)}' was ended from outside ({died})"


def _document(found: Assessment, further: Further) -> dict[str, Json]:
    from advisor.rendering.documents.assessment import assessment_document
    from advisor.rendering.documents.writing import plain

    return plain(assessment_document(found, load_knowledge(), further=further))


def _worst(found: Assessment, strict: bool) -> float:
    """The risk that decides the exit; with `--strict` nothing may have been guessed, and what was is said."""
    if not strict or not (guesses := guesses_in(found.examination)):
        return found.deciding_risk
    name = shown(found.examination.formula.name)
    sys.stderr.write("".join(f"{name}: {shown(one, 1000)}\n" for one in guesses))
    return 1.0
