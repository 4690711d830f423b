"""What was measured on bakes, from the filled table or from the kitchen's record."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping
from math import log

from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.formula_design.bake_plan import PlanFault, variants_of
from advisor.formula_design.kitchen import Seen
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough_state import dough_state_of
from advisor.trial_record.bake import Bake

COLUMNS = (
    "bake", "do", "core_early_c", "core_late_c", "core_c", "dough_g", "loaf_g", "height_cm", "volume_ml",
)  # fmt: skip
"""Headings of the table; what is measured stands from the third on."""
MOST_KEPT = 12
"""Bakes of the record that are looked at, the latest."""


def results_in(table: str, formula: Formula, knowledge: Knowledge) -> list[tuple[Formula, Seen]]:
    """Read a filled table: each bake with its formula as baked, and what was measured on it.

    A height counts as a volume in the tin of the formula.

    Raises:
        PlanFault: a heading, a bake or a number that cannot be read, with its row.
    """
    rows = csv.DictReader(io.StringIO(table))
    if not rows.fieldnames or "bake" not in rows.fieldnames:
        raise PlanFault("line 1: the table needs the heading that --out wrote, with the column 'bake'")
    made = {variant.id: variant.formula for variant in variants_of(formula, knowledge)}
    out = []
    for line, row in enumerate(rows, 2):
        name = (row.get("bake") or "").strip()
        if name not in made:
            raise PlanFault(f"line {line}: no bake '{name[:40]}'; there are: {', '.join(made)}")
        numbers = {column: _number(row.get(column), column, line) for column in COLUMNS[2:]}
        out.append((made[name], _seen(numbers, formula, knowledge)))
    return out


def kept_results(
    bakes: Iterable[Bake], formula: Formula, knowledge: Knowledge, region: str
) -> list[tuple[Formula, Seen]]:
    """Give the kept bakes on which something was measured, the latest first.

    Core and weight teach of the oven whatever was baked; how high a loaf came is taken of this formula alone, since
    two formulas rise unlike for more reasons than the kitchen.
    """
    out = []
    for bake in bakes:
        came, own = bake.came_out, bake.formula == formula.name
        numbers = {"core_c": came.core_c, "loaf_g": came.weight_g}
        if own:
            numbers |= {"height_cm": came.height_cm, "volume_ml": came.volume_ml}
        if all(value is None for value in numbers.values()):
            continue
        try:
            baked = read_formula_text(bake.formula_text, knowledge, region=region)
        except FormulaFault:
            continue
        out.append((baked, _seen({**dict.fromkeys(COLUMNS[2:]), **numbers}, baked, knowledge)))
        if len(out) == MOST_KEPT:
            break
    return out


def _number(cell: str | None, column: str, line: int) -> float | None:
    text = (cell or "").strip().replace(",", ".")
    if not text:
        return None
    try:
        value = float(text)
    except ValueError:
        value = float("nan")
    if not 0 < value < 100_000:
        raise PlanFault(f"line {line}: {column}: '{text[:20]}' is no number above 0")
    return value


def _seen(numbers: Mapping[str, float | None], formula: Formula, knowledge: Knowledge) -> Seen:
    given = dough_state_of(formula, knowledge).with_defaults
    dough, loaf = numbers["dough_g"] or formula.dough_g / given.pieces, numbers["loaf_g"]
    volume, height, p = numbers["volume_ml"], numbers["height_cm"], formula.process
    if volume is None and height is not None and p.pan_volume_ml and p.pan_height_cm:
        volume = height / p.pan_height_cm * p.pan_volume_ml
    return Seen(
        core_early_c=numbers["core_early_c"],
        core_late_c=numbers["core_late_c"],
        core_c=numbers["core_c"],
        loss=None if loaf is None else 1 - loaf / dough,
        log_volume=None if volume is None else log(volume * given.pieces),
    )
