"""Write knowledge/bakers_formulas.yaml anew: `python tests/bakers_table.py [--without 11] [--out FILE]`.

Sound formulas of bakers who had not seen the program, as shares of the dough. `--without` leaves rounds out, so that
first formulas can be laid beside bakers who had no part in them (`tests/start_against_writers.py --distance`).
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path

from advisor import load_knowledge, read_formula
from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula, Process
from advisor.models.dough.assumptions import fill_defaults
from advisor.models.dough.kind_of_bake import kind_named

ROOT = Path(__file__).parents[1]
STRANGERS = ROOT / "tests" / "outside" / "strangers"
SHIPPED = ROOT / "knowledge" / "bakers_formulas.yaml"
HEAD = """\
# Sound formulas by bakers who had not seen the program, in g per 100 g of dough, each with how it was baked where that
# was read. A first formula is made as the nearest of them were. Written by tests/bakers_table.py, not by hand. All
# of it is common practice, no source.
"""
ROUNDS = range(1, 12)
"""Rounds that the table is made of, each by its number: later ones judge first formulas and must never be in it."""
MISREAD = {
    "2-s19", "9-19", "10a-26", "10b-06", "11a-02", "11a-15", "11a-27", "6-24",
}  # fmt: skip
"""What the program does not read as it was meant: a filling, an oiled table, a second way, a starter fed first."""
_IN_PIECES = ("rolls", "muffin", "flatbread", "foam_bread", "steamed", "steamed_batter", "pizza")
_WHOLE = ("free_loaf", "rye", "sourdough")
_FEWEST_LINES = 4
_NOT_COLD_C, _NOT_HOT_C = 18.0, 42.0
"""A rise on the table."""
RANGES = {
    "fill": (15, 75), "piece_g": (18, 1400), "whole_g": (100, 1200),
    "g_per_cm2": (0.15, 2.5), "oven_c": (120, 275), "bake_min": (5, 110),
    "first_rise_min": (15, 180), "proof_min": (15, 240), "proof_c": (18, 42), "rest_min": (2, 180),
    "mix_min": (0.5, 20), "griddle_c": (120, 300), "griddle_side_min": (0.5, 15), "steam_min": (5, 60),
    "boil_min": (0.2, 3),
}  # fmt: skip
"""What is outside was read wrongly, or belongs to something else."""


def _number(folder: Path) -> int:
    return int(folder.name.removeprefix("round_").rstrip("ab"))


def sound() -> Iterator[tuple[str, str, Formula]]:
    """Round and id, what the baker called it, and the formula, of all that are read."""
    meant = json.loads((STRANGERS / "sound_as_meant.json").read_text("utf-8"))
    for folder in sorted(f for n in ROUNDS for f in STRANGERS.glob(f"round_{n}*") if _number(f) == n):
        for entry in json.loads((folder / "sound.json").read_text("utf-8")):
            text = meant.get(folder.name, {}).get(f"sound {entry['id']}", entry["text"])
            with suppress(FormulaFault):
                name = f"{folder.name.removeprefix('round_')}-{entry['id']}"
                if name not in MISREAD:
                    yield name, str(entry["kind"]), read_formula(text, name=entry["id"])


def baked(p: Process, kind: str, grams: float) -> Iterator[tuple[str, float]]:
    """What is told of the bake: sizes against the dough [g], and the plain numbers of the process."""
    volume = p.pan_volume_ml
    found: dict[str, float | None] = {
        name: getattr(p, name)
        for name in (
            "oven_c",
            "bake_min",
            "rest_min",
            "mix_min",
            "griddle_c",
            "griddle_side_min",
            "steam_min",
            "boil_min",
        )
    }
    if volume:
        found["fill"] = 100 * grams / (volume * (p.pan_cups or p.loaves or 1))
    elif p.pan_kind == "flat" and p.pan_length_cm and p.pan_width_cm:
        found["g_per_cm2"] = grams / (p.pan_length_cm * p.pan_width_cm)
    if kind in _IN_PIECES and (pieces := p.pieces or p.pan_cups or p.slices):
        found["piece_g"] = grams / pieces
    elif kind in _WHOLE:
        found["piece_g"] = grams / (p.loaves or 1)
    elif kind == "cracker":
        found["whole_g"] = grams
    warm = [r for r in p.rises if r.minutes and (r.celsius is None or _NOT_COLD_C <= r.celsius <= _NOT_HOT_C)]
    warm = [r for r in warm if r.place != "fridge"]
    if warm:
        found["proof_min"], found["proof_c"] = warm[-1].minutes, warm[-1].celsius
    if len(warm) > 1:
        found["first_rise_min"] = warm[0].minutes
    for name, (least, most) in RANGES.items():
        value = found.get(name)
        if value is not None and least <= value <= most:
            yield name, round(value, 1 if value >= 1 else 2)


def entries(without: Sequence[str]) -> Iterator[str]:
    """Lines of the table."""
    knowledge = load_knowledge()
    for name, called, formula in sound():
        if name.partition("-")[0].rstrip("ab") in without or len(formula.lines) < _FEWEST_LINES:
            continue
        known = kind_named(called, knowledge)
        kind = known.id if known else fill_defaults(formula, knowledge).kind
        amounts: dict[str, float] = {}
        for line in formula.lines:
            share = 100 * line.grams / formula.dough_g
            amounts[line.ingredient.id] = amounts.get(line.ingredient.id, 0.0) + share
        shares = ", ".join(f"{i}: {round(g, 1 if g >= 5 else 2):g}" for i, g in amounts.items())
        told = "".join(f", {k}: {v:g}" for k, v in baked(formula.process, kind, formula.dough_g))
        whipped = ", whites_whipped: true" if formula.process.whites_whipped else ""
        number = f"baker_{name.replace('-', '_')}"
        yield (
            f"- {{id: {number}, kind: {kind}, called: {json.dumps(called)}, amounts: {{{shares}}}{told}{whipped}, "
            "grade: practice}\n"
        )


def main(words: Sequence[str] | None = None) -> None:
    """Write the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--without", nargs="*", default=[])
    parser.add_argument("--out", type=Path, default=SHIPPED)
    options = parser.parse_args(words)
    options.out.write_text(HEAD + "".join(entries(options.without)), "utf-8")


if __name__ == "__main__":
    main()
