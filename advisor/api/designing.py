"""Formulas written, made better, and weighed for how far they may go."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from advisor.api.results import Shown, as_result
from advisor.api.shared import as_formula, default_advisor, load_knowledge
from advisor.formula_design.improving import ImproveAnswer
from advisor.formula_design.starting import StartAnswer
from advisor.formula_design.tolerance import ToleranceAnswer

if TYPE_CHECKING:
    from advisor.explanation.blocks import Block
    from advisor.formula.formula import Formula
    from advisor.rendering.documents.shape import Document


class StartResult(Shown, StartAnswer):
    """What `start_formulas` gives: the formulas, the best first, or what stops them."""

    __slots__ = ()

    def _said(self) -> str:
        names = "; ".join(one.formula.name for one in self.formulas)
        return f"start of {self.request.kind.name}: {names or 'no formula keeps what is asked'}"

    def _document(self) -> Document:
        from advisor.rendering.documents.start import start_document

        return start_document(self, load_knowledge())

    def _blocks(self) -> Sequence[Block]:
        from advisor.explanation.designing.start_page import start_page

        return start_page(self, load_knowledge())


def start_formulas(
    made_from: Iterable[str] | str = (),
    *,
    kind: str | None = None,
    slices: int | None = None,
    pan: str | None = None,
    net_carb_max: float | None = None,
    protein_min: float | None = None,
    cost_max: float | None = None,
    avoid: Iterable[str] | str = (),
    like: Formula | str | None = None,
    region: str = "us",
) -> StartResult:
    """Write first formulas from what is at hand, each another way of making the bread, or say what stops it.

    Args:
        made_from: names of ingredients; with an amount ("4 eggs") where there is no more of it.
        kind: the kind of bread ("tin loaf", "rolls", "pizza" ...).
        slices: slices of the loaf, or pieces.
        pan: as a process line says it ("23 x 10 x 10 cm").
        net_carb_max: net carbohydrate a slice, g.
        protein_min: protein a slice, g.
        cost_max: cost a slice, by the user's own prices.
        avoid: allergens and ingredients that must not be in it, by name.
        like: a formula, or its text, that it is to be as near to as the rest allows.
        region: whose cups and spoons amounts are in (us, metric, uk, au).

    Raises:
        advisor.knowledge_base.faults.InputFault: a kind, an ingredient or a pan that is not known.
        advisor.formula.faults.FormulaFault: a text of `like` that cannot be read.
    """
    from advisor.formula_design.request import request_of
    from advisor.formula_design.starting import first_formulas
    from advisor.remedy.avoided import avoided_in
    from advisor.remedy.constraints import Constraints

    avoided = avoided_in([avoid] if isinstance(avoid, str) else avoid, load_knowledge())
    request = request_of(
        load_knowledge(),
        kind=kind, made_from=[made_from] if isinstance(made_from, str) else made_from, slices=slices, pan=pan,
        limits=Constraints(
            net_carb_max=net_carb_max, protein_min=protein_min, cost_max=cost_max, avoid=avoided,
        ),
        like=None if like is None else as_formula(like), region=region,
    )  # fmt: skip
    return as_result(StartResult, first_formulas(default_advisor().examiner, request, region=region))


class ToleranceResult(Shown, ToleranceAnswer):
    """What `tolerance` gives: how far each line and value may go, the narrowest first."""

    __slots__ = ()

    def _said(self) -> str:
        tight = ", ".join(f"{t.what} {t.down.kept:.4g} to {t.up.kept:.4g} {t.unit}" for t in self.lines[:3])
        return f"tolerance of {self.formula.name[:60]}: {tight}"

    def _document(self) -> Document:
        from advisor.rendering.documents.tolerance import tolerance_document

        return tolerance_document(self)

    def _blocks(self) -> Sequence[Block]:
        from advisor.explanation.designing.tolerance_page import tolerance_page

        return tolerance_page(self, load_knowledge())


def tolerance(formula: Formula | str, *, risk: float | None = None) -> ToleranceResult:
    """Say how far each line [g] and value of the process [min, C] may go, alone, before a risk reaches the limit.

    `risk` is that limit, 0..1 (that of a check where it is left out). `formula` may be its text.

    Raises:
        advisor.formula.faults.FormulaFault: a text that cannot be read.
    """
    from advisor.formula_design.tolerance import tolerance_of

    return as_result(
        ToleranceResult, tolerance_of(default_advisor().examiner, as_formula(formula), risk=risk)
    )


class ImproveResult(Shown, ImproveAnswer):
    """What `improve` gives: the path, the new formula, and its price."""

    __slots__ = ()

    def _said(self) -> str:
        a, b = self.reached
        steps = "one step" if len(self.path) == 1 else f"{len(self.path)} steps"
        name = self.before.formula.name[:60]
        return f"improve of {name}, {self.aim.id}: {self.aim.says} {a:.3g} to {b:.3g} in {steps}"

    def _document(self) -> Document:
        from advisor.rendering.documents.improve import improve_document

        return improve_document(self, load_knowledge())

    def _blocks(self) -> Sequence[Block]:
        from advisor.explanation.designing.improve_page import improve_page

        return improve_page(self, load_knowledge())


def improve(
    formula: Formula | str,
    aim: str,
    *,
    keep: Iterable[str] | str = (),
    swap: Iterable[str] | str = (),
    at_most: float | None = None,
    net_carb_max: float | None = None,
    protein_min: float | None = None,
    cost_max: float | None = None,
) -> ImproveResult:
    """Make a formula better towards an aim, inside a fence, and say what it costs.

    Args:
        formula: a formula, or its text.
        aim: softer, taller, less-carbohydrate, more-protein, cheaper or safer.
        keep: names of lines and of steps of the process that stay.
        swap: names of what may take the place of something; without any nothing is exchanged.
        at_most: share (0..1) by which anything may change.
        net_carb_max: net carbohydrate a slice, g.
        protein_min: protein a slice, g.
        cost_max: cost a slice, by the user's own prices.

    Raises:
        advisor.knowledge_base.faults.InputFault: an aim or a line that is not known, or that has no number here.
        advisor.formula.faults.FormulaFault: a text that cannot be read.
    """
    from advisor.formula_design.aims import aim_named
    from advisor.formula_design.fence import fence_of
    from advisor.formula_design.improving import improved
    from advisor.remedy.constraints import Constraints

    read, examiner = as_formula(formula), default_advisor().examiner
    limits = Constraints(net_carb_max=net_carb_max, protein_min=protein_min, cost_max=cost_max)
    stays, comes = ([names] if isinstance(names, str) else names for names in (keep, swap))
    fence = fence_of(read, stays, at_most, limits, examiner, swap=comes)
    return as_result(ImproveResult, improved(examiner, read, aim_named(aim), fence))
