"""What was done otherwise in one bake than in another: amounts and process lines that differ."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.formula.writing.as_text import process_values, write_formula_text
from advisor.trial_record.bake import Amount, Bake

AFTER_THE_FACT = frozenset({"core measured", "weight after", "height after", "sliced after", "stored"})
"""Lines that say what came of a bake, not what was done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One thing: an ingredient in grams, or a process line in its own words; `None` where it is not there."""

    what: str
    before: float | str | None
    after: float | str | None


def differences(before: Bake, after: Bake) -> tuple[Difference, ...]:
    """Give what differs, amounts first, in the order in which the later bake has them."""
    names = {a.ingredient: a.name for a in (*before.amounts, *after.amounts)}
    out = []
    for ingredient in dict.fromkeys(a.ingredient for a in (*after.amounts, *before.amounts)):
        was, now = _grams(before, ingredient), _grams(after, ingredient)
        if was is None or now is None or abs(was - now) > 1e-6:
            out.append(Difference(what=names[ingredient], before=was, after=now))
    for line in dict.fromkeys((*after.steps, *before.steps)):
        first, second = before.steps.get(line), after.steps.get(line)
        if first != second and line not in AFTER_THE_FACT:
            out.append(Difference(what=line, before=first, after=second))
    return tuple(out)


def _grams(bake: Bake, ingredient: str) -> float | None:
    found = [a.grams for a in bake.amounts if a.ingredient == ingredient]
    return sum(found) if found else None


def amounts_of(formula: Formula) -> tuple[Amount, ...]:
    """Give a formula's lines as they are kept."""
    return tuple(
        Amount(ingredient=line.ingredient.id, name=line.ingredient.name, grams=line.grams)
        for line in formula.lines
    )


def steps_of(formula: Formula) -> dict[str, str]:
    """Give a formula's process lines as they are kept; none where no text can say them."""
    try:
        return process_values(formula.process)
    except ValueError:
        return {}


def text_of(formula: Formula) -> str:
    """Give a formula's text in grams, which reads the same in every region; as it was typed where that fails."""
    try:
        return write_formula_text(formula)
    except ValueError:
        return formula.source_text
