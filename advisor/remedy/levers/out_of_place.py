"""Whether a lever is for this formula at all: its structure, its kind of bake, what is in it, what the baker said."""

from __future__ import annotations

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.knowledge_base.rule_entries import Lever
from advisor.remedy.constraints import Constraints
from advisor.remedy.levers.stated_fault import says_otherwise
from advisor.remedy.levers.turning import matches


def out_of_place(
    lever: Lever, before: Examination, examiner: Examiner, constraints: Constraints
) -> str | None:
    """Say why a lever is not for this formula; `None` if it is."""
    knowledge, turn = examiner.knowledge, lever.turn
    if lever.structures and before.structure not in lever.structures:
        return f"not for this kind of loaf ({knowledge.structures[before.structure].name})"
    kind = examiner.kinds.of(before.workings.dough_state).kind
    if kind is not None and (lever.id in kind.levers_left_out or lever.for_ in kind.causes_left_out):
        return f"not for this kind of bake ({kind.name})"
    if turn.process is not None and before.after_bake and turn.process in before.assumed:
        return "the formula does not say what it is, so that no number can be put in its place"
    if lever.kinds and (kind is None or kind.id not in lever.kinds):
        return "not for this kind of bake"
    if lever.pan_kinds and before.workings.dough_state.with_defaults.pan_kind not in lever.pan_kinds:
        return "not for what the dough is baked in"
    about = turn.ingredient or turn.ingredient_role or turn.trait
    if turn.do and about and not any(matches(lever, line) for line in before.formula.lines):
        return "nothing of that kind is in the formula"
    if says_otherwise(lever, before.situation.answers, before.formula, knowledge):
        return "the baker's answer says that this did not happen"
    added = turn.add or (turn.replace[1] if turn.replace else None)
    return constraints.refuses(knowledge.ingredients[added]) if added else None
