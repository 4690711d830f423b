"""Which proposed change a bake followed: told by its printed number, or recognised by the amounts that were baked."""

from __future__ import annotations

from dataclasses import replace

from advisor.formula.formula import Formula
from advisor.formula.writing.as_text import process_values
from advisor.formula.writing.weighed import as_weighed
from advisor.interface.desk.applying import proposal_of
from advisor.interface.desk.bake_keeping import Noted, bake_before, formula_of, known
from advisor.interface.desk.bake_words import change_name
from advisor.remedy.assessing import Advisor, Assessment
from advisor.trial_record.bake import Bake
from advisor.trial_record.differing import AFTER_THE_FACT
from advisor.trial_record.record import TrialRecord

_ALIKE, _ALIKE_G = 0.02, 0.6
"""Amounts that differ by less are weighed alike: a share of the greater, or grams (common practice, no source)."""


def with_followed(record: TrialRecord, noted: Noted, formula: Formula, advisor: Advisor) -> tuple[Noted, str]:
    """Give what was noted with the change that was followed, and a sentence where that was found out here.

    A number is that of the page that an answer on the bake before printed.

    Raises:
        InputFault: there is no such number, or no bake before.
    """
    told = noted.followed
    if told is not None and not told.isdecimal():
        return noted, ""
    before = bake_before(record, noted, formula)
    if before is None:
        return noted, ""
    earlier = formula_of(before, advisor.knowledge)
    if told is None and _alike(earlier, formula):
        return noted, ""
    answer = _answer_on(before, earlier, advisor)
    if told is not None:
        lever = proposal_of(answer, told, any_kind=True).lever
        return replace(noted, followed=lever, after=before.number), _said(told, before, lever, advisor)
    for number, proposal in enumerate(answer.plans.proposals, 1):
        if proposal.formula != earlier and _alike(proposal.formula, formula):
            said = f"Recognised by its amounts: {_said(str(number), before, proposal.lever, advisor)}"
            return replace(noted, followed=proposal.lever, after=before.number), said
    return noted, ""


def _said(number: str, before: Bake, lever: str, advisor: Advisor) -> str:
    name = change_name(lever, advisor.knowledge)
    return f"change {number} of bake {before.number} was followed ({name[:1].lower()}{name[1:].rstrip('.')})."


def _answer_on(before: Bake, earlier: Formula, advisor: Advisor) -> Assessment:
    saw, absent = known(before.seen, advisor.knowledge), known(before.absent, advisor.knowledge)
    return advisor.diagnose(earlier, saw=saw, not_seen=absent) if saw else advisor.check(earlier)


def _alike(one: Formula, other: Formula) -> bool:
    """Whether two formulas are weighed and made alike, but for what only the finished loaf tells."""
    foods = {line.ingredient.id for line in (*one.lines, *other.lines)}
    pairs = ((one.grams_of(food), other.grams_of(food)) for food in foods)
    if any(abs(a - b) > max(_ALIKE * max(a, b), _ALIKE_G) for a, b in pairs):
        return False
    return _steps(one) == _steps(other)


def _steps(formula: Formula) -> dict[str, str]:
    values = process_values(as_weighed(formula).process)
    return {key: value for key, value in values.items() if key not in AFTER_THE_FACT}
