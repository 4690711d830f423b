"""Bakes that teach most of a kitchen, and what their results teach."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from advisor.api.results import Shown, as_result
from advisor.api.shared import as_formula, load_knowledge
from advisor.explanation.bake_plan import BakePlanAnswer, learnt_answer, plan_answer, plan_blocks
from advisor.explanation.bake_results import results_in

if TYPE_CHECKING:
    from advisor.explanation.blocks import Block
    from advisor.formula.formula import Formula
    from advisor.rendering.documents.shape import Document


class BakePlanResult(Shown, BakePlanAnswer):
    """What `plan_bakes` and `learn_bakes` give."""

    __slots__ = ()

    def _said(self) -> str:
        bakes = "; ".join(bake.says for bake in self.bakes)
        learnt = "; ".join(f"{one.id} {one.value:.2f}" for one in self.learnt)
        return f"bakes of {self.name[:60]}: {bakes or learnt}"

    def _document(self) -> Document:
        from advisor.rendering.documents.bake_plan import BakePlanDocument

        return BakePlanDocument(plan=self)

    def _blocks(self) -> Sequence[Block]:
        return tuple(plan_blocks(self))


def plan_bakes(
    formula: Formula | str, *, most: int = 4, doubts: Sequence[str] = (), targets: Sequence[str] = ()
) -> BakePlanResult:
    """Plan one to four bakes that teach most of this kitchen; `doubts` are causes or constants of the kitchen.

    `targets` are what is to be foretold best: "core", "loss", "volume".

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
        advisor.formula_design.bake_plan.PlanFault: no bake can be followed, or a doubt or a target is not known.
    """
    found = plan_answer(as_formula(formula), load_knowledge(), most=most, doubts=doubts, targets=targets)
    return as_result(BakePlanResult, found)


def learn_bakes(formula: Formula | str, table: str, *, doubts: Sequence[str] = ()) -> BakePlanResult:
    """Say what the filled table (CSV, as `plan-bakes --out` writes it) teaches of this kitchen, with intervals.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
        advisor.formula_design.bake_plan.PlanFault: the table cannot be read, or holds no measurement.
    """
    read, knowledge = as_formula(formula), load_knowledge()
    found = learnt_answer(read, knowledge, results_in(table, read, knowledge), doubts=doubts)
    return as_result(BakePlanResult, found)
