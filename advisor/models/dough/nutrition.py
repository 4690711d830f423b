"""What some of a loaf holds, worked out from its ingredients: energy and the parts of a nutrition table."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.composition import DoughComposition, NetCarbohydrate, energy_kcal


@dataclass(frozen=True, slots=True, kw_only=True)
class Nutrition:
    """Energy [kcal], parts [g] and sodium [mg] in `grams` of the loaf; carbohydrate with fibre and polyols."""

    grams: float
    energy_kcal: float
    protein: float
    fat: float
    carbohydrate: float
    fibre: float
    sugars: float
    polyols: float
    net_carbohydrate: float
    sodium_mg: float


def nutrition(
    dough: DoughComposition, net: NetCarbohydrate, *, share: float, loaf_g: float, knowledge: Knowledge
) -> Nutrition:
    """Give what a share (0..1) of all the dough holds once it weighs `loaf_g` in all: only water leaves in the oven.

    What yeast ate is out of the energy and the net carbohydrate; the sugars are those put in.
    """
    kcal = energy_kcal(dough, net.fermented, knowledge, "eu")
    return Nutrition(
        grams=share * loaf_g,
        energy_kcal=share * kcal,
        protein=share * dough.protein,
        fat=share * dough.fat,
        carbohydrate=share * dough.carbohydrate,
        fibre=share * dough.fibre,
        sugars=share * dough.sugars,
        polyols=share * (dough.polyols + dough.erythritol),
        net_carbohydrate=share * net.net,
        sodium_mg=share * dough.sodium_mg,
    )
