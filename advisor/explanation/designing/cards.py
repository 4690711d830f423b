"""A formula as a baker's card in blocks: a line an ingredient, then the method, step by step."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.explanation.blocks import Block, Item, Quantity, Runs
from advisor.explanation.changes import ChangeWords
from advisor.formula.formula import Formula, Line, Process
from advisor.formula.lines.states import WORD_FOR_TRAIT
from advisor.formula.process.steps import Rise
from advisor.formula.writing.as_text import pieces, process_values

_THICKENS = frozenset({"psyllium", "ground_flaxseed", "chia", "coconut_flour"})
_MUCH_CHEESE = 0.25
"""Share of the dough from which cheese that stretches is melted first."""

_SMALL_G = 25.0
"""Dough of a piece that is cut and not shaped."""
_BRIEF_MIN = 3.0


def card_blocks(formula: Formula, words: ChangeWords) -> Iterator[Block]:
    """The ingredients and the process."""
    yield from (Item(label="-", runs=line_runs(line, words)) for line in formula.lines)
    yield from method_blocks(formula)


def line_runs(line: Line, words: ChangeWords) -> Runs:
    """One ingredient with its amount."""
    states = "".join(f", {WORD_FOR_TRAIT[t]}" for t in line.traits if t in WORD_FOR_TRAIT)
    name = line.ingredient.name
    if line.counted:
        return (f"{pieces(line.counted, name)} (", Quantity(value=line.grams, unit="g"), f"){states}")
    return (Quantity(value=line.grams, unit="g", g_per_ml=words.g_per_ml(name)), f" {name}{states}")


def method_blocks(formula: Formula) -> Iterator[Block]:
    """The method in the order in which it is done: mixing, rest, rises and shaping, heat, cooling."""
    for place, step in enumerate(_steps(formula), 1):
        first, *rest = step
        runs = (first[:1].upper() + first[1:], *rest) if isinstance(first, str) else tuple(step)
        yield Item(label=f"{place}.", runs=(*runs, "."))


def _steps(formula: Formula) -> Iterator[Runs]:
    p = formula.process
    kneaded = _is_kneaded(formula)
    yield from _mixing(formula, kneaded)
    if p.rest_min is not None:
        thickens = not kneaded and any(_THICKENS & {*x.all_traits, x.ingredient.id} for x in formula.lines)
        yield ("let it rest for ", _minutes(p.rest_min), *((", until it has thickened",) if thickens else ()))
    *before, last = p.rises or (None,)
    for rise in before:
        if rise is not None and rise.minutes is not None:
            yield ("cover it and let the whole dough rise for ", *_risen(rise))
    yield from _shaping(formula)
    if last is not None and last.minutes is not None:
        yield ("cover it and let it rise for ", *_risen(last))
    yield from _heat(p)
    loaf = p.pan_kind in ("tin", "round", "free_standing") and not p.pan_cups
    if p.slices and loaf:
        yield (f"let it cool on a rack before it is cut; it makes {p.slices} slices",)
    elif p.oven_c is not None:
        yield (f"let {'them' if (p.slices or 1) > 1 else 'it'} cool on a rack",)


def _mixing(formula: Formula, kneaded: bool) -> Iterator[Runs]:
    p = formula.process
    end: Runs = (" for ", _minutes(p.mix_min)) if p.mix_min is not None else ()
    if p.water_c is not None:
        end = (*end, " with water at ", Quantity(value=p.water_c, unit="C"))
    if p.added_last:
        end = (*end, f"; {p.added_last} goes in last")
    if p.whites_whipped:
        whole = any(x.ingredient.id == "whole_egg" for x in formula.lines)
        yield (f"{'part the eggs and whip the whites' if whole else 'whip the egg whites'} until they stand",)
        yield ("mix the rest smooth and fold the whites in",)
    elif _share(formula, "stretching_cheese") > _MUCH_CHEESE:
        yield ("melt the cheese, and knead in the rest while it is hot", *end)
    elif kneaded:
        yield ("mix what is dry, then add the rest and knead", *end)
    elif any({"egg", "liquid", "water"} & set(x.ingredient.roles) for x in formula.lines):
        yield ("mix what is dry; beat the rest together, and stir it in", *end)
    elif end:
        yield ("mix everything", *end)


def _shaping(formula: Formula) -> Iterator[Runs]:
    p = formula.process
    pan = process_values(p).get("pan", "")
    thick: Runs = (
        (", ", Quantity(value=p.thickness_cm, unit="cm", decimals=2), " thick") if p.thickness_cm else ()
    )
    if p.pan_cups:
        yield (f"fill it into {pan}",)
    elif p.pan_kind in ("tin", "round"):
        yield (f"fill it into the greased tin, {pan}",)
    elif p.pan_kind == "free_standing":
        yield ("shape it into a loaf on a lined tray",)
    elif p.pan_length_cm and pan:
        yield (
            f"spread it on a lined tray, {pan}",
            *thick,
            *((f", for {p.slices} pieces",) if p.slices else ()),
        )
    elif thick and p.slices and formula.dough_g / p.slices < _SMALL_G:
        yield ("roll it out", *thick, f", and cut it into {p.slices} pieces")
    elif p.pan_kind in ("rolls", "flat") and p.slices:
        each = Quantity(value=round(formula.dough_g / p.slices), unit="g")
        yield (f"shape it into {p.slices} {'piece' if p.slices == 1 else 'pieces'} of ", each, *thick)
    elif pan or thick:
        yield (f"shape it or fill it in: {pan}" if pan else "roll it out", *thick)


def _heat(p: Process) -> Iterator[Runs]:
    if p.boil_min is not None:
        yield ("boil for ", _minutes(p.boil_min))
    steps = [s for s in p.bakes if s.celsius is not None and s.minutes is not None]
    if steps:
        runs: list[object] = []
        for step in steps:
            runs += [
                ", then at " if runs else "bake at ", Quantity(value=step.celsius or 0.0, unit="C"), " for ",
                _minutes(step.minutes or 0.0),
            ]  # fmt: skip
        if p.target_core_c is not None:
            runs += [", until the core is at ", Quantity(value=p.target_core_c, unit="C")]
        yield tuple(runs)  # type: ignore[arg-type]  # words and quantities
    if p.griddle_c is not None and p.griddle_side_min is not None:
        plate = Quantity(value=p.griddle_c, unit="C")
        yield ("bake on a plate at ", plate, ", ", _minutes(p.griddle_side_min), " a side")
    if p.steam_min is not None:
        yield ("steam for ", _minutes(p.steam_min))


def _risen(rise: Rise) -> Runs:
    at: Runs = (" at ", Quantity(value=rise.celsius, unit="C")) if rise.celsius is not None else ()
    return (_minutes(rise.minutes or 0.0), *at)


def _is_kneaded(formula: Formula) -> bool:
    """Whether yeast or a starter raises a dough of gluten or flour."""
    roles = {role for x in formula.lines for role in x.ingredient.roles}
    raised = "yeast" in roles or any("natural_leaven" in x.all_traits for x in formula.lines)
    return raised and bool({"gluten", "flour"} & roles)


def _share(formula: Formula, trait: str) -> float:
    """Share (0..1) of the dough that has a trait."""
    having = sum(x.grams for x in formula.lines if trait in x.all_traits)
    return having / formula.dough_g if formula.dough_g > 0 else 0.0


def _minutes(value: float) -> Quantity:
    return Quantity(value=value, unit="min", decimals=1 if value < _BRIEF_MIN and value % 1 else None)
