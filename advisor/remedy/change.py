"""One change of a formula, and how it is applied: amounts in grams, process in its own unit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.ingredient import Ingredient

ChangeKind = Literal["amount", "add", "omit", "replace", "process", "handling"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What moves from which value to which; `count` stands beside grams where pieces are counted.

    `field` is the field of the process that it moves, `None` for an amount or a thing done by hand.
    """

    what: str
    unit: str
    before: float | None
    after: float | None
    count_before: int | None = None
    count_after: int | None = None
    field: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """A formula after a change, and the change in numbers."""

    formula: Formula
    changes: tuple[Change, ...]


def scale_lines(formula: Formula, places: frozenset[int], factor: float, step: float | None) -> Changed:
    """Scale some ingredient lines, each rounded to `step` grams or to whole pieces.

    Lines are chosen by their place among the lines (from 0): one line of the text may hold two ingredients.
    """
    lines, changes = [], []
    for place, line in enumerate(formula.lines):
        if place not in places:
            lines.append(line)
            continue
        new = _scaled(line, factor, step)
        if new.grams > 0:
            lines.append(new)
        changes.append(_amount_change(line, new))
    # Of a role with a big and a small line the small one may stay where it is, rounded: that is no change to tell.
    moved = [change for change in changes if change.before != change.after] or changes
    return Changed(formula=formula.with_lines(tuple(lines)), changes=tuple(moved))


def with_amounts(formula: Formula, grams: Mapping[int, float]) -> Formula:
    """Give some lines, chosen by their place among the lines (from 0), other weights [g]; 0 leaves a line out.

    What is counted is counted anew, to the nearest piece, and weighs what was asked for all the same.
    """
    lines = (
        line if place not in grams else _weighing(line, grams[place])
        for place, line in enumerate(formula.lines)
    )
    return formula.with_lines(tuple(line for line in lines if line.grams > 0))


def _weighing(line: Line, grams: float) -> Line:
    if not line.counted or line.grams <= 0:
        return replace(line, grams=grams)
    count = round(grams * line.counted / line.grams)
    return replace(line, grams=grams, counted=count or None)


def _scaled(line: Line, factor: float, step: float | None) -> Line:
    grams = round(line.grams * factor, 9)  # without the dust of the factor
    if line.counted:
        each = line.grams / line.counted
        count = max(round(grams / each), 0)
        return replace(line, grams=each * count if step is not None else grams, counted=count)
    if step is not None:
        grams = round_to(grams, step)
    return replace(line, grams=grams)


def _amount_change(old: Line, new: Line) -> Change:
    return Change(
        what=old.ingredient.name,
        unit="g",
        before=old.grams,
        after=new.grams,
        count_before=old.counted,
        count_after=new.counted if old.counted else None,
    )


def add_grams(formula: Formula, ingredient: Ingredient, grams: float, each: float | None = None) -> Changed:
    """Add an ingredient, on top of a line of it where there is one; `each` is the weight of one counted piece."""
    for line in formula.lines:
        if line.ingredient.id == ingredient.id and (line.counted is None or each):
            new = _with_more(line, grams)
            lines = tuple(new if x is line else x for x in formula.lines)
            return Changed(formula=formula.with_lines(lines), changes=(_amount_change(line, new),))
    number = max((line.number for line in formula.lines), default=0) + 1
    count = round(grams / each) if each else None
    text = f"{grams:g} g {ingredient.name}"
    new = Line(text=text, number=number, ingredient=ingredient, grams=grams, counted=count or None)
    change = Change(
        what=ingredient.name, unit="g", before=0.0, after=grams,
        count_before=0 if count else None, count_after=count or None,
    )  # fmt: skip
    return Changed(formula=formula.with_lines((*formula.lines, new)), changes=(change,))


def _with_more(line: Line, grams: float) -> Line:
    if not line.counted:
        return replace(line, grams=line.grams + grams)
    each = line.grams / line.counted
    count = line.counted + round(grams / each)
    return replace(line, grams=each * count, counted=count)


def move_grams(
    formula: Formula, source: str, to: Ingredient, grams: float, each: float | None = None
) -> Changed:
    """Take grams from one ingredient and put the same weight of another, in pieces of `each`, in their place."""
    present = formula.grams_of(source)
    factor = max(1 - grams / present, 0.0) if present > 0 else 1.0
    places = frozenset(n for n, line in enumerate(formula.lines) if line.ingredient.id == source)
    less = scale_lines(formula, places, factor, None)
    more = add_grams(less.formula, to, grams, each)
    return Changed(formula=more.formula, changes=(*less.changes, *more.changes))


def set_process(formula: Formula, field: str, value: float, unit: str, before: float | None) -> Changed:
    """Set one number of the process."""
    change = Change(what=process_words(field), unit=unit, before=before, after=value, field=field)
    return Changed(formula=formula.with_process(**{field: value}), changes=(change,))


def kitchen_step(grams: float) -> float:
    """The finest step in which a kitchen weighs this much: 1 g, or 0.1 g below 10 g."""
    return 1.0 if abs(grams) >= 10 else 0.1


def round_to(value: float, step: float) -> float:
    """Round to a multiple of `step`, without the dust of binary fractions."""
    return round(round(value / step) * step, 6)


def moved(before: float | None, after: float | None) -> bool:
    """Whether a value has changed by more than the dust of its sum, or come or gone."""
    if before is None or after is None:
        return before is not after
    return abs(after - before) > 1e-6 * max(abs(before), abs(after))


PROCESS_WORDS: Mapping[str, str] = {
    "bake_min": "bake",
    "oven_c": "oven",
    "proof_min": "proof",
    "proof_c": "proof temperature",
    "rest_min": "rest",
    "mix_min": "mixing",
    "water_c": "water temperature",
    "opened_at_min": "oven shut until",
    "probed_at_min": "no probe until",
    "sliced_after_min": "cooling before slicing",
    "cooled_in_pan_min": "cooling in the pan",
    "pan_height_cm": "height of the pan",
    "pan_width_cm": "width of the pan",
    "pan_length_cm": "length of the pan",
    "slices": "slices",
    "loaves": "loaves",
}
"""Fields of the process by what a page calls them."""


def process_words(field: str) -> str:
    """Name a process field as a baker would."""
    return PROCESS_WORDS.get(field, field.replace("_", " "))
