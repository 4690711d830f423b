"""A formula with its numbers as a baker weighs and reads them, before it is written out."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from advisor.formula.formula import Formula, Line, Process
from advisor.formula.writing.numerals import plain_measure, weighed

_SUMS = {
    "mixes": ("mix_min",),
    "rests": ("rest_min",),
    "proofs": ("proof_min", "proof_c"),
    "oven_steps": ("oven_c", "bake_min"),
}
"""Single numbers that follow from steps, and are worked out anew from the rounded ones."""


def as_weighed(formula: Formula) -> Formula:
    """Give a formula with every amount as a kitchen weighs it, g, and its process in round figures.

    An amount that its writer gave in grams stays as it was given.
    """
    lines = tuple(
        line if _given(line) else replace(line, grams=weighed(line.grams)) for line in formula.lines
    )
    return replace(formula, lines=lines, process=as_read_off(formula.process))


def _given(line: Line) -> bool:
    return not line.conversion and round(line.grams, 2) == line.grams


def as_read_off(process: Process) -> Process:
    """Give a process with its degrees, minutes and lengths as they are read off a dial, a clock or a rule."""
    values = {field.name: _plain(getattr(process, field.name)) for field in fields(process)}
    for steps, sums in _SUMS.items():
        if values[steps]:
            values |= dict.fromkeys(sums)
    return replace(process, **values)


def _plain(value: Any) -> Any:
    match value:
        case float():
            return plain_measure(value)
        case tuple():
            return tuple(
                _plain(one)
                if isinstance(one, float | int)
                else replace(one, minutes=_plain(one.minutes), celsius=_plain(one.celsius))
                for one in value
            )
    return value
