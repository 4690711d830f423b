"""Lay first formulas beside those of bakers: `python tests/start_against_writers.py SOUND.json OUT [--seed N]`.

Twelve formulas are drawn by the seed. `start` is given their ingredients, kind, pan, pieces and the carbohydrate of a
slice, and nothing of their amounts. OUT/pairs.md holds each pair under A and B in an order by chance, both in the same
plain layout, for bakers to rank without knowing which is which; OUT/key.json tells it and is not to be shown them.
Where `start` has no answer the key says so, and the pair counts against it.

`--distance` writes nothing and says how far each answer is from the baker's formula, on all formulas of the file: g in
100 g of dough that stand in another ingredient (0 is the same, 100 nothing in common). Bakers of the same file must be
no part of the table: `python tests/bakers_table.py --without 11` first, and the whole table again behind it.
"""

from __future__ import annotations

import argparse
import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from random import Random
from statistics import fmean, median
from typing import Any

from advisor import load_knowledge, read_formula, start_formulas
from advisor.diagnosis.pipeline import Examiner
from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.formula.writing.as_text import process_values, written_line
from advisor.formula.writing.weighed import as_weighed
from advisor.models.dough.assumptions import fill_defaults
from advisor.models.dough.kind_of_bake import kind_named
from advisor.remedy.constraints import per_slice

_SHOWN = ("mix", "rest", "proof", "boil", "griddle", "steam", "oven")
"""Process lines of both, in the order of the work; pan and pieces are told once for both, and what only one of the two
ever writes (a fan, the heat of the water) would tell them apart."""
_CARB_TOLD_BELOW = 12.0


def drawn(entries: list[dict[str, Any]], of: int, chance: Random) -> list[tuple[str, str, Formula]]:
    """Draw formulas that are read with a bake: id, kind as the baker calls it, and the formula."""
    found = []
    for entry in entries:
        try:
            formula = read_formula(entry["text"], name=entry["id"])
        except FormulaFault:
            continue
        p = formula.process
        baked = p.bake_min or p.griddle_side_min or p.steam_min
        if len(formula.lines) >= 4 and baked and not p.microwave_min:
            found.append((str(entry["id"]), str(entry.get("kind", "")), formula))
    return chance.sample(found, min(of, len(found)))


def asked_of(kind: str, formula: Formula, examiner: Examiner) -> Mapping[str, Any]:
    """What `start` is told of a formula: no amount but the size and the limit."""
    knowledge = examiner.knowledge
    known = kind if kind_named(kind, knowledge) else fill_defaults(formula, knowledge).kind.replace("_", " ")
    asked: dict[str, Any] = {
        "kind": known,
        "made_from": [x.ingredient.name for x in formula.lines if x.ingredient.id != "water"],
    }
    p = formula.process
    if pan := process_values(p).get("pan"):
        asked["pan"] = pan
    if pieces := p.slices or p.pieces:
        asked["slices"] = pieces
        cut = formula.with_process(slices=pieces)
        net = per_slice(examiner.examine(cut, after_bake=False)).net_carb
        if net is not None and net < _CARB_TOLD_BELOW:
            asked["net_carb_max"] = math.ceil(1.1 * net * 2) / 2
    return asked


def plain(formula: Formula) -> str:
    """Amounts from much to little and the process in the order of the work, whoever wrote it."""
    weighed = as_weighed(formula)
    lines = [written_line(x).split(",")[0] for x in sorted(weighed.lines, key=lambda x: -x.grams)]
    values = process_values(replace(weighed.process, oven_fan=None))
    return "\n".join(
        [*(f"- {one}" for one in lines), *(f"- {k}: {values[k]}" for k in _SHOWN if k in values)]
    )


def apart(one: Formula, other: Formula) -> float:
    """g in 100 g of dough by which two formulas differ."""
    names = {x.ingredient.id for x in (*one.lines, *other.lines)}
    return 50 * sum(abs(one.grams_of(n) / one.dough_g - other.grams_of(n) / other.dough_g) for n in names)


def tell_distance(entries: list[dict[str, Any]], examiner: Examiner) -> None:
    """Print how far each answer is from the baker's, and the median."""
    far: list[float] = []
    some = drawn(entries, len(entries), Random(0))
    for name, kind, formula in sorted(some, key=lambda one: one[0]):
        if found := start_formulas(**asked_of(kind, formula, examiner)).formulas:
            far.append(apart(found[0].formula, formula))
        print(f"{name:6}{kind[:44]:46}{f'{far[-1]:5.1f}' if found else 'no answer'}")
    print(f"{len(far)} of {len(some)} answered, median {median(far):.1f}, mean {fmean(far):.1f}")


def main(words: Sequence[str] | None = None) -> None:
    """Write pairs and key."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("sound", type=Path)
    parser.add_argument("out", type=Path, nargs="?", default=Path("pairs"))
    parser.add_argument("--distance", action="store_true")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--of", type=int, default=12)
    options = parser.parse_args(words)
    chance, examiner = Random(options.seed), Examiner(load_knowledge())
    if options.distance:
        tell_distance(json.loads(options.sound.read_text("utf-8")), examiner)
        return
    pages, key = [], {}
    for number, (name, kind, formula) in enumerate(
        drawn(json.loads(options.sound.read_text("utf-8")), options.of, chance), 1
    ):
        asked = asked_of(kind, formula, examiner)
        found = start_formulas(**asked).formulas
        first_is_start = chance.random() < 0.5
        if not found:
            key[str(number)] = {"id": name, "asked": asked, "start": None}
            continue
        both = [plain(found[0].formula), plain(formula)]
        a, b = both if first_is_start else reversed(both)
        wanted = ", ".join(f"{k.replace('_', ' ')}: {v}" for k, v in asked.items() if k != "made_from")
        pages.append(f"## {number}\n\nWanted: {wanted}\n\n### A\n\n{a}\n\n### B\n\n{b}\n")
        key[str(number)] = {
            "id": name, "asked": asked, "start": "A" if first_is_start else "B", "passes": found[0].passes,
            "left_out": [x.name for x in found[0].left_out],
        }  # fmt: skip
    options.out.mkdir(parents=True, exist_ok=True)
    (options.out / "pairs.md").write_text("\n".join(pages), "utf-8")
    (options.out / "key.json").write_text(json.dumps(key, indent=1), "utf-8")


if __name__ == "__main__":
    main()
