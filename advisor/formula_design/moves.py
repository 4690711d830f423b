"""Small changes that a search tries: an egg more, ten grams of water less, five minutes longer."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from advisor.formula.formula import Formula, Line
from advisor.formula_design.kitchen_amounts import baker_step
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.style_entries import StyleBake
from advisor.remedy.change import round_to

_STEPS_C, _STEPS_MIN = 5.0, 5.0
_SHORT_BAKE_MIN = 30.0
_BY_TASTE = frozenset({"salt", "flavour", "sweetener"})
"""Roles that are weighed by taste: no model is to turn them."""
_SHARE = 0.08
"""About how much of an amount a step is; never finer than a baker weighs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A formula with one thing changed; `heat` says that it has to be baked to be judged."""

    formula: Formula
    heat: bool
    turned: str
    """The ingredient's id or the field of the process."""
    up: bool
    """Whether it is more of it."""


def amount_moves(formula: Formula, place: int, knowledge: Knowledge) -> Iterator[Move]:
    """More and less of one line, in a baker's steps."""
    line = formula.lines[place]
    if _BY_TASTE & set(line.ingredient.roles):
        return
    for sign in (1.0, -1.0):
        if (moved := stepped(line, sign, knowledge)) is not None:
            lines = tuple(moved if n == place else x for n, x in enumerate(formula.lines))
            yield Move(formula=formula.with_lines(lines), heat=False, turned=line.ingredient.id, up=sign > 0)


def stepped(line: Line, sign: float, knowledge: Knowledge) -> Line | None:
    """A line one step up (1) or down (-1); `None` where nothing would be left."""
    if line.counted:
        each, count = line.grams / line.counted, line.counted + int(sign)
        return replace(line, grams=round_to(each * count, 0.1), counted=count) if count > 0 else None
    fine = baker_step(line.grams, knowledge)
    step = max(round(_SHARE * line.grams / fine), 1) * fine
    grams = round_to(line.grams + sign * step, fine)
    return replace(line, grams=grams) if grams > 0 else None


def process_moves(formula: Formula, bake: StyleBake | None) -> Iterator[Move]:
    """A little hotter or cooler, longer or shorter in oven and proof, within what the style is baked at."""
    p = formula.process
    steps: list[tuple[str, float | None, float]] = [
        ("bake_min", p.bake_min, _STEPS_MIN if (p.bake_min or 0) > _SHORT_BAKE_MIN else 2.0),
        ("oven_c", p.oven_c, _STEPS_C),
        ("proof_min", p.proof_min, _STEPS_MIN),
    ]
    for field, now, step in steps:
        if now is None or (field != "proof_min" and p.oven_steps) or (field == "proof_min" and p.proofs):
            continue
        spread = getattr(bake, field) if bake is not None else None
        for sign in (1.0, -1.0):
            value = round_to(now + sign * step, 1.0)
            inside = spread is None or spread.least <= value <= spread.most
            if value > 0 and inside:
                yield Move(
                    formula=formula.with_process(**{field: value}), heat=True, turned=field, up=sign > 0
                )


def rounded_minutes(minutes: float) -> float:
    """Minutes as a baker sets a clock: fives for a long bake, ones for a short one."""
    step = _STEPS_MIN if minutes > _SHORT_BAKE_MIN else 1.0
    return math.ceil(minutes / step - 1e-9) * step
