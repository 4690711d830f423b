"""What a change costs the baker, beside doing one thing otherwise: buying something, and leaving the loaf he knows."""

from __future__ import annotations

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.rule_entries import Lever
from advisor.remedy.change import Changed


def effort_of(lever: Lever, changed: Changed | None, before: Formula, knowledge: Knowledge) -> float:
    """Effort of a lever, 1 for the least: that of its kind, times what something new costs, times what its size costs.

    The size is the mass that moves, as a share of the dough (`remedy_size_effort`); what takes another one's place
    moves once.
    """
    c = knowledge.coefficient
    effort = c(f"effort_{lever.effort}")
    if changed is None or lever.turn.do or _turns_back(lever, before, knowledge):
        return effort
    if _brings_something_new(lever, before, knowledge):
        effort *= c("remedy_new_ingredient_effort")
    moved = [(x.after or 0.0) - (x.before or 0.0) for x in changed.changes if x.unit == "g"]
    up, down = sum(d for d in moved if d > 0), -sum(d for d in moved if d < 0)
    return effort * (1 + c("remedy_size_effort") * max(up, down) / before.dough_g)


def _turns_back(lever: Lever, before: Formula, knowledge: Knowledge) -> bool:
    """Whether a change turns what is there already, one way: it leads back to the loaf that the baker knows.

    More water where there is water is such a change, whichever lever says it.
    """
    turn = lever.turn
    if turn.add is not None:
        return "water" in knowledge.ingredients[turn.add].roles and before.grams_of(turn.add) > 0
    return turn.replace is None and lever.direction is not None


def _brings_something_new(lever: Lever, before: Formula, knowledge: Knowledge) -> bool:
    """Whether a change brings something that the formula does not hold and no tap gives."""
    added = lever.turn.add or (lever.turn.replace[1] if lever.turn.replace else None)
    if added is None or before.grams_of(added) > 0:
        return False
    return "water" not in knowledge.ingredients[added].roles
