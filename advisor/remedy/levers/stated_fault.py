"""A fault that the baker states himself (an old powder, cheese from a bag), and the formula without it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.rule_entries import Lever
from advisor.remedy.levers.turning import matches


def undone(lever: Lever, formula: Formula, knowledge: Knowledge) -> Formula:
    """Take the state that a lever undoes out of a formula; the same formula where it states none.

    A state is a trait written beside an ingredient, the age of a leavening, an ingredient that goes in cold, or a line
    of the process.
    """
    if lever.turn.becomes is not None:
        new = knowledge.ingredients[lever.turn.becomes]
        swapped = (replace(x, ingredient=new) if matches(lever, x) else x for x in formula.lines)
        return formula.with_lines(tuple(swapped))
    state = lever.turn.undoes
    if state is None:
        return formula
    if state in type(formula.process).__dataclass_fields__:
        return _process_undone(state, formula, knowledge)
    warm_from = knowledge.coefficient("undone_cold_below_c")
    lines = tuple(
        _line_undone(state, line, warm_from) if _about(lever, line) else line for line in formula.lines
    )
    return formula if lines == formula.lines else formula.with_lines(lines)


def says_so(lever: Lever, answers: Mapping[str, str], formula: Formula | None, knowledge: Knowledge) -> bool:
    """Whether the baker says, by an answer or in the formula, that what this lever undoes went wrong.

    Without a formula only answers are looked at.
    """
    if any(answers.get(question) in some for question, some in lever.stated_by.items()):
        return True
    return formula is not None and undone(lever, formula, knowledge) != formula


def says_otherwise(lever: Lever, answers: Mapping[str, str], formula: Formula, knowledge: Knowledge) -> bool:
    """Whether an answer says that what this lever undoes did not happen, and nothing says that it did."""
    denied = any(answers.get(question) in some for question, some in lever.denied_by.items())
    return denied and not says_so(lever, answers, formula, knowledge)


def _about(lever: Lever, line: Line) -> bool:
    turn = lever.turn
    return not (turn.ingredient or turn.ingredient_role or turn.trait) or matches(lever, line)


def _line_undone(state: str, line: Line, warm_from: float) -> Line:
    if state == "age":
        return replace(line, age_months=0.0) if line.age_months else line
    if state == "celsius":
        cold = line.celsius is not None and line.celsius < warm_from
        return replace(line, celsius=None) if cold else line
    if state in line.traits:
        return replace(line, traits=tuple(t for t in line.traits if t != state))
    return line


def _process_undone(field: str, formula: Formula, knowledge: Knowledge) -> Formula:
    now, c = getattr(formula.process, field), knowledge.coefficient
    if not now and field != "sliced_after_min":
        return formula
    if field == "microwave_min" and now <= c("undone_microwave_min"):
        return formula
    if field == "thickness_cm" and now <= c("undone_thickness_cm"):
        return formula
    if field == "pan_material" and now != "dark metal":
        return formula
    if field == "sliced_after_min":
        cold = now is None or now >= c("undone_hot_below_min")
        return formula if cold else formula.with_process(sliced_after_min=c("undone_cold_after_min"))
    if field == "cooled_in_pan_min":
        longest = c("undone_in_pan_min")
        return formula if now <= longest else formula.with_process(cooled_in_pan_min=longest)
    return formula.with_process(**{field: None})
