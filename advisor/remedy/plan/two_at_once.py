"""Two changes made together where two causes are likely: amounts, process and stated faults alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula, Line, Process
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.levers.effect import effect_of
from advisor.remedy.levers.same_change import what_it_turns
from advisor.remedy.plan.joint_plan import JointPlan
from advisor.remedy.plan.linear_forms import PLANNED
from advisor.remedy.proposal import Proposal
from advisor.remedy.sanity import undo_each_other, unreasonable


def two_at_once(examiner: Examiner, before: Examination, proposals: Sequence[Proposal]) -> JointPlan | None:
    """Put the first proposal and the best one for another likely cause together, and look at both afresh.

    `None` where only one cause is likely (`remedy_two_from`), where the two turn the same thing or undo each other, or
    where together they do not help clearly more than the first one alone (`remedy_two_relief` times as much).
    """
    c, knowledge = examiner.knowledge.coefficient, examiner.knowledge
    pair = _pair(before, proposals, c("remedy_two_from"), knowledge)
    if pair is None:
        return None
    formula = _both(before.formula, pair)
    if unreasonable(before.formula, formula, before.structure_and_kind, knowledge):
        return None
    helps = {p.cause: e for p in pair if (e := knowledge.levers[p.lever].efficacy)}
    effect = effect_of(examiner, before, formula, helps or None)
    if effect.relief < c("remedy_two_relief") * pair[0].relief:
        return None
    was, now, after = before.workings.measures, effect.after.workings.measures, effect.after.inference.judged
    values = {n: (was.value(n), now.value(n)) for n in PLANNED if n in before.inference.judged}
    return JointPlan(
        changes=tuple(change for p in pair for change in p.changes),
        formula=formula,
        risk=effect.risk,
        measures={n: (a, b) for n, (a, b) in values.items() if a is not None and b is not None},
        net_carb_per_slice=(was.value("net_carb_per_slice") or 0.0, now.value("net_carb_per_slice") or 0.0),
        relief=effect.relief,
        unmet=tuple(n for n in PLANNED if n in after and after[n].state != "in"),
        relaxed=(),
    )


def _pair(
    before: Examination, proposals: Sequence[Proposal], likely: float, knowledge: Knowledge
) -> tuple[Proposal, Proposal] | None:
    """The first proposal, and the first after it that is for another likely cause and can be made beside it."""
    if not proposals or before.diagnosis.own.get(proposals[0].cause, 0.0) < likely:
        return None
    first = proposals[0]
    turned, _ = what_it_turns(first.changes)
    for p in proposals[1:]:
        if p.cause == first.cause or before.diagnosis.own.get(p.cause, 0.0) < likely:
            continue
        others, _ = what_it_turns(p.changes)
        if not turned & others and undo_each_other(first.changes, p.changes, knowledge) is None:
            return first, p
    return None


def _both(before: Formula, pair: Sequence[Proposal]) -> Formula:
    """The formula with what each of the changes moved; the minutes of a bake that both moved are the longer ones."""
    formula = before
    for p in pair:
        formula = replace(
            formula,
            lines=_lines(before, p.formula, formula),
            process=_process(before.process, p.formula.process, formula.process),
        )
    return formula


def _lines(before: Formula, changed: Formula, onto: Formula) -> tuple[Line, ...]:
    def key(line: Line) -> tuple[int, str]:
        return line.number, line.ingredient.id

    was, now = ({key(x): x for x in f.lines} for f in (before, changed))
    kept = tuple(now[key(x)] if was.get(key(x)) == x and key(x) in now else x for x in onto.lines)
    gone = was.keys() - now.keys()
    new = tuple(x for k, x in now.items() if k not in was and k not in {key(y) for y in onto.lines})
    return (*(x for x in kept if key(x) not in gone), *new)


def _process(before: Process, changed: Process, onto: Process) -> Process:
    moved = {
        f.name: getattr(changed, f.name)
        for f in fields(Process)
        if getattr(changed, f.name) != getattr(before, f.name)
    }
    baked = (changed.bake_min, onto.bake_min)
    if "bake_min" in moved and onto.bake_min != before.bake_min and None not in baked:
        moved["bake_min"] = max(x for x in baked if x is not None)
    return replace(onto, **moved)
