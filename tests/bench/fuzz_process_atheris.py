"""Feeds bytes to the readers of the process: lines with a key, and sentences of a method, below two ingredients.

Run as fuzz_atheris.py says. Stops at any error but `FormulaFault`, where what was read cannot be written and read
again, and where a number that was taken cannot be.
"""

from __future__ import annotations

import math
import sys
from dataclasses import fields
from pathlib import Path

import atheris
from fuzz_atheris import fuzz

TOP = Path(__file__).parents[2]
sys.path[:0] = [str(TOP)]

with atheris.instrument_imports(include=["advisor.formula"]):
    from advisor import load_knowledge
    from advisor.formula.faults import FormulaFault
    from advisor.formula.reading import read_formula_text
    from advisor.formula.writing.as_text import process_values


KNOWLEDGE = load_knowledge()
ABOVE = "Loaf\n200 g vital wheat gluten\n150 g water\n5 g salt\n"
SEEDS = (
    "slices: 16", "loaves: 2", "pan: 21 x 10 x 10 cm", "pan: round 20 x 8 cm", "pan material: dark metal",
    "mix: 6 min",
    "water temp: 32 C", "added last: vinegar", "whites: whipped", "rest: 15 min, 20 min", "oven runs: 15 C cool",
    "proof: 60 min at 27 C, then 12 h at 4 C", "oven: 230 C for 10 min, then 175 C for 50 min with steam",
    "oven: 350 F fan",
    "opened at: 40 min for 30 s", "probed at: 45 min", "target core: 94 C", "cooled in pan: 20 min",
    "altitude: 1600 m",
    "sliced after: 60 min", "stored: 2 d in a bag", "griddle: 4 min a side at 190 C", "boil: 60 s", "starter: lively",
    "Mix for 5 minutes, let rest a quarter of an hour, then bake at 180 C for 1 h 10.",
)  # fmt: skip


def one_input(data: bytes) -> None:
    text = ABOVE + data.decode("utf-8", "replace")
    try:
        process = read_formula_text(text, KNOWLEDGE).process
    except FormulaFault as fault:
        assert all(p.line >= 1 and p.what and p.do for p in fault.problems)
        return
    for field in fields(process):
        value = getattr(process, field.name)
        assert not isinstance(value, float) or math.isfinite(value), field.name
    try:
        written = process_values(process)
    except ValueError:  # no line can say it
        return
    again = read_formula_text(ABOVE + "".join(f"{k}: {v}\n" for k, v in written.items()), KNOWLEDGE).process
    assert written == process_values(again), (written, process_values(again))


if __name__ == "__main__":
    fuzz(one_input, [line.encode() for line in SEEDS])
