"""`advisor plan-bakes`: which few bakes teach most of this kitchen, and what their results teach."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor import load_knowledge
from advisor.explanation.bake_plan import learnt_answer, plan_answer, plan_blocks, table_to_fill
from advisor.explanation.bake_results import kept_results, results_in
from advisor.formula.formula import Formula
from advisor.formula_design.bake_plan import PlanFault
from advisor.formula_design.kitchen import Seen
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.own_places import record_path
from advisor.interface.desk.progress import progress
from advisor.interface.desk.showing import page_text
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.whole_file import write_whole
from advisor.trial_record.faults import RecordFault
from advisor.trial_record.record import open_record

_MOST_BYTES = 100_000
_MOST_LOOKED_THROUGH = 200
"""Bakes of the record, the latest, among which measured ones are looked for."""


def run_plan_bakes(options: argparse.Namespace) -> int:
    """Plan, or learn from results.

    Raises:
        InputFault: no plan can be made, or the table cannot be read.
    """
    knowledge = load_knowledge()
    formula = choose_formula(options.formula, knowledge, options.region)
    doubts = [name.lower().replace(" ", "_").replace("-", "_") for name in options.doubt]
    try:
        with progress("advisor: baking in many kitchens"):
            if options.results is not None:
                results = results_in(_text(options.results), formula, knowledge)
                answer = learnt_answer(formula, knowledge, results, doubts=doubts)
            elif options.from_record:
                answer = learnt_answer(formula, knowledge, _kept(options, formula, knowledge), doubts=doubts)
            else:
                answer = plan_answer(
                    formula, knowledge, most=options.bakes, doubts=doubts, targets=options.target
                )
    except PlanFault as fault:
        where = f"{options.results}: " if options.results is not None else "advisor: "
        raise InputFault(f"{where}{fault}") from None
    if options.out is not None:
        write_whole(Path(options.out), table_to_fill(answer))
    if options.json:
        from advisor.rendering.documents.bake_plan import BakePlanDocument

        write_document(BakePlanDocument(plan=answer))
    else:
        write_page(page_text(tuple(plan_blocks(answer))))
    return 0


def _kept(options: argparse.Namespace, formula: Formula, knowledge: Knowledge) -> list[tuple[Formula, Seen]]:
    """What was measured on the bakes of the record, the latest first."""
    path = record_path(options.record)
    if not path.exists():
        raise InputFault(f"advisor: no bakes are kept yet; 'advisor record add' keeps one in {path}")
    try:
        with open_record(path, to_write=False) as record:
            bakes = record.latest(_MOST_LOOKED_THROUGH)
    except RecordFault as fault:
        raise InputFault(f"advisor: {fault}") from None
    if not (found := kept_results(bakes, formula, knowledge, options.region)):
        raise InputFault(
            "advisor: no kept bake has a core, a weight or a height; "
            "'advisor record add' takes --core, --weight and --height"
        )
    return found


def _text(word: str) -> str:
    try:
        path = Path(word)
        if not path.is_file():
            raise InputFault(f"advisor: {word}: no such file")
        with path.open("rb") as file:
            raw = file.read(_MOST_BYTES + 1)
        if len(raw) > _MOST_BYTES:
            raise InputFault(f"advisor: {word}: more than {_MOST_BYTES // 1000} kB is no table of four bakes")
        return raw.decode("utf-8-sig")
    except (OSError, ValueError) as error:
        raise InputFault(f"advisor: {word}: cannot be read: {error}") from None
