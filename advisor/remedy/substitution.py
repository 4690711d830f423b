"""One ingredient for another by what it does: the amount is solved so that the measures in play stay put."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.inference.situation import Judged
from advisor.knowledge_base.ingredient import Ingredient
from advisor.models.measuring import dough_state_of
from advisor.remedy.change import Change, Changed, add_grams, kitchen_step, round_to, scale_lines
from advisor.remedy.constraints import Constraints
from advisor.remedy.least_squares import least_squares
from advisor.remedy.sanity import never_offered

DUTIES = (
    "mixing_hydration", "baked_water_load", "setting_protein_pct", "fat_ratio", "filler_ratio", "gum_load",
    "salt_per_100g_water", "co2_chemical", "residual_soda_meq", "residual_acid_meq",
)  # fmt: skip
"""Measures of the dough at rest by which the work of an ingredient is known."""
_MEAT = "raw_meat"
"""What has this trait stands in for its own kind alone: it sets as egg does, and nobody wants it in a cake."""
_WATER_WORTH_MOVING = 0.01
"""Share of the water; 1 g more or less of 345 g is nobody's concern."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Substitution:
    """An exchange with its solved amounts; `duties` are the measures that the old one held in place.

    `missed` are those that no amount of the new one brings back, with their values before and after; `misfit` is the
    root of the summed squares of all shifts, in half widths of the bands.
    """

    new: Ingredient
    changed: Changed
    duties: tuple[str, ...]
    missed: Mapping[str, tuple[float | None, float | None]]
    misfit: float


def substitute(examiner: Examiner, before: Examination, old: str, new: Ingredient) -> Substitution:
    """Solve how much of `new`, and how much water more or less, does the work of `old`.

    Least squares over the shifts of the measures, each in half widths of its band; then rounded to what a
    kitchen weighs. The structure in play is held.
    """
    formula, knowledge = before.formula, examiner.knowledge
    bands = {n: j for n, j in before.inference.judged.items() if n in DUTIES}
    present = formula.grams_of(old)
    without = _without(formula, old)
    bare = dough_state_of(without, knowledge).values if without.lines else {}
    duties = tuple(n for n, j in bands.items() if abs(_shift(j, bare.get(n))) > 0.1)
    water = _water_id(without)

    def made(x: Sequence[float], *, rounded: bool) -> Changed:
        return _exchanged(
            formula, old, new, float(x[0]), water, float(x[1]) if len(x) > 1 else 0.0, rounded=rounded
        )

    def shifts(x: Sequence[float]) -> list[float]:
        values = dough_state_of(made(x, rounded=False).formula, knowledge).values
        # A trace of cost for each per cent of water and of weight settles what the measures leave open.
        spare = [0.02 * (x[0] - present) / present, *(0.02 * w / max(present, 1.0) for w in x[1:])]
        return [*(_shift(j, values.get(n)) for n, j in bands.items()), *spare]

    start, low, high = [present], [0.0], [4 * present]
    if water is not None:
        held = without.grams_of(water)
        start, low, high = [present, 0.0], [0.0, -0.9 * held], [4 * present, max(held, present)]
    changed = made(least_squares(shifts, start, low, high), rounded=True)
    values = dough_state_of(changed.formula, knowledge).values
    missed: dict[str, tuple[float | None, float | None]] = {
        n: (j.value, values.get(n)) for n, j in bands.items() if abs(_shift(j, values.get(n))) > 0.35
    }
    missed |= _pushed_out(examiner, before, values, missed)
    misfit = sum(_shift(j, values.get(n)) ** 2 for n, j in bands.items()) ** 0.5
    return Substitution(new=new, changed=changed, duties=duties, missed=missed, misfit=misfit)


def substitutes(
    examiner: Examiner, before: Examination, old: str, constraints: Constraints, at_most: int = 5
) -> tuple[Substitution, ...]:
    """Find what can do the work of an ingredient, best first: what shares a role with it and may be added."""
    knowledge = examiner.knowledge
    roles = set(knowledge.ingredients[old].roles)
    found = []
    for other in knowledge.ingredients.values():
        alike = roles & set(other.roles)
        if other.id == old or not alike or len(alike) < len(roles) / 2 or constraints.refuses(other):
            continue
        if never_offered(other, knowledge):
            continue
        if _MEAT in other.traits and _MEAT not in knowledge.ingredients[old].traits:
            continue
        found.append(substitute(examiner, before, old, other))
    family = knowledge.ingredients[old].family
    # What fits as well is ranked by kinship: an oil for an oil before an emulsifier that is all fat.
    found.sort(
        key=lambda s: (
            len(s.missed),
            round(s.misfit, 1),
            s.new.family != family,
            len(set(s.new.roles) - roles),
            s.misfit,
            s.new.id,
        )
    )
    return tuple(found[:at_most])


def _shift(judged: Judged, value: float | None) -> float:
    """How far a value has moved from what it was, in half widths of the band; a lost value counts as two."""
    if value is None:
        return 2.0
    low, high = judged.low, judged.high
    half = (
        (high - low) / 2
        if low is not None and high is not None
        else abs(high if high is not None else low or 1)
    )
    return (value - judged.value) / max(half, 1e-9)


def _pushed_out(
    examiner: Examiner, before: Examination, values: Mapping[str, float | None], known: Collection[str]
) -> dict[str, tuple[float | None, float | None]]:
    """Other measures of the dough at rest that the exchange takes out of their bands: gelatine for lupin flour."""
    was = before.inference.judged
    there = {n: v for n, v in values.items() if v is not None and n in was and n not in known}
    now = examiner.kinds.of(before.workings.dough_state).bands.judge(before.inference.structures, there)
    return {n: (was[n].value, j.value) for n, j in now.items() if was[n].state == "in" and j.state != "in"}


def _without(formula: Formula, old: str) -> Formula:
    return formula.with_lines(tuple(x for x in formula.lines if x.ingredient.id != old))


def _water_id(formula: Formula) -> str | None:
    return next((x.ingredient.id for x in formula.lines if "water" in x.ingredient.roles), None)


def _exchanged(
    formula: Formula,
    old: str,
    new: Ingredient,
    grams: float,
    water: str | None,
    more: float,
    *,
    rounded: bool,
) -> Changed:
    changes: list[Change] = []
    places = frozenset(n for n, x in enumerate(formula.lines) if x.ingredient.id == old)
    one = scale_lines(formula, places, 0.0, None)
    changes += one.changes
    if rounded:
        grams = round_to(grams, kitchen_step(grams))
    if grams > 0:
        one = add_grams(one.formula, new, grams)
        changes += one.changes
    if water is not None:
        held = one.formula.grams_of(water)
        target = round_to(held + more, kitchen_step(held)) if rounded else held + more
        if abs(target - held) > (max(0.5, _WATER_WORTH_MOVING * held) if rounded else 0.0):
            at = frozenset(n for n, x in enumerate(one.formula.lines) if x.ingredient.id == water)
            one = scale_lines(one.formula, at, target / held, None)
            changes += one.changes
    return Changed(formula=one.formula, changes=tuple(changes))
