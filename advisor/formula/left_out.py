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
    """Turn problems of unknown names into warnings, the smallest first, up to a `share` of the dough (0..1)."""
    most = share * sum(line.grams for line in draft.lines)
    small: dict[int, Unknown] = {}
    for number, entry in sorted(
        draft.unknown.items(), key=lambda known: most_it_weighs(known[1], spoon_g_per_ml)
    ):
        most -= most_it_weighs(entry, spoon_g_per_ml)
        if most < 0:
            break
        small[number] = entry
    draft.problems = [p for p in draft.problems if p.line not in small]
    for number in small:
        draft.kinds[number] = "ingredient" if any(n.number == number for n in draft.lines) else "comment"
    draft.warnings[:0] = [f"line {number}: {entry.told}" for number, entry in sorted(small.items())]


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
    if (before := draft.unknown.get(number)) is not None:  # several of one line
        grams, millilitres, told = (
            grams + before.grams,
            millilitres + before.millilitres,
            f"{before.told}; {told}",
        )
    draft.unknown[number] = Unknown(grams=grams, millilitres=millilitres, told=told)
