"""A formula as a baker's card in blocks: a line an ingredient, then the process in one sentence a step."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.explanation.blocks import Block, Item, Paragraph, Quantity, Runs
from advisor.explanation.changes import ChangeWords, joined
from advisor.formula.formula import Formula, Line, Process
from advisor.formula.lines.states import WORD_FOR_TRAIT
from advisor.formula.writing.as_text import pieces, process_values


def card_blocks(formula: Formula, words: ChangeWords) -> Iterator[Block]:
    """The ingredients and the process."""
    yield from (Item(label="-", runs=line_runs(line, words)) for line in formula.lines)
    yield Paragraph(runs=process_runs(formula.process))


def line_runs(line: Line, words: ChangeWords) -> Runs:
    """One ingredient with its amount."""
    states = "".join(f", {WORD_FOR_TRAIT[t]}" for t in line.traits if t in WORD_FOR_TRAIT)
    name = line.ingredient.name
    if line.counted:
        return (f"{pieces(line.counted, name)} (", Quantity(value=line.grams, unit="g"), f"){states}")
    return (Quantity(value=line.grams, unit="g", g_per_ml=words.g_per_ml(name)), f" {name}{states}")


def process_runs(p: Process) -> Runs:
    """The process: pan, mixing, rest, proof, heat."""
    pan = process_values(p).get("pan", "")
    some: list[Runs] = [(f"pan: {pan}",)] if pan else []
    if p.slices:
        some.append(
            (f"{p.slices} {'pieces' if p.pan_kind in ('rolls', 'flat') or p.pan_cups else 'slices'}",)
        )
    if p.thickness_cm is not None:
        some.append((Quantity(value=p.thickness_cm, unit="cm", decimals=2), " thick"))
    if p.mix_min is not None:
        water: Runs = (", water at ", Quantity(value=p.water_c, unit="C")) if p.water_c is not None else ()
        some.append(("mix ", _minutes(p.mix_min), *water))
    if p.added_last:
        some.append((f"{p.added_last} last",))
    if p.whites_whipped:
        some.append(("whip the whites and fold them in",))
    if p.rest_min is not None:
        some.append(("rest ", _minutes(p.rest_min)))
    if p.proof_min is not None:
        at: Runs = (" at ", Quantity(value=p.proof_c, unit="C")) if p.proof_c is not None else ()
        some.append(("proof ", _minutes(p.proof_min), *at))
    if p.oven_c is not None and p.bake_min is not None:
        some.append(("oven ", Quantity(value=p.oven_c, unit="C"), " for ", _minutes(p.bake_min)))
    if p.griddle_c is not None and p.griddle_side_min is not None:
        plate = Quantity(value=p.griddle_c, unit="C")
        some.append(("a plate at ", plate, ", ", _minutes(p.griddle_side_min), " a side"))
    if p.steam_min is not None:
        some.append(("steam ", _minutes(p.steam_min)))
    runs = joined(tuple(some))
    if runs and isinstance(runs[0], str):
        runs = (runs[0][:1].upper() + runs[0][1:], *runs[1:])
    return (*runs, ".")


def _minutes(value: float) -> Quantity:
    return Quantity(value=value, unit="min", decimals=None if value >= 3 else 1)
