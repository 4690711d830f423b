"""What the dough is made of: mass balance, net carbohydrate, energy, sodium, per slice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum
from operator import attrgetter

from advisor.formula.formula import Formula
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge

_PARTS = (
    "water", "protein", "fat", "fibre", "sugars", "starch", "polyols", "erythritol", "allulose", "ash", "alcohol",
    "organic_acid",
)  # fmt: skip
_PARTS_OF = attrgetter(*_PARTS)


@dataclass(frozen=True, slots=True, kw_only=True)
class DoughComposition:
    """Grams of each component in the whole dough; sodium in mg; `carbohydrate` with fibre, by difference."""

    water: float
    protein: float
    fat: float
    carbohydrate: float
    fibre: float
    sugars: float
    starch: float
    polyols: float
    erythritol: float
    allulose: float
    ash: float
    alcohol: float
    organic_acid: float
    sodium_mg: float
    total: float


def dough_composition(formula: Formula) -> DoughComposition:
    """Add up the ingredients: component_j = sum m_i x_ij / 100 [g].

    Source: mass balance; figures from knowledge/ingredients, each with its record.
    """
    return _sum_of([(line.ingredient, line.grams) for line in formula.lines], formula.dough_g)


def part_of_dough(ingredient: Ingredient, grams: float) -> DoughComposition:
    """What some grams of one ingredient bring [g]."""
    return _sum_of([(ingredient, grams)], grams)


def _sum_of(amounts: Sequence[tuple[Ingredient, float]], total: float) -> DoughComposition:
    sums = [0.0] * len(_PARTS)
    carbohydrate = sodium = 0.0
    for ingredient, grams in amounts:
        per_100g, share = ingredient.per_100g, grams / 100
        sums = [so_far + share * part for so_far, part in zip(sums, _PARTS_OF(per_100g), strict=True)]
        carbohydrate += share * per_100g.carbohydrate_with_fibre
        sodium += share * per_100g.sodium_mg
    parts = dict(zip(_PARTS, sums, strict=True))
    return DoughComposition(**parts, carbohydrate=carbohydrate, sodium_mg=sodium, total=total)


@dataclass(frozen=True, slots=True, kw_only=True)
class NetCarbohydrate:
    """Each term of the net carbohydrate of the whole loaf, g, as a convention counts it; the last is what remains."""

    carbohydrate: float
    fibre: float
    erythritol: float
    allulose: float
    polyols_counted_out: float
    fermented: float
    net: float


USUAL_CONVENTION = "half_of_polyols"
"""Of knowledge/net_carb.yaml: by which limits are held and slices compared."""


def net_carbohydrate(
    dough: DoughComposition, fermented_g: float, knowledge: Knowledge, convention: str = USUAL_CONVENTION
) -> NetCarbohydrate:
    """Carbohydrate less what a convention of knowledge/net_carb.yaml counts out, and less sugar that yeast took [g].

    A convention and no regulated term. Never below 0: fibre and sugar of some records overlap by a little.

    Raises:
        KeyError: no such convention.
    """
    out = knowledge.net_carb[convention]
    fibre, erythritol = dough.fibre * out.fibre, dough.erythritol * out.erythritol
    allulose, polyols = dough.allulose * out.allulose, dough.polyols * out.polyols
    net = dough.carbohydrate - fibre - erythritol - allulose - polyols
    fermented = min(fermented_g, max(net, 0.0))
    return NetCarbohydrate(
        carbohydrate=dough.carbohydrate,
        fibre=fibre,
        erythritol=erythritol,
        allulose=allulose,
        polyols_counted_out=polyols,
        fermented=fermented,
        net=max(net - fermented, 0.0),
    )


def energy_kcal(dough: DoughComposition, fermented_g: float, knowledge: Knowledge, rule: str) -> float:
    """Energy of the whole loaf, kcal.

    `rule` is "us" (21 CFR 101.9(c)(1): 4-4-9 with undigested carbohydrate, polyols and allulose at their own
    factors) "eu" (Regulation (EU) No 1169/2011, Annex XIV), or "eu_kj" (the same in kJ).
    Factors stand in knowledge/coefficients.yaml.

    Raises:
        KeyError: another rule than these three.
    """
    c = knowledge.coefficient
    digestible = dough.carbohydrate - dough.fibre - dough.polyols - dough.erythritol - dough.allulose
    digestible = max(digestible - fermented_g, 0.0)
    return (
        dough.protein * c(f"energy_{rule}_protein")
        + dough.fat * c(f"energy_{rule}_fat")
        + digestible * c(f"energy_{rule}_carbohydrate")
        + dough.fibre * c(f"energy_{rule}_fibre")
        + dough.polyols * c(f"energy_{rule}_polyols")
        + dough.allulose * c(f"energy_{rule}_allulose")
        + dough.organic_acid * c(f"energy_{rule}_organic_acid")
    )


def allergens(formula: Formula) -> tuple[str, ...]:
    """Allergens present, in order of the mass that carries them; last those of what stands there without a weight."""
    mass: dict[str, float] = {}
    for line in formula.lines:
        for allergen in line.ingredient.allergens:
            mass[allergen] = mass.get(allergen, 0.0) + line.grams
    for entry in formula.unweighed:  # sesame on top
        for allergen in entry.ingredient.allergens:
            mass.setdefault(allergen, 0.0)
    return tuple(sorted(mass, key=lambda a: (-mass[a], a)))


_SALT_PER_SODIUM = 58.443 / 22.990
"""NaCl over Na by molar mass."""
_SODIUM_OF_SODA = 22.990 / 84.007
"""Na over NaHCO3 by molar mass."""


def salt(formula: Formula) -> float:
    """Salt as sodium x 2.54 [g]; soda and powder left out, also those in a flour, since they do not taste salty."""
    return _SALT_PER_SODIUM * fsum(
        line.grams / 100 * _salty_sodium(line.ingredient) for line in formula.lines
    )


def _salty_sodium(ingredient: Ingredient) -> float:
    if {"soda", "powder"} & set(ingredient.roles):
        return 0.0
    soda = ingredient.soda_per_100g.value if ingredient.soda_per_100g else 0.0
    return max(ingredient.per_100g.sodium_mg / 1000 - soda * _SODIUM_OF_SODA, 0.0)


def salt_in_water(formula: Formula) -> float | None:
    """Salt, g per 100 g of all water; `None` without water."""
    water = fsum(line.grams * line.ingredient.per_100g.water / 100 for line in formula.lines)
    return 100 * salt(formula) / water if water > 0 else None


def sugar_in_water(formula: Formula) -> float | None:
    """Dissolved sugar, g per 100 g of all water; `None` without water."""
    water = fsum(line.grams * line.ingredient.per_100g.water / 100 for line in formula.lines)
    if water <= 0:
        return None
    return 100 * fsum(x.grams * x.ingredient.per_100g.dissolved_sweet / 100 for x in formula.lines) / water


def dry_base(formula: Formula) -> float:
    """Grams of structure-forming and bulking powders; for a wheat dough, the flour."""
    return fsum(line.grams for line in formula.lines if line.ingredient.dry_base)
