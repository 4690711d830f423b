"""`advisor plan-bakes`: which few bakes teach most of this kitchen, and what their results teach."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor import load_knowledge
from advisor.explanation.bake_plan import learnt_answer, plan_answer, plan_blocks, table_to_fill
from advisor.formula_design.bake_plan import PlanFault
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.progress import progress
from advisor.interface.desk.showing import page_text
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.whole_file import write_whole

_MOST_BYTES = 100_000


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
                answer = learnt_answer(formula, knowledge, _text(options.results), doubts=doubts)
            else:
                answer = plan_answer(formula, knowledge, most=options.bakes, doubts=doubts)
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
