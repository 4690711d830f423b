"""Water and ice for a wanted dough temperature: by heat balance, and by the sum that the trade reckons with."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.shapes import shape
from advisor.models.dough.dough_temperature import mixing_heat, water_for_dough_c

_DRY_BELOW_WATER = 20.0
"""Water in 100 g below which an ingredient is a powder from the shelf, and as warm as the flour."""
Way = Literal["tap", "warm", "ice", "too_warm", "too_cold", "no_water"]


@shape
class WaterPlan:
    """Water for one mix."""

    wanted_c: float
    """Temperature that the dough shall have after mixing, C."""
    rise_c: float
    """Warming by mixing, C."""
    water_g: float
    """Water of the formula, g."""
    needed_c: float | None
    """Temperature that it must have by heat balance, C; below 0 where only ice can do it; null without water."""
    trade_sum_c: float
    """The same by the trade's sum: three times the wanted heat less flour, room and three times the warming, C."""
    way: Way
    """Tap water as it is, warmed, with ice, or out of reach: no ice is enough, or hotter than water may be."""
    tap_g: float
    """Water to take, g: from the tap, or warmed."""
    ice_g: float
    """Ice to take for the rest, g."""


def with_temperatures(formula: Formula, room_c: float | None, flour_c: float | None) -> Formula:
    """Give a formula in a kitchen of its own heat [C]; powders whose line says no heat are as warm as the flour."""
    if room_c is not None:
        formula = formula.with_process(room_c=room_c)
    if flour_c is None:
        return formula
    return formula.with_lines(tuple(_warmed(line, flour_c) for line in formula.lines))


def _warmed(line: Line, flour_c: float) -> Line:
    dry = line.ingredient.per_100g.water < _DRY_BELOW_WATER and line.ingredient.dry_base
    return replace(line, celsius=flour_c) if dry and line.celsius is None else line


def water_plan(
    formula: Formula, wanted_c: float, mix_min: float, flour_c: float, tap_c: float, knowledge: Knowledge
) -> WaterPlan:
    """Plan the water of one mix for a dough at `wanted_c`; temperatures in C, `tap_c` of the water at hand.

    Heat balance as in `dough_temperature.py`; ice by what it takes up as it melts and warms:
    ice = water (tap - needed) / (tap + melting heat / specific heat of water).
    """
    c = knowledge.coefficient
    room = formula.process.room_c if formula.process.room_c is not None else c("room_c")
    rise = mix_min * mixing_heat(formula, knowledge)
    water_g = sum(line.grams for line in formula.lines if "water" in line.ingredient.roles)
    needed = water_for_dough_c(formula, wanted_c, mix_min, knowledge)
    way, ice_g = _way(needed, water_g, tap_c, knowledge)
    return WaterPlan(
        wanted_c=wanted_c,
        rise_c=rise,
        water_g=water_g,
        needed_c=needed,
        trade_sum_c=3 * wanted_c - flour_c - room - 3 * rise,
        way=way,
        tap_g=water_g - ice_g,
        ice_g=ice_g,
    )


def _way(needed: float | None, water_g: float, tap_c: float, knowledge: Knowledge) -> tuple[Way, float]:
    c = knowledge.coefficient
    if needed is None or water_g <= 0:
        return "no_water", 0.0
    if needed > c("hottest_water_c"):
        return "too_cold", 0.0
    if needed >= tap_c:
        return ("tap" if needed - tap_c < 0.5 else "warm"), 0.0
    ice_g = water_g * (tap_c - needed) / (tap_c + c("ice_melts_j_per_g") / c("water_heat_j_per_g_c"))
    return ("ice", ice_g) if ice_g <= water_g else ("too_warm", water_g)
