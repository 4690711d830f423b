"""A formula as a baker's card in blocks: a line an ingredient, then the method, step by step."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.explanation.blocks import Block, Item, Quantity, Runs
from advisor.explanation.changes import ChangeWords
from advisor.formula.formula import Formula, Line, Process
from advisor.formula.lines.states import WORD_FOR_TRAIT
from advisor.formula.writing.as_text import pieces, process_values


def card_blocks(formula: Formula, words: ChangeWords) -> Iterator[Block]:
    """The ingredients and the process."""
    yield from (Item(label="-", runs=line_runs(line, words)) for line in formula.lines)
    yield from process_blocks(formula.process)


def line_runs(line: Line, words: ChangeWords) -> Runs:
    """One ingredient with its amount."""
    states = "".join(f", {WORD_FOR_TRAIT[t]}" for t in line.traits if t in WORD_FOR_TRAIT)
    name = line.ingredient.name
    if line.counted:
        return (f"{pieces(line.counted, name)} (", Quantity(value=line.grams, unit="g"), f"){states}")
    return (Quantity(value=line.grams, unit="g", g_per_ml=words.g_per_ml(name)), f" {name}{states}")


def process_blocks(p: Process) -> Iterator[Block]:
    """The method in the order in which it is done: mixing, rest, pan, proof, heat, slices."""
    for place, step in enumerate(_steps(p), 1):
        first, *rest = step
        runs = (first[:1].upper() + first[1:], *rest) if isinstance(first, str) else tuple(step)
        yield Item(label=f"{place}.", runs=(*runs, "."))


def _steps(p: Process) -> Iterator[Runs]:
    last: Runs = (f"; {p.added_last} goes in last",) if p.added_last else ()
    water: Runs = (" with water at ", Quantity(value=p.water_c, unit="C")) if p.water_c is not None else ()
    if p.mix_min is not None:
        yield ("mix for ", _minutes(p.mix_min), *water, *last)
    elif p.added_last:
        yield (f"mix; {p.added_last} goes in last",)
    if p.whites_whipped:
        yield ("whip the whites and fold them in",)
    if p.rest_min is not None:
        yield ("let it rest for ", _minutes(p.rest_min))
    pan = process_values(p).get("pan", "")
    thick: Runs = (
        (", ", Quantity(value=p.thickness_cm, unit="cm", decimals=2), " thick") if p.thickness_cm else ()
    )
    if pan or thick:
        yield (f"shape it or fill it in: {pan}" if pan else "roll it out", *thick)
    if p.proof_min is not None:
        at: Runs = (" at ", Quantity(value=p.proof_c, unit="C")) if p.proof_c is not None else ()
        yield ("let it rise for ", _minutes(p.proof_min), *at)
    if p.oven_c is not None and p.bake_min is not None:
        yield ("bake at ", Quantity(value=p.oven_c, unit="C"), " for ", _minutes(p.bake_min))
    if p.griddle_c is not None and p.griddle_side_min is not None:
        plate = Quantity(value=p.griddle_c, unit="C")
        yield ("bake on a plate at ", plate, ", ", _minutes(p.griddle_side_min), " a side")
    if p.steam_min is not None:
        yield ("steam for ", _minutes(p.steam_min))
    if p.slices:
        pieces_made = p.pan_kind in ("rolls", "flat") or p.pan_cups
        yield (f"it makes {p.slices} {'pieces' if pieces_made else 'slices'}",)


def _minutes(value: float) -> Quantity:
    return Quantity(value=value, unit="min", decimals=None if value >= 3 else 1)
