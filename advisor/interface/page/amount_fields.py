"""A slider and a field for every amount of a formula, for its oven and its minutes."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor, log10

from advisor.formula.formula import Formula
from advisor.remedy.change import kitchen_step
from advisor.rendering.baker_units import units_in_use
from advisor.rendering.html import Html, text
from advisor.rendering.quantities import F_AT_0_C, F_PER_C

_OVEN_C, _OVEN_F, _BAKE = (60, 300, 5), (140, 575, 5), (5, 240, 1)
"""Least, most and step of the two sliders, in C or F and minutes; a field takes more."""


def amount_fields(formula: Formula) -> Html:
    """All of them as entries of a list."""
    return "".join((*_amounts(formula), *_times(formula)))


def _amounts(formula: Formula) -> Iterator[Html]:
    for place, line in enumerate(formula.lines):
        each = line.grams / line.counted if line.counted else 1.0
        value = line.counted if line.counted else line.grams
        unit = "pieces" if line.counted else "g"
        step = 1 if line.counted else kitchen_step(line.grams)
        yield _field(
            f"amount-{place}",
            line.ingredient.name,
            unit,
            value=value,
            least=0,
            most=_round_up(2 * value),
            step=step,
            data=f"data-place='{place}' data-each='{each:.9g}'",
        )


def _times(formula: Formula) -> Iterator[Html]:
    p, in_f = formula.process, units_in_use() == "us"
    oven = ("F", _OVEN_F, 1 / F_PER_C, F_AT_0_C) if in_f else ("C", _OVEN_C, 1.0, 0.0)
    for name, label, value, (unit, (least, most, step), each, zero) in (
        ("oven_c", "oven", p.oven_c, oven),
        ("bake_min", "minutes in the oven", p.bake_min, ("min", _BAKE, 1.0, 0.0)),
    ):
        if value is not None:
            shown = round(value, 1) if each == 1 else float(round(value / each + zero))
            yield _field(
                f"amount-{name}", label, unit, value=shown, least=least, most=max(most, ceil(shown)), step=step,
                data=f"data-process='{name}' data-each='{each:.9g}' data-zero='{zero:g}'",
            )  # fmt: skip


def _field(
    ident: str, label: str, unit: str, *, value: float, least: float, most: float, step: float, data: str
) -> Html:
    # A slider gives multiples of its step from its least; the field takes what stands in the formula as it is.
    name = text(label[:1].upper() + label[1:])
    return (
        f"<li><label for='{ident}'>{name}</label><span class='amount'><input id='{ident}' type='number' "
        f"inputmode='decimal' min='0' step='any' value='{value:.6g}' {data}><span class='unit'>{text(unit)}</span>"
        f"</span><input type='range' aria-label='{name}, {text(unit)}' min='{least:g}' max='{most:g}' "
        f"step='{step:g}' value='{value:.6g}' {data}><span class='was' data-was='{value:.6g}'></span></li>"
    )


def _round_up(value: float) -> float:
    """Up to a number that ends a slider well: one digit and a half of it."""
    if value <= 0:
        return 10.0
    half: float = 10.0 ** floor(log10(value)) / 2
    return max(ceil(value / half) * half, 2.0)
