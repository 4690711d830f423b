"""Minutes in the oven: what a changed dough needs more of, and what the baker's own thermometer asks for."""

from __future__ import annotations

import math
from dataclasses import replace

from advisor.diagnosis.pipeline import Examination
from advisor.inference.bands import Edges
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.rule_entries import Lever
from advisor.remedy.change import Changed, set_process
from advisor.remedy.levers.candidate import Candidates
from advisor.remedy.levers.turning import Dial


def oven_in_steps(dial: Dial, usual: Edges | None, knowledge: Knowledge) -> Dial:
    """Let an oven's dial go one step of a baker's, or to what is usual for such a bake and one step past it."""
    step = knowledge.coefficient("oven_one_step_c")
    at = dial.now if usual is None or usual.aim is None else usual.aim
    least, most = min(dial.now, at) - step, max(dial.now, at) + (step if at <= dial.now else 0.0)
    return replace(dial, lowest=max(dial.lowest, least), highest=min(dial.highest, most))


def as_far_as_told(lever: Lever, changed: Changed, before: Examination) -> Changed:
    """Turn a number of the process at least as far as what the baker measured asks for."""
    answers, first = before.situation.answers, changed.changes[0]
    factors = (some.get(answers.get(asked, ""), 0.0) for asked, some in lever.at_least_told.items())
    factor = max(factors, default=0.0)
    if not factor or lever.turn.process is None or first.before is None or first.after is None:
        return changed
    least = float(math.ceil(first.before * factor))
    if first.after >= least:
        return changed
    return set_process(before.formula, lever.turn.process, least, first.unit, first.before)


def baked_through(
    changed: Changed, before: Examination, candidates: Candidates, knowledge: Knowledge
) -> Changed:
    """Give a loaf the minutes that a change costs its core, where the plan states a time."""
    first = changed.changes[0]
    by_heat = first.field == "oven_c"
    if changed.formula.process.bake_min is None or not (first.unit == "g" or by_heat):
        return changed
    pulled = before.inference.judged.get("pull_margin_min")
    # At another heat a bake that was too short is given its minutes too; an amount leaves them as they are.
    if pulled is None or pulled.low is None or (pulled.state == "low") != by_heat:
        return changed
    margin = candidates.of(changed.formula).workings.measures.value("pull_margin_min")
    enough = pulled.low + knowledge.coefficient("remedy_pull_margin_most")
    wanted = enough if by_heat else min(pulled.value, enough)
    if margin is None or margin > wanted - 1:
        return changed
    now, was = changed.formula.process.bake_min, before.formula.process.bake_min or 0.0
    longer = math.ceil(now + wanted - margin)
    timed = set_process(changed.formula, "bake_min", longer, "min", was)
    others = (change for change in changed.changes if change.field != "bake_min")
    return Changed(formula=timed.formula, changes=(*others, *timed.changes))
