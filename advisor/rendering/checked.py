"""One formula of many: its answer in short, and no formula that stops the others."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from advisor.diagnosis.kitchen_shifts import KitchenShifts
from advisor.diagnosis.pipeline import Examination
from advisor.explanation.causes import ordered_causes
from advisor.explanation.further import Further
from advisor.explanation.thresholds import Thresholds
from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.cost import cost_of
from advisor.remedy.assessing import Advisor, Assessment, guesses_in
from advisor.remedy.constraints import Constraints
from advisor.rendering.quantities import in_metric

_LONGEST_NAME = 1000
Exit = Literal[0, 1, 2, 3]
"""0 all risks below the limit, 1 not or past a limit, 2 cannot be read, 3 a fault of the program."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedOfMany:
    """What is asked of every formula of a batch; small, since it travels to every worker."""

    limits: Constraints
    risk_limit: float
    """Risk of a symptom (0..1) from which the answer is no."""
    region: str = "us"
    engine: str = "auto"
    documents: bool = False
    """Whether the whole answer is wanted as JSON, with its proposals; a formula then takes several times as long."""
    strict: bool = False
    """Whether a line that was not read, or a value that decides and was only assumed, is an answer of no."""
    shifts: KitchenShifts | None = None
    """What the kitchen's own bakes have taught."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What was found of one formula: a risk, or the problems that kept it from being read."""

    source: str
    """The formula as it is named in messages: a path, or what the caller calls it."""
    exit: Exit
    risk: float | None = None
    """The largest risk of a symptom (0..1); `None` where the formula could not be read."""
    symptom: str | None = None
    """The id of that symptom."""
    cause: str | None = None
    """The id of the most probable cause."""
    broken: bool = False
    """Whether a limit is broken, a number lies far past its band, or something that decides could not be judged."""
    no_all_clear: bool = False
    """Whether a number far out, or a part that decides and could not be judged, forbids an all-clear at any limit."""
    past: tuple[str, ...] = ()
    """Each limit that is broken, and each number far out, in a sentence."""
    guesses: tuple[str, ...] = ()
    """What was not read, what decides and is not stated, and what could not be judged; in words."""
    problems: tuple[str, ...] = ()
    """One line each, with line and column of the text where there is one."""
    figures: Mapping[str, float | None] = field(default_factory=dict)
    """Numbers of the dough and the loaf by name, each name ending in its unit; empty where it was not read."""
    document: str = ""
    """The answer as the JSON of `advisor check --json`, in one line; empty where it was not asked for."""


def exit_of(found: Checked, risk_limit: float, *, strict: bool = False) -> Exit:
    """Give the exit of what was found under a risk limit; `strict` lets nothing pass that was guessed."""
    if found.problems:
        return found.exit
    guessed = strict and bool(found.guesses)
    return 1 if found.broken or found.no_all_clear or guessed or (found.risk or 0.0) >= risk_limit else 0


def checked(
    source: str, read: Callable[[], Formula], advisor_of: Callable[[str], Advisor], asked: AskedOfMany
) -> Checked:
    """Check the formula that `read` gives; whatever is wrong with it stands in the result.

    Args:
        source: the formula as messages name it.
        read: reads it; may raise `FormulaFault`.
        advisor_of: gives the advisor of a rule engine by the engine's name.
        asked: what is asked of it.
    """
    try:
        advisor = advisor_of(asked.engine)
        return _answer(
            source, read(), advisor if asked.shifts is None else advisor.in_kitchen(asked.shifts), asked
        )
    except FormulaFault as fault:
        # Not the fault's own lines: they shorten a long path, and which file it is must be plain among many.
        where = shown(source, _LONGEST_NAME)
        said = tuple(f"{where}:{p.line}:{p.column}: {p.what}; {p.do}" for p in fault.problems)
        return Checked(source=source, exit=2, problems=said)
    except Exception as error:  # one formula that shows a fault of ours must not stop ten thousand others
        if os.environ.get("ADVISOR_TRACEBACK"):
            raise
        return Checked(source=source, exit=3, problems=(program_fault(source, error),))


def program_fault(source: str, error: BaseException) -> str:
    """Say in a line that the program failed, not the formula."""
    said = shown(f"{type(error).__name__}: {error}")
    return f"{shown(source, _LONGEST_NAME)}:1:1: this is a fault in the program, not in your formula ({said})"


def _answer(source: str, formula: Formula, advisor: Advisor, asked: AskedOfMany) -> Checked:
    document = ""
    if asked.documents:
        answer = advisor.check(formula, asked.limits)
        found, broken = answer.examination, answer.broken
        further = Further.of(advisor, answer, asked.limits, joint=True)
        document = _document(answer, advisor, further)
    else:
        found = advisor.examiner.examine(formula, after_bake=False)
        broken = asked.limits.broken_by(found)
    worst = max(found.diagnosis.risks.values(), key=lambda r: (r.risk, r.symptom))
    causes = ordered_causes(found, Thresholds.read(advisor.knowledge))
    result = Checked(
        source=source,
        exit=0,
        risk=worst.risk,
        symptom=worst.symptom,
        cause=causes[0].id if causes else None,
        broken=bool(broken),
        no_all_clear=found.no_all_clear,
        past=(*broken, *(_far(found, name, advisor.knowledge) for name in found.far_out)),
        guesses=guesses_in(found),
        figures=_figures(found),
        document=document,
    )
    return replace(result, exit=exit_of(result, asked.risk_limit, strict=asked.strict))


def _far(found: Examination, measure: str, knowledge: Knowledge) -> str:
    name, judged = knowledge.measures[measure].name, found.inference.judged[measure]
    return f"{name[:1].upper()}{name[1:]} is far too {judged.state}."


_MEASURES = {
    "dough_g": "dough_g", "slice_g": "slice_g", "net_carb_per_slice_g": "net_carb_per_slice",
    "energy_per_slice_kcal": "energy_kcal_per_slice", "protein_pct": "protein_pct", "fat_pct": "fat_pct",
    "sodium_per_slice_mg": "sodium_mg_per_slice", "specific_volume_ml_per_g": "specific_volume",
    "core_at_pull_c": "core_at_pull_c", "pull_margin_min": "pull_margin_min", "bake_loss_pct": "bake_loss_pct",
}  # fmt: skip
"""Column of a table to measure."""
FIGURES = (*_MEASURES, "cost_per_slice", "priced_share")
"""Columns of a table in their order."""


def _figures(found: Examination) -> Mapping[str, float | None]:
    """The numbers that a table shows, and what a slice costs where any ingredient has a price."""
    values, given = found.workings.measures, found.workings.dough_state.with_defaults
    cost = cost_of(found.formula, slices=given.slices, loaves=given.loaves)
    return {
        **{column: values.value(measure) for column, measure in _MEASURES.items()},
        "cost_per_slice": cost.per_slice if cost else None,
        "priced_share": cost.priced_share if cost else None,
    }


def _document(answer: Assessment, advisor: Advisor, further: Further) -> str:
    from advisor.rendering.documents.assessment import assessment_document
    from advisor.rendering.documents.writing import plain

    document = plain(assessment_document(answer, advisor.knowledge, further=further))
    return json.dumps(in_metric(document), allow_nan=False)
