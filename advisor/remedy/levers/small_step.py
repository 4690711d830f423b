"""A small step where the figures find nothing wrong and the loaf says otherwise."""

from __future__ import annotations

from advisor.diagnosis.pipeline import Examination
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.rule_entries import Lever
from advisor.remedy.change import Changed, round_to
from advisor.remedy.levers.turning import Dial, dial_for, steps_for

SAYS = "no number asks for it, only the loaf does: take this small step and look at the next one"


def loaf_says_otherwise(lever: Lever, before: Examination, knowledge: Knowledge) -> bool:
    """Whether the cause is likely from what the loaf showed, though its measure is in its band.

    A lever with a limit of its own (ten minutes of rest) stops there: past that there is nothing to gain.
    """
    if lever.until is None or lever.until.into != "band":
        return False
    if any(_out(other, before) for other in knowledge.levers.values() if other.for_ == lever.for_):
        return False
    own = before.diagnosis.own.get(lever.for_, 0.0)
    first = bool(before.diagnosis.causes) and before.diagnosis.causes[0].id == lever.for_
    least = "remedy_small_step_first_from" if first else "remedy_small_step_from"
    return before.after_bake and own >= knowledge.coefficient(least)


def _out(lever: Lever, before: Examination) -> bool:
    """Whether a lever's own number is where the lever would move it from: then the figures do find something wrong."""
    target = lever.until
    if target is None or (lever.structures and before.structure not in lever.structures):
        return False
    judged = before.inference.judged.get(target.measure)
    value = judged.value if judged else before.workings.measures.value(target.measure)
    if value is None:
        return False
    if target.into == "band":
        return judged is not None and judged.state != "in"
    past = target.above is not None and value < target.above
    return past or (target.below is not None and value > target.below)


def small_step(lever: Lever, before: Examination, knowledge: Knowledge) -> Changed | None:
    """Turn the lever a stated share of where it stands, in its own direction; `None` where that is nothing to weigh.

    Only what is there already is turned: how much of something new the loaf wants, no figure tells.
    """
    dial = dial_for(lever, before.formula, before.inference.structures, knowledge)
    if dial is None or lever.direction is None or dial.now <= 0 or dial.kind == "replace":
        return None
    share = _share(lever, dial, before, knowledge)
    aimed = dial.now * (1 + share if lever.direction == "up" else 1 - share)
    return _rounded(dial, min(max(aimed, dial.lowest), dial.highest))


def _share(lever: Lever, dial: Dial, before: Examination, knowledge: Knowledge) -> float:
    """How far to step, 0..1 of what is there: further the surer the cause, and twice as far with what is little.

    A tenth of the water is felt in the dough; a tenth of the salt or the gum is not. Heat and minutes go by steps of
    their own, so that they are turned a little only.
    """
    c = knowledge.coefficient
    sure = (before.diagnosis.own.get(lever.for_, 0.0) - c("remedy_leads_from")) / (
        1.0 - c("remedy_leads_from")
    )
    least, most = c("remedy_small_step_share"), c("remedy_sure_step_share")
    if lever.small_step is not None or lever.turn.process is not None:
        return lever.small_step or least
    share = least + (most - least) * min(max(sure, 0.0), 1.0)
    little = dial.now < c("remedy_little_of_dough") * before.formula.dough_g
    return min(2.0 * share, 0.6) if little else share


def _rounded(dial: Dial, setting: float) -> Changed | None:
    step = steps_for(dial, setting)[-1]
    base = dial.now if dial.piece is not None else 0.0
    setting = base + round_to(setting - base, step)
    return None if abs(setting - dial.now) < step / 2 else dial.turn(round(setting, 6), step)
