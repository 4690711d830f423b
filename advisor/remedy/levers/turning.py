"""A lever as a dial: for each setting a changed formula, with the limits that the lever and the dough allow."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.rule_entries import Lever
from advisor.models.dough.assumptions import fill_defaults
from advisor.models.measuring import baked_of, dough_state_of
from advisor.remedy.change import (
    Change,
    Changed,
    ChangeKind,
    add_grams,
    kitchen_step,
    move_grams,
    scale_lines,
    set_process,
)
from advisor.remedy.sanity import grams_allowed, process_allowed

PROCESS_UNITS = {"_min": "min", "_c": "C", "_cm": "cm", "_m": "m"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Dial:
    """`turn(x, step)` gives the formula at setting x, rounded to `step` where one is given.

    x is grams for amounts (the total of the lines turned), the process unit for the process. `now` is where the
    dial stands; `pieces` is the mass of one piece where pieces are counted.
    """

    kind: ChangeKind
    now: float
    lowest: float
    highest: float
    piece: float | None
    turn: Callable[[float, float | None], Changed]


def _unit_of(field: str) -> str:
    return next((unit for suffix, unit in PROCESS_UNITS.items() if field.endswith(suffix)), "")


def dial_for(
    lever: Lever, formula: Formula, weights: Mapping[str, float], knowledge: Knowledge
) -> Dial | None:
    """Make the dial of a lever on this formula; `None` where there is nothing to turn.

    The lever's direction closes the other way: "cooler" never ends up hotter because a curve has two sides.
    """
    turn = lever.turn
    if turn.process == "oven_c":
        dial = _oven_dial(lever, formula, weights, knowledge)
    elif turn.process:
        dial = _process_dial(lever, turn.process, formula, knowledge)
    elif turn.add:
        dial = _adding_dial(lever, turn.add, formula, knowledge)
    elif turn.replace:
        return _replacing_dial(lever, turn.replace, formula, knowledge)
    else:
        dial = _amount_dial(lever, formula)
    if dial is None:
        return None
    dial = _reasonable(
        dial, lever, formula, max(weights, key=lambda name: weights[name], default=""), knowledge
    )
    if lever.direction is None:
        return dial
    return replace(dial, lowest=dial.now) if lever.direction == "up" else replace(dial, highest=dial.now)


def _reasonable(dial: Dial, lever: Lever, formula: Formula, structure: str, knowledge: Knowledge) -> Dial:
    """Stop a dial where no baker would go on turning; where it stands already past that, it stays."""
    turn = lever.turn
    if turn.replace or lever.outright:
        return dial
    if turn.process:
        least, most = process_allowed(turn.process, dial.now, knowledge)
    elif turn.add:
        new = Line(text="", number=0, ingredient=knowledge.ingredients[turn.add], grams=0.0)
        held = [line for line in formula.lines if line.ingredient.id == turn.add] or [new]
        least, most = grams_allowed(held, formula, structure, knowledge)
    else:
        lines = [line for line in formula.lines if matches(lever, line)]
        least, most = grams_allowed(lines, formula, structure, knowledge)
    highest = min(dial.highest, most)
    if dial.piece and highest < dial.highest:
        highest = min(
            dial.piece * math.ceil(highest / dial.piece - 1e-9), dial.highest
        )  # half an egg is none
    return replace(dial, lowest=min(max(dial.lowest, least), dial.now), highest=max(highest, dial.now))


def matches(lever: Lever, line: Line) -> bool:
    """Whether a lever is about this line: its ingredient, its role or its trait."""
    turn = lever.turn
    if turn.ingredient:
        return line.ingredient.id == turn.ingredient
    if turn.ingredient_role:
        roles = line.ingredient.roles
        return turn.ingredient_role in roles and turn.but_not_role not in roles
    return bool(turn.trait) and turn.trait in line.all_traits


def _amount_dial(lever: Lever, formula: Formula) -> Dial | None:
    lines = [line for line in formula.lines if matches(lever, line)]
    now = sum(line.grams for line in lines)
    if now <= 0:
        return None
    limits = lever.limits
    low = max(now * (limits.at_least_fraction or 0.0), limits.at_least or 0.0)
    high = min(now * (limits.at_most_fraction or 3.0), limits.at_most or float("inf"))
    places = frozenset(n for n, line in enumerate(formula.lines) if matches(lever, line))
    counted = [line for line in lines if line.counted]
    piece = (
        counted[0].grams / counted[0].counted if len(lines) == 1 and counted and counted[0].counted else None
    )

    def turned(x: float, step: float | None) -> Changed:
        return scale_lines(formula, places, x / now, step)

    return Dial(
        kind="amount", now=now, lowest=min(low, now), highest=max(high, now), piece=piece, turn=turned
    )


def _adding_dial(lever: Lever, name: str, formula: Formula, knowledge: Knowledge) -> Dial | None:
    ingredient = knowledge.ingredients[name]
    counted = [line for line in formula.lines if line.ingredient.id == name and line.counted]
    each = _grams_each(ingredient.weights, ingredient.countable)
    if counted:
        # More eggs where eggs are already counted: scale that line, so that whole eggs stay whole eggs.
        line = counted[0]
        place = formula.lines.index(line)
        most = line.grams + _most_added(lever, formula)

        def scaled(x: float, step: float | None) -> Changed:
            return scale_lines(formula, frozenset({place}), x / line.grams, step)

        piece = line.grams / line.counted if line.counted else None
        return Dial(kind="amount", now=line.grams, lowest=line.grams, highest=most, piece=piece, turn=scaled)
    present = formula.grams_of(name)
    most = _most_added(lever, formula)

    def added(x: float, step: float | None) -> Changed:
        return add_grams(formula, ingredient, x - present, None if step is None else each)

    kind: ChangeKind = "amount" if present > 0 else "add"
    return Dial(
        kind=kind,
        now=present,
        lowest=present,
        highest=present + most,
        piece=each if present == 0 else None,
        turn=added,
    )


def _most_added(lever: Lever, formula: Formula) -> float:
    """Grams: the lever's own limit, and never more than a third of the dough, past which it is another formula."""
    return min(lever.limits.at_most or float("inf"), formula.dough_g / 3)


