"""What a formula holds, against foods whose recipe and figures others have printed (composite_foods.yaml).

Tolerance, set for all alike: 7 % for energy and sodium; 15 %, or 0.7 g in 100 g or a serving, for every other figure.
"""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from advisor import read_formula
from advisor.models.dough.composition import net_carbohydrate
from advisor.models.dough.nutrition import nutrition
from advisor.models.measuring import dough_state_of

FOODS = yaml.safe_load((Path(__file__).parent / "composite_foods.yaml").read_text("utf-8"))
TOLERANCE = {"energy_kcal": (0.07, 0.0), "energy_us_kcal": (0.07, 0.0), "sodium_mg": (0.07, 0.0)}
OTHERS = (0.15, 0.7)


def figures_of(food, knowledge):
    formula = read_formula(food["text"])
    dough = dough_state_of(formula, knowledge).dough
    solids = dough.total - dough.water
    loaf_g = solids / (1 - food["water"] / 100) if "water" in food else dough.total
    whole = solids if food.get("dry") else loaf_g
    share = 1 / food["servings"] if "servings" in food else 100 / whole
    net = net_carbohydrate(dough, 0.0, knowledge)
    held = nutrition(formula, dough, net, share=share, loaf_g=loaf_g, knowledge=knowledge)
    sweet = held.sugars
    return {name: getattr(held, name) for name in held.__slots__} | {
        "ash": share * dough.ash,
        "simple_sugars": 1.05 * sweet + 1.10 * (held.carbohydrate_without_fibre - sweet),
    }


@pytest.mark.parametrize("food", FOODS, ids=lambda food: food["id"])
def test_a_food_holds_what_its_table_says(food, knowledge):
    got = figures_of(food, knowledge)
    for name, printed in food["figures"].items():
        share, least = TOLERANCE.get(name, OTHERS)
        off = abs(got[name] - printed)
        apart = name in food.get("apart", {})
        # What is counted otherwise must really be so, or the reason is stale.
        assert apart == (off > max(share * printed, least)), (name, printed, got[name])


def test_there_are_ten_of_them_and_each_names_its_source():
    assert len(FOODS) >= 10
    assert all(food["source"] for food in FOODS)
