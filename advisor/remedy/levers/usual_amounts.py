"""A change of something that stands far from what is usual goes to what is usual, not just over the edge of a band."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.diagnosis.pipeline import Examination
from advisor.formula.formula import Line
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.rule_entries import Lever
from advisor.knowledge_base.sanity_entries import Bound
from advisor.remedy.change import Changed, round_to
from advisor.remedy.levers.turning import dial_for, matches, steps_for
from advisor.remedy.sanity import holds_for, is_about

_CLOSE = 0.12
"""Share of an amount within which two changes of it are the same to a baker."""


def to_the_usual(
    lever: Lever, changed: Changed, before: Examination, weights: Mapping[str, float], knowledge: Knowledge
) -> tuple[Changed, str] | None:
    """Take a change of an amount on, or back, to what is usual, with what to say of it; `None` if it is that already.

    What stands outside the usual range goes to the middle of it; what stands inside stays inside. Shares are of the
    dry powders (dry base), which change with the amount where it is one of them.
    """
    found = _usual_of(lever, before, knowledge)
    dial = dial_for(lever, before.formula, weights, knowledge)
    if found is None or found.usual is None or dial is None:
        return None
    held = [line for line in before.formula.lines if is_about(found, line)]
    now = sum(line.grams for line in held)
    then = sum(line.grams for line in changed.formula.lines if is_about(found, line))
    stays = dial.kind == "replace"
    base = before.workings.dough_state.dry_base
    rest = base if stays else base - sum(line.grams for line in held if line.ingredient.dry_base)
    if rest <= 0 or abs(then - now) < 1e-6:
        return None
    low, aim, high = (
        _grams(share, rest, within=not stays and held[0].ingredient.dry_base)
        for share in (found.usual.low, found.usual.aim, found.usual.high)
    )
    if then < now:
        wanted = (aim if then < low else min(then, aim)) if now > high else max(then, min(low, now))
    else:
        wanted = (aim if then > high else max(then, aim)) if now < low else min(then, max(high, now))
    if abs(wanted - then) <= _CLOSE * max(then, wanted) or abs(wanted - now) < 1e-6:
        return None
    setting = now - wanted if stays else dial.now + wanted - now
    setting = min(max(setting, dial.lowest), dial.highest)
    step = steps_for(dial, setting)[-1]
    setting = dial.now + round_to(setting - dial.now, step) if dial.piece else round_to(setting, step)
    if abs(setting - dial.now) < step / 2:
        return None
    return dial.turn(round(setting, 6), step), found.says


def _grams(share: float, rest: float, *, within: bool) -> float:
    return rest * share / (100 - share) if within else rest * share / 100


def _usual_of(lever: Lever, before: Examination, knowledge: Knowledge) -> Bound | None:
    """The entry about what a lever turns or takes away, in this structure and kind of bake."""
    about = before.structure_and_kind
    turned = [line for line in before.formula.lines if _turns(lever, line)]
    roles = {role for line in before.formula.lines for role in line.ingredient.roles}
    for bound in knowledge.sanity.values():
        if bound.usual is None or bound.without_role in roles or not holds_for(bound, about):
            continue
        if turned and all(is_about(bound, line) for line in turned):
            return bound
    return None


def _turns(lever: Lever, line: Line) -> bool:
    if lever.turn.replace:
        return line.ingredient.id == lever.turn.replace[0]
    if lever.turn.add:
        return line.ingredient.id == lever.turn.add
    return matches(lever, line)
