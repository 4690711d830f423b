"""A small amount of something that is not known: left out of the figures and told; the text is not refused for it."""

from __future__ import annotations

from advisor.formula.draft import Draft, Unknown
from advisor.formula.faults import shown
from advisor.formula.lines.grammar import split_line
from advisor.formula.lines.units import UnitTable
from advisor.knowledge_base.knowledge import Knowledge


def limits_of(knowledge: Knowledge) -> tuple[float, float]:
    """Give up to which share of the dough (0..1) an unknown name is left out, and its heaviest spoon, g/mL."""
    share = knowledge.coefficients.get("unknown_left_out_share")
    spoon = knowledge.coefficients.get("unknown_spoon_density")
    return (share.value, spoon.value) if share and spoon else (0.0, 0.0)


def most_it_weighs(unknown: Unknown, spoon_g_per_ml: float) -> float:
    """Give the most that a line can weigh, g, where a millilitre weighs at most so many grams."""
    return unknown.grams + unknown.millilitres * spoon_g_per_ml


def leave_out_what_is_small(draft: Draft, share: float, spoon_g_per_ml: float) -> None:
    """Turn problems of unknown names into warnings, where together they are at most `share` of the dough (0..1)."""
    known = sum(line.grams for line in draft.lines)
    weight = sum(most_it_weighs(entry, spoon_g_per_ml) for entry in draft.unknown.values())
    if not draft.unknown or weight > share * known:
        return
    draft.problems = [p for p in draft.problems if p.line not in draft.unknown]
    for number in draft.unknown:
        draft.kinds[number] = "comment"
    draft.warnings[:0] = [f"line {number}: {entry.told}" for number, entry in draft.unknown.items()]


def note_unknown(draft: Draft, number: int, text: str, near: str, units: UnitTable) -> None:
    """Keep a line whose name is not known until the weight of the whole dough is; one without a unit is not kept."""
    written = split_line(text, units)
    if written is None:
        return
    grams = millilitres = 0.0
    for part in (written.bracket or written.amount).parts:
        if part.unit is None or part.percent or not (part.unit.grams or part.unit.millilitres):
            return
        if part.unit.millilitres:
            millilitres += part.value * part.unit.millilitres
        else:
            grams += part.value * (part.unit.grams or 0.0)
    told = f"'{shown(text)}' is not known: left out of the figures"
    told = f"{told} (is it {near}?)" if near else told
    draft.unknown[number] = Unknown(grams=grams, millilitres=millilitres, told=told)
