"""`advisor check`: formulas before the bake, one or many."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

from advisor import default_advisor, load_knowledge
from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.interface.applying import applied
from advisor.interface.assessment_page import assessment_page
from advisor.interface.batch_sources import is_folder
from advisor.interface.formula_choice import InputFault, choose_formula
from advisor.interface.further import Further
from advisor.interface.json_form import Json, assessment_json
from advisor.interface.output import check_names, write_json, write_page
from advisor.interface.picture_file import refuse_other_endings
from advisor.interface.prompting import can_ask
from advisor.interface.record_learnt import in_this_kitchen
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.loaf.timeline import timeline
from advisor.remedy.assessing import Advisor, Assessment
from advisor.remedy.constraints import Constraints


def constraints_from(options: argparse.Namespace, knowledge: Knowledge) -> Constraints:
    """Read the limits of a command line.

    Raises:
        InputFault: an ingredient or allergen that is not known.
    """
    allergens = {a for i in knowledge.ingredients.values() for a in i.allergens}
    avoid = [name.lower().replace(" ", "_").replace("-", "_") for name in options.avoid]
    check_names(avoid, [*sorted(allergens), *knowledge.ingredients], "allergen or ingredient")
    on_hand = None
    if options.on_hand is not None:
        on_hand = frozenset(name.lower().replace(" ", "_").replace("-", "_") for name in options.on_hand)
        check_names(sorted(on_hand), knowledge.ingredients, "ingredient")
    return Constraints(net_carb_max=options.net_carb_max, avoid=frozenset(avoid), on_hand=on_hand)


def advisor_for(engine: str) -> Advisor:
    """Compile the knowledge for an engine.

    Raises:
        InputFault: that engine does not run on this Python.
    """
    # An engine is imported where it first runs, which is too late to say it in a line.
    if engine != "auto" and find_spec(engine) is None:
        raise InputFault(f"advisor: the engine '{engine}' does not run on this Python; leave out --engine")
    return default_advisor(engine)


def run_check(options: argparse.Namespace) -> int:
    """Check every formula named; exit 0 below the risk limit, 1 at or above it or past a limit, 2 on a fault.

    A formula that cannot be read does not keep the others from being checked.
    """
    knowledge = load_knowledge()
    limit = knowledge.coefficient("risk_limit") if options.risk is None else options.risk
    words = options.formulas or _from_terminal(options.region)
    if options.resume or options.summary or any(is_folder(word) for word in words):
        from advisor.interface.batch_command import run_batch

        return run_batch(words, options)
    if options.plot is not None:
        _refuse_plot(Path(options.plot), words)
    worst = 0
    documents: list[Json] = []
    for place, (_, found) in enumerate(_answers(words, options)):
        if isinstance(found, str):
            sys.stderr.write(found + "\n")
            worst = 2
            continue
        if (options.json or options.jsonl) and options.apply is None:
            documents.append(found[0])
            if options.jsonl:
                write_json(found[0], one_line=True)
        else:
            write_page(("\n" if place else "") + found[1])
        if worst != 2 and found[2] >= limit:
            worst = 1
    if options.json and not options.jsonl and documents:
        # One document in any case: a list where several formulas were asked about.
        write_json(documents[0] if len(words) == 1 else documents)
    return worst


def _refuse_plot(path: Path, words: list[str]) -> None:
    if len(words) > 1:
        raise InputFault("advisor: --plot draws one formula; name one, or leave --plot out")
    refuse_other_endings(path)


Answer = tuple[dict[str, Json], str, float]


def _from_terminal(region: str) -> list[str]:
    """Give the formula asked for at the terminal; without one, standard input."""
    if sys.stdin.isatty():
        if not can_ask():
            raise InputFault(
                "advisor: name a formula (a file, - or a demo formula), or run this in a terminal"
            )
        from advisor.interface.formula_prompt import ask_for_formula

        return [ask_for_formula(region)]
    return ["-"]


def _answers(words: list[str], options: argparse.Namespace) -> Iterator[tuple[str, Answer | str]]:
    # Formulas are read here, not by the workers: standard input is there once, for this process alone.
    read = [_read(word, options.region) for word in words]
    if options.jobs > 1 and len(words) > 1:
        from concurrent.futures import ProcessPoolExecutor
        from functools import partial

        with ProcessPoolExecutor(max_workers=options.jobs) as pool:
            yield from zip(words, pool.map(partial(_answer, options=options), read), strict=True)
        return
    for word, formula in zip(words, read, strict=True):
        yield word, _answer(formula, options)


def _read(word: str, region: str) -> Formula | str:
    try:
        return choose_formula(word, load_knowledge(), region)
    except (FormulaFault, InputFault) as fault:
        return str(fault)


def _answer(formula: Formula | str, options: argparse.Namespace) -> Answer | str:
    if isinstance(formula, str):
        return formula
    knowledge = load_knowledge()
    advisor = in_this_kitchen(advisor_for(options.engine), options)
    limits = constraints_from(options, knowledge)
    found = advisor.check(formula, limits)
    if options.apply is not None:
        return {}, applied(advisor, found, limits, options.apply), _worst(found)
    if options.plot is not None:
        from advisor.interface.timeline_plot import plot_timeline

        line = timeline(found.examination.workings, knowledge)
        plot_timeline(line, found.examination.formula.name, Path(options.plot))
    risk_limit = knowledge.coefficient("risk_limit") if options.risk is None else options.risk
    as_document = options.json or options.jsonl
    further = Further.of(
        advisor,
        found,
        limits,
        joint=options.all or as_document,
        slips=options.sensitivity and not as_document,
    )
    as_json = assessment_json(found, knowledge, further=further) if as_document else {}
    page = (
        ""
        if as_json
        else assessment_page(found, knowledge, risk_limit, all_of_it=options.all, further=further)
    )
    return as_json, page, _worst(found)


def _worst(found: Assessment) -> float:
    """The risk that decides the exit; a broken limit counts as certain."""
    return 1.0 if found.broken else found.worst_risk
