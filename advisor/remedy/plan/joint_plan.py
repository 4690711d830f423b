"""A plan that moves several amounts at once: the smallest summed change that brings every measure into its band."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.remedy.change import Change, Changed, set_process
from advisor.remedy.constraints import Constraints, per_slice
from advisor.remedy.levers.effect import effect_of
from advisor.remedy.plan.linear_forms import PLANNED
from advisor.remedy.plan.planner import Planner
from advisor.remedy.sanity import against_what_was_seen, unreasonable


@dataclass(frozen=True, slots=True, kw_only=True)
class JointPlan:
    """Amounts that together bring the dough into its bands, looked at afresh; in kitchen units.

    `unmet` are measures that stay outside; `relaxed` is the smallest set of limits without which they would not.
    """

    changes: tuple[Change, ...]
    formula: Formula
    risk: Mapping[str, tuple[float, float]]
    measures: Mapping[str, tuple[float, float]]
    net_carb_per_slice: tuple[float, float]
    relief: float
    unmet: tuple[str, ...]
    relaxed: tuple[str, ...]


def wanted(before: Examination) -> tuple[str, ...]:
    """Measures out of their band that amounts can move."""
    return tuple(
        n for n in PLANNED if n in before.inference.judged and before.inference.judged[n].state != "in"
    )


def joint_plan(
    examiner: Examiner, before: Examination, limits: Constraints, *, best_single: float = 0.0
) -> JointPlan | None:
    """Make the plan; `None` where fewer than two measures are out, or where amounts are not what helps.

    Amounts are not what helps where the plan relieves less than half of what the best single change does
    (`best_single`, its relief): a proof is not to be cured with powder.

    Solved as a linear programme, re-linearised from where it came to, then as a mixed-integer programme over the
    amounts that it moves, in kitchen units and whole eggs; at last the formula is inferred anew.
    """
    if len(wanted(before)) < 2:
        return None
    planner = Planner(examiner, before, limits, before.inference.structures)
    made = planner.planned()
    if made is None:
        return None
    outside, structures = planner.outside_at_rest(made.formula)
    if outside and structures != planner.weights:
        # The plan makes another blend of structures of it: once more, with the bands of that blend.
        again = Planner(examiner, before, limits, structures)
        other = again.planned()
        if other is not None and len(again.outside_at_rest(other.formula)[0]) < len(outside):
            planner, made = again, other
    effect = effect_of(examiner, before, made.formula)
    changes = planner.changes(made.formula)
    if (timed := _baked_through(before, effect.after)) is not None:
        made, changes = replace(made, formula=timed.formula), (*changes, *timed.changes)
        effect = effect_of(examiner, before, made.formula)
    least = max(examiner.knowledge.coefficient("remedy_least_relief"), best_single / 2)
    worse = replace(limits, net_carb_max=None).refuses_worse(per_slice(before), per_slice(effect.after))
    if effect.relief < least or not changes or worse is not None:
        return None
    told, about = (before.seen, before.situation.answers), before.structure_and_kind
    if unreasonable(before.formula, made.formula, about, examiner.knowledge) or against_what_was_seen(
        "", changes, told, about, examiner.knowledge
    ):
        return None
    was, now = before.workings.measures, effect.after.workings.measures
    values = {n: (was.value(n), now.value(n)) for n in planner.bands}
    return JointPlan(
        changes=changes,
        formula=made.formula,
        risk=effect.risk,
        measures={n: (a, b) for n, (a, b) in values.items() if a is not None and b is not None},
        net_carb_per_slice=(was.value("net_carb_per_slice") or 0.0, now.value("net_carb_per_slice") or 0.0),
        relief=effect.relief,
        unmet=(unmet := planner.outside_after(effect.after)),
        relaxed=planner.smallest_relaxation() if made.unmet and unmet else (),
    )


def _baked_through(before: Examination, planned: Examination) -> Changed | None:
    """Give a plan the minutes that its core lacks: amounts alone do not bake a loaf that left the oven raw."""
    pulled, was = planned.inference.judged.get("pull_margin_min"), before.formula.process.bake_min
    if pulled is None or pulled.state != "low" or pulled.low is None or was is None:
        return None
    longer = math.ceil(was + pulled.low - pulled.value)
    return set_process(planned.formula, "bake_min", longer, "min", was)
