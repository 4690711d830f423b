"""Temperature of the dough after mixing."""

from __future__ import annotations

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge


def dough_temperature_c(formula: Formula, water_c: float, mix_min: float, knowledge: Knowledge) -> float:
    """Heat balance over the ingredients plus the heat of mixing [C].

    T = sum m cp T / sum m cp + friction x minutes, with cp of water, fat and the rest. Ingredients are taken at
    room temperature, water at `water_c`. Source: calorimetry; friction per minute is practice.
    """
    c = knowledge.coefficient
    heat = capacity = 0.0
    for line in formula.lines:
        per_100g = line.ingredient.per_100g
        water, fat = per_100g.water / 100, per_100g.fat / 100
        cp = 4.18 * water + 2.0 * fat + 1.6 * max(1 - water - fat, 0.0)
        is_water = "water" in line.ingredient.roles or "hot_liquid" in line.all_traits
        heat += line.grams * cp * (water_c if is_water else c("room_c"))
        capacity += line.grams * cp
    return heat / capacity + mix_min * c("mixing_heat_c_per_min")