def _grams_each(weights: object, countable: str | None) -> float | None:
    if countable is None or not isinstance(weights, dict):
        return None
    weight = weights.get("large") or weights.get("medium") or weights.get("piece")
    return weight.grams if weight else None


def _replacing_dial(
    lever: Lever, pair: tuple[str, str], formula: Formula, knowledge: Knowledge
) -> Dial | None:
    source, to = pair
    present = formula.grams_of(source)
    if present <= 0:
        return None
    most = present * (lever.limits.at_most_fraction or 1.0)
    ingredient = knowledge.ingredients[to]
    of_source = _piece_in(formula, source)
    # Where the source is weighed, what takes its place may still come in pieces: milk gives way to whole eggs.
    of_target = None if of_source else _piece_in(formula, to)

    def moved(x: float, step: float | None) -> Changed:
        return move_grams(formula, source, ingredient, x, None if step is None else of_target)

    return Dial(kind="replace", now=0.0, lowest=0.0, highest=most, piece=of_source or of_target, turn=moved)


def _piece_in(formula: Formula, name: str) -> float | None:
    """Grams of one piece of an ingredient that the formula counts."""
    for line in formula.lines:
        if line.ingredient.id == name and line.counted:
            return line.grams / line.counted
    return None


def _process_dial(lever: Lever, field: str, formula: Formula, knowledge: Knowledge) -> Dial | None:
    given = getattr(formula.process, field)
    now = given if given is not None else getattr(fill_defaults(formula, knowledge), field, None)
    if now is None or isinstance(now, str | bool):
        return None
    limits, unit = lever.limits, _unit_of(field)
    low = limits.at_least if limits.at_least is not None else 0.0
    high = limits.at_most if limits.at_most is not None else max(now * 3, now + 60)

    def turned(x: float, step: float | None) -> Changed:
        return set_process(formula, field, x, unit, float(now))

    return Dial(
        kind="process", now=float(now), lowest=min(low, now), highest=max(high, now), piece=None, turn=turned
    )


def _oven_dial(
    lever: Lever, formula: Formula, weights: Mapping[str, float], knowledge: Knowledge
) -> Dial | None:
    """Oven temperature with the time that goes with it: the loaf stays in as long past core done as
    before, but no longer than a loaf needs."""
    plain = _process_dial(lever, "oven_c", formula, knowledge)
    before = baked_of(dough_state_of(formula, knowledge), knowledge)
    if plain is None or before is None or before.pull_margin_min is None:
        return plain
    most = knowledge.coefficient("remedy_pull_margin_most")
    margin, was = min(max(before.pull_margin_min, 0.0), most), before.pulled_at_min

    def turned(x: float, step: float | None) -> Changed:
        hotter = plain.turn(x, step)
        baked = baked_of(dough_state_of(hotter.formula, knowledge), knowledge)
        if baked is None or baked.core_done_min is None:
            return hotter
        minutes = baked.core_done_min + margin
        if x <= plain.now:
            minutes = max(minutes, was)  # a cooler oven never asks for a shorter bake
        minutes = minutes if step is None else round(minutes)
        if step is not None and minutes == round(was):
            return hotter  # "bake 15 min instead of 15 min" is no change
        timed = set_process(hotter.formula, "bake_min", minutes, "min", was)
        return Changed(formula=timed.formula, changes=(*hotter.changes, *timed.changes))

    return replace(plain, turn=turned)


def handling(lever: Lever) -> tuple[Change, ...]:
    """The change that a handling lever stands for."""
    return (Change(what=lever.turn.do or lever.says, unit="", before=None, after=None),)


def steps_for(dial: Dial, setting: float) -> tuple[float, ...]:
    """Roundings to try for a setting, the roundest first."""
    if dial.kind == "process":
        return (5.0, 1.0)
    if dial.piece is not None:
        return (dial.piece,)
    size = setting if dial.kind != "add" else setting - dial.now
    if size > 50:
        return (5.0, 1.0)
    if size >= 10:
        return (1.0,)
    return (0.5,) if size >= _SPOONED_FROM_G else (0.5, kitchen_step(size))


_SPOONED_FROM_G = 2.0
"""Grams from which half a gram is fine enough; below it only a fine scale helps, as for enzymes."""


def kind_of(lever: Lever, changed: Changed | None) -> ChangeKind:
    """What sort of change a lever has made; one without amounts is for the hand."""
    if changed is None or lever.turn.do:
        return "handling"
    if lever.turn.process:
        return "process"
    if lever.turn.replace:
        return "replace"
    first = changed.changes[0]
    if first.before == 0:
        return "add"
    return "omit" if first.after == 0 else "amount"
