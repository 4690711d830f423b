"""Gas from yeast: how much it could make in the time, and how much the sugar allows."""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.cardinal import cardinal_rate
from advisor.models.neutralisation import ML_PER_MOL

HEXOSE_G_PER_MOL = 180.156
"""C6H12O6, from IUPAC 2021 atomic weights."""


@dataclass(frozen=True, slots=True, kw_only=True)
class YeastGas:
    """CO2 in mL at 25 C and 101.325 kPa for the whole dough; `fermented_g` of hexose is gone with it."""

    yeast_as_instant_g: float
    potential: float
    sugar_limit: float
    rest: float
    proof: float
    early_oven: float
    fermented_g: float
    inhibitor_per_yeast: float

    @property
    def total(self) -> float:
        """All CO2 that the yeast makes, mL."""
        return self.rest + self.proof + self.early_oven


_NO_YEAST = YeastGas(
    yeast_as_instant_g=0,
    potential=0,
    sugar_limit=0,
    rest=0,
    proof=0,
    early_oven=0,
    fermented_g=0,
    inhibitor_per_yeast=0,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """What slows yeast down: salt and sugar in the water [g per 100 g], free acid [meq per 100 g dough]."""

    salt_per_100g_water: float
    sugar_per_100g_water: float
    acid_meq: float


def yeast_gas(
    formula: Formula, around: Surroundings, dough_c: float, rest_min: float, proof_min: float, proof_c: float,
    knowledge: Knowledge,
) -> YeastGas:  # fmt: skip
    """CO2 of rest, proof and first oven minutes, never more than the sugar and the cells' own store allow.

    Rate = sum m k30 x r(T)/r(30) x slowing factors, after a lag; r by the cardinal temperature model.
    Sugar limit: 1 mol hexose gives 2 mol CO2 (C6H12O6 -> 2 C2H5OH + 2 CO2) at the practical yield.
    Validity: first hours of a dough; growth is left out.
    """
    c = knowledge.coefficient
    yeasts = [
        (line.grams, line.ingredient.yeast_rate.value) for line in formula.lines if line.ingredient.yeast_rate
    ]
    if not yeasts:
        return _NO_YEAST
    rate_30 = sum(grams * k for grams, k in yeasts)
    instant = rate_30 / c("yeast_instant_rate")
    inhibitors = sum(line.grams for line in formula.lines if "antimicrobial" in line.all_traits)
    slowed = rate_30 * _slowing(around, inhibitors / instant if instant else 0.0, knowledge)
    lag = c("yeast_lag_min")
    rest_active = max(rest_min - lag, 0.0)
    proof_active = max(proof_min - max(lag - rest_min, 0.0), 0.0)
    could = (
        slowed * _relative(dough_c, knowledge) * rest_active / 60,
        slowed * _relative(proof_c, knowledge) * proof_active / 60,
        slowed * _relative(c("yeast_optimum_c"), knowledge) * c("yeast_oven_min") / 60,
    )
    sugar = sum(
        line.grams * line.ingredient.fermentable_sugars.value / 100
        for line in formula.lines
        if line.ingredient.fermentable_sugars
    )
    from_sugar = sugar / HEXOSE_G_PER_MOL * 2 * ML_PER_MOL * c("yeast_yield")
    store = instant * c("yeast_own_store_ml_per_g")
    limit = from_sugar + store
    rest = min(could[0], limit)
    proof = min(could[1], limit - rest)
    oven = min(could[2], limit - rest - proof)
    eaten = max(rest + proof + oven - store, 0.0)
    return YeastGas(
        yeast_as_instant_g=instant,
        potential=sum(could),
        sugar_limit=limit,
        rest=rest,
        proof=proof,
        early_oven=oven,
        fermented_g=eaten / (2 * ML_PER_MOL * c("yeast_yield")) * HEXOSE_G_PER_MOL,
        inhibitor_per_yeast=inhibitors / instant if instant else 0.0,
    )


def _relative(t_c: float, knowledge: Knowledge) -> float:
    """Rate against that at 30 C, the temperature to which yeast rates are stated."""
    c = knowledge.coefficient
    corners = (c("yeast_min_c"), c("yeast_optimum_c"), c("yeast_max_c"))
    return cardinal_rate(t_c, *corners) / cardinal_rate(30.0, *corners)


def _slowing(around: Surroundings, inhibitor: float, knowledge: Knowledge) -> float:
    """Product of four factors in 0..1: salt, osmotic stress, acid, antimicrobial spices."""
    c = knowledge.coefficient
    salt = max(1 - around.salt_per_100g_water / c("yeast_salt_stops_at"), 0.0)
    over = max(around.sugar_per_100g_water - c("yeast_sugar_free_up_to"), 0.0)
    sugar = math.exp(-over / c("yeast_sugar_scale"))
    acid = math.exp(-max(around.acid_meq - c("yeast_acid_free_up_to"), 0.0) / c("yeast_acid_scale"))
    spice = 1 / (1 + (inhibitor / c("yeast_inhibitor_half")) ** 2)
    return salt * sugar * acid * spice
