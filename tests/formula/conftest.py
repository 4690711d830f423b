"""A small kitchen of its own, so that these tests do not move when the knowledge grows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from types import MappingProxyType
from typing import Any

import pytest

from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.knowledge_base.ingredient import Composition, HouseholdWeight, Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.measured import Unit

_EMPTY: Any = MappingProxyType({})


def _food(
    name: str,
    roles: Sequence[str],
    *,
    also: Sequence[str] = (),
    water: float = 0,
    fat: float = 0,
    countable: str | None = None,
    **weights: float,
) -> Ingredient:
    composition = Composition(
        data_set="demo",
        record="demo",
        basis="by_difference",
        water=water,
        protein=0,
        fat=fat,
        carbohydrate=100 - water - fat,
        grade="demo",
    )
    return Ingredient(
        id=name.lower().replace(" ", "_").replace("-", "_"),
        name=name,
        also=tuple(also),
        family="demo",
        roles=tuple(roles),  # type: ignore[arg-type]
        per_100g=composition,
        countable=countable,
        weights={k: HouseholdWeight(grams=v, grade="memory") for k, v in weights.items()},
    )


_FOODS = (
    _food("vital wheat gluten", ["gluten"], also=["gluten"], cup=120),
    _food("ground flaxseed", ["meal"], cup=112, tbsp=7),
    _food("whole flaxseed", ["meal"], also=["flaxseed"], cup=168),
    _food("almond flour", ["meal"], cup=96),
    _food(
        "whole egg", ["egg"], also=["egg", "eggs"], water=76, countable="egg", large=50, medium=44, cup=243
    ),
    _food("egg white", ["egg"], water=88, countable="egg white", large=33),
    _food("egg yolk", ["egg"], water=50, countable="egg yolk", large=17),
    _food("low-moisture mozzarella", ["cheese"], also=["mozzarella"], water=46, cup=112),
    _food("bagged grated mozzarella", ["cheese"], also=["pre-shredded mozzarella"], water=46, cup=112),
    _food("cream cheese", ["cheese"], water=55, cup=232),
    _food("water", ["water"], also=["boiling water"], water=100, cup=237),
    _food("whole milk", ["liquid"], also=["milk"], water=88, cup=244),
    _food("semi-skimmed milk", ["liquid"], also=["2% milk"], water=89, cup=244),
    _food("half and half", ["liquid"], water=80, cup=242),
    _food("Greek yoghurt", ["liquid"], water=80, cup=240),
    _food("cider vinegar", ["acid"], also=["apple cider vinegar"], water=94, tbsp=14.9, tsp=5),
    _food("cream of tartar", ["acid"], tsp=3),
    _food("olive oil", ["fat"], fat=100, tbsp=13.5),
    _food("butter", ["fat"], water=17, fat=81, stick=113, tbsp=14.2),
    _food("baking powder", ["powder"], tsp=4.6),
    _food("instant yeast", ["yeast"], also=["yeast"], packet=7),
    _food("xanthan gum", ["gum"], also=["xanthan"], tsp=2.5),
    _food("psyllium husk powder", ["gum"], also=["psyllium"]),
    _food("salt", ["salt"], tsp=6),
    _food("courgette", ["filler"], water=95, medium=196),
)
_UNITS = (
    Unit(id="g", names=("g", "gram", "grams"), grams=1, grade="published", sources=("nist-handbook-44",)),
    Unit(id="kg", names=("kg",), grams=1000, grade="published", sources=("nist-handbook-44",)),
    Unit(id="oz", names=("oz", "ounce"), grams=28.349523125, grade="practice"),
    Unit(id="lb", names=("lb", "pound"), grams=453.59237, grade="practice"),
    Unit(id="ml", names=("ml", "millilitre"), millilitres=1, grade="practice"),
    Unit(id="fl_oz", names=("fl oz", "fluid ounce"), millilitres=29.5735295625, grade="practice"),
    Unit(id="cup", names=("cup", "c"), millilitres=236.5882365, regions={"metric": 250.0}, grade="practice"),
    Unit(id="tbsp", names=("tbsp", "tablespoon", "T"), millilitres=14.78676478125, grade="practice"),
    Unit(id="tsp", names=("tsp", "teaspoon", "t"), millilitres=4.92892159375, grade="practice"),
    Unit(id="pinch", names=("pinch",), millilitres=0.308, grade="practice"),
    Unit(id="stick", names=("stick",), grade="practice"),
    Unit(id="packet", names=("packet", "package"), grade="practice"),
    Unit(id="piece", names=("piece",), grade="practice"),
)


@pytest.fixture(scope="session")
def kitchen() -> Knowledge:
    """A knowledge that holds ingredients and units, and nothing else."""
    return Knowledge(
        ingredients={f.id: f for f in _FOODS},
        units={u.id: u for u in _UNITS},
        protein_classes=_EMPTY,
        acids=_EMPTY,
        coefficients=_EMPTY,
        measures=_EMPTY,
        structures=_EMPTY,
        bands=(),
        causes=_EMPTY,
        mechanisms=_EMPTY,
        symptoms=_EMPTY,
        links=(),
        levers=_EMPTY,
        questions=_EMPTY,
        cautions=_EMPTY,
        traits=_EMPTY,
        sources=_EMPTY,
        glossary=_EMPTY,
        rules=_EMPTY,
        retired=_EMPTY,
        formulas=_EMPTY,
        origin=_EMPTY,
    )


@pytest.fixture(scope="session")
def read(kitchen: Knowledge) -> Callable[..., Formula]:
    """Read a text with the small kitchen."""

    def reading(text: str, **options: str) -> Formula:
        return read_formula_text(text, kitchen, **options)

    return reading
