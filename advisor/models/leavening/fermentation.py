"""Gas from yeast: how fast it works, what it finds to eat, and when it has eaten it.

Three pools feed it: quick sugars (glucose, fructose, sucrose, which its invertase splits in minutes), maltose, and
the cells' own store; a flour's amylase frees maltose into the second. Lactose, polyols and allulose are in no pool.
The balance of the pools over time is a small system of differential equations, stepped through rest, proof
and the young oven; tests hold it against a general-purpose solver.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.cardinal import cardinal_rate
from advisor.models.dough.composition import dry_base
from advisor.models.leavening.neutralisation import ML_PER_MOL

HEXOSE_G_PER_MOL = 180.156
"""C6H12O6, from IUPAC 2021 atomic weights."""
HEXOSE_OF_DISACCHARIDE = 2 * HEXOSE_G_PER_MOL / 342.297
"""Hexose that a gram of sucrose or maltose gives, g/g; C12H22O11 by the same weights."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """What slows yeast down and feeds it: salt and sugar in the water [g per 100 g], free acid [meq per 100 g dough].

    `held_back` is what else acts on its pace, `freed` what acts on the sugar that amylase frees: factors (-).
    `frozen_days` is how long it lay frozen.
    """

    salt_per_100g_water: float
    sugar_per_100g_water: float
    acid_meq: float
    held_back: float = 1.0
    freed: float = 1.0
    frozen_days: float = 0.0


class Food(NamedTuple):
    """What the yeast of a whole dough can still turn to gas, mL of CO2 at 25 C and 101.325 kPa."""

    quick: float = 0.0
    maltose: float = 0.0
    to_be_freed: float = 0.0
    store: float = 0.0

    @property
    def total(self) -> float:
        """All gas that the food allows, mL."""
        return self.quick + self.maltose + self.to_be_freed + self.store


@dataclass(frozen=True, slots=True, kw_only=True)
class Yeast:
    """The yeast of a dough: its gas at 30 C without anything that slows it, what slows it, and its food."""

    as_instant_g: float
    rate_ml_min: float
    slowing: float
    alive: float
    inhibitor_per_yeast: float
    lag_min: float
    food: Food
    grows_per_min: float = 0.0  # at 30 C, of few cells [1/min]
    crowded: float = 1.0  # over the most that such a dough carries (-): from 1 on it multiplies no more


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A stretch of time: minutes, the yeast's rate relative to that at 30 C, and the amylase's to its own at 30 C."""

    minutes: float
    relative: float
    amylase: float
    dying: float = 0.0  # rate at which heat kills the cells [1/min]


class Progress(NamedTuple):
    """How far fermentation has come: minutes since wetting, gas made and gas possible so far [mL], food left."""

    minutes: float
    made: float
    could: float
    food: Food
    living: float = (
        1.0  # cells over those that were mixed in: what has grown, and what the heat has left alive
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class YeastGas:
    """CO2 in mL at 25 C and 101.325 kPa for the whole dough; `fermented_g` of hexose is gone with it."""

    yeast_as_instant_g: float = 0.0
    potential: float = 0.0
    sugar_limit: float = 0.0
    rest: float = 0.0
    proof: float = 0.0
    early_oven: float = 0.0
    fermented_g: float = 0.0
    inhibitor_per_yeast: float = 0.0
    alive: float = 1.0

    @property
    def total(self) -> float:
        """All CO2 that the yeast makes, mL."""
        return self.rest + self.proof + self.early_oven


def yeast_in(formula: Formula, around: Surroundings, dough_c: float, knowledge: Knowledge) -> Yeast | None:
    """Find the yeast of a dough and what it meets; `None` without yeast.

    `dough_c` is the temperature after mixing; dry yeast that is woken in water meets the water's instead.
    """
    c = knowledge.coefficient
    lines = [(line, line.ingredient.yeast_rate) for line in formula.lines]
    yeasts = [(line, line.grams * rate.value) for line, rate in lines if rate]
    if not yeasts:
        return None
    rate_30 = sum(k for _, k in yeasts)
    instant = rate_30 / c("yeast_instant_rate")
    inhibitors = sum(line.grams for line in formula.lines if "antimicrobial" in line.all_traits)
    inhibitor = inhibitors / instant if instant else 0.0
    alive = sum(k * _power_left(line, formula.process.water_c, dough_c, knowledge) for line, k in yeasts)
    alive *= thawed_share(around.frozen_days, knowledge)
    return Yeast(
        as_instant_g=instant,
        rate_ml_min=rate_30 / 60,
        slowing=_slowing(around, inhibitor, knowledge),
        alive=alive / rate_30 if rate_30 else 1.0,
        inhibitor_per_yeast=inhibitor,
        lag_min=c("yeast_lag_min"),
        food=_food(formula, instant, around.freed, knowledge),
        grows_per_min=c("yeast_grows_per_h") / 60 * _slowing(around, inhibitor, knowledge),
        crowded=100 * instant / max(dry_base(formula), 1e-9) / c("yeast_grows_up_to_pct"),
    )


def _power_left(line: Line, water_c: float | None, dough_c: float, knowledge: Knowledge) -> float:
    """What age and wetting leave of one yeast (0..1)."""
    met = water_c if "woken_in_water" in line.all_traits else None
    return math.exp(-line.age_months / knowledge.coefficient("yeast_age_months")) * waking_share(
        met, dough_c, knowledge
    )


def waking_share(water_c: float | None, dough_c: float, knowledge: Knowledge) -> float:
    """Share of the gassing power left after the yeast is wetted (0..1).

    Dried cells that swell in cold water leak; below `yeast_wakes_well_c` the loss grows linearly to
    `yeast_cold_loss` at `yeast_wakes_badly_c`. Heat kills by first order, exp(-t / tau(T)), tau falling tenfold each
    `yeast_death_z_c` above `yeast_death_c`, where it is a minute over ln 10; death is met for `yeast_meets_water_min`.
    Handbook ranges from memory; water below 41 C retards and above 43 C harms, says TM 10-412 (a safety margin).
    """
    c = knowledge.coefficient
    met = dough_c if water_c is None else water_c
    leak = 0.0
    if water_c is not None:
        good, bad = c("yeast_wakes_well_c"), c("yeast_wakes_badly_c")
        leak = c("yeast_cold_loss") * min(max((good - met) / (good - bad), 0.0), 1.0)
    per_min = math.log(10) * 10 ** ((met - c("yeast_death_c")) / c("yeast_death_z_c"))
    return (1 - leak) * math.exp(-min(per_min * c("yeast_meets_water_min"), 50.0))


def thawed_share(days: float, knowledge: Knowledge) -> float:
    """Share of the gassing power that a frozen dough's yeast keeps (0..1): a loss as it freezes, then first order.

    Trials of frozen dough find a tenth lost at once and a third to a half within four months (from memory).
    """
    if days <= 0:
        return 1.0
    c = knowledge.coefficient
    return c("frozen_yeast_kept") * math.exp(-c("frozen_yeast_per_day") * days)


def relative_rate(t_c: float, knowledge: Knowledge) -> float:
    """Rate against that at 30 C, the temperature to which yeast rates are stated (cardinal temperature model)."""
    c = knowledge.coefficient
    corners = (c("yeast_min_c"), c("yeast_optimum_c"), c("yeast_max_c"))
    return cardinal_rate(t_c, *corners) / _rate_at_30(corners)


@lru_cache(maxsize=8)
def _rate_at_30(corners: tuple[float, float, float]) -> float:
    return cardinal_rate(30.0, *corners)


def dying_rate(t_c: float, knowledge: Knowledge) -> float:
    """Rate at which wet yeast dies of heat [1/min]: ln 10 x 10^((T - T_d) / z), first order (Bigelow's law)."""
    c = knowledge.coefficient
    return math.log(10) * float(10 ** min((t_c - c("yeast_death_c")) / c("yeast_death_z_c"), 3.0))


def amylase_rate(t_c: float, knowledge: Knowledge) -> float:
    """Rate at which a flour's amylase frees sugar, against that at 30 C: Q10 up to where the heat ends it (-)."""
    c = knowledge.coefficient
    return 0.0 if t_c > c("amylase_ends_c") else c("amylase_q10") ** ((t_c - 30.0) / 10)


def ferment(yeast: Yeast, so_far: Progress, steps: Sequence[Step], knowledge: Knowledge) -> list[Progress]:
    """Follow the pools through the steps; a progress at the end of each.

    dq/dt = -v q/(q + K), dm/dt = -(v - used) s m/(m + K) + freed, do/dt = -(v - used) o/(o + K), v the rate that
    temperature, lag and surroundings allow, K the gas of one minute at 30 C (uptake saturates at thousandths of a
    gram a litre, so K only rounds the corner where a pool runs out). Heun's method, one step a stretch. Cells multiply
    by dx/dt = g x (1 - x0 x), logistic growth (Verhulst 1838, from memory)."""
    k = max(yeast.rate_ml_min * knowledge.coefficient("yeast_pool_edge_min"), 1e-12)
    slow_maltose = knowledge.coefficient("yeast_maltose_share")
    per_min = knowledge.coefficient("amylase_per_min")
    full = yeast.rate_ml_min * yeast.slowing * yeast.alive
    out: list[Progress] = []
    q, m, f, o = so_far.food.quick, so_far.food.maltose, so_far.food.to_be_freed, so_far.food.store
    now, made, could, living = so_far.minutes, so_far.made, so_far.could, so_far.living
    for step in steps:
        dt = step.minutes
        awake = min((now + dt / 2) / (2 * yeast.lag_min), 1.0) if yeast.lag_min > 0 else 1.0
        v = full * step.relative * awake * living * math.exp(-step.dying * dt / 2)
        grows = yeast.grows_per_min * step.relative * max(1.0 - yeast.crowded * living, 0.0)
        living *= math.exp((grows - step.dying) * dt)
        free = per_min * step.amylase
        # Slopes at the start and at the end, written out: a call for each took half the time.
        eaten_q = v * q / (q + k)
        eaten_m = (v - eaten_q) * slow_maltose * m / (m + k)
        eaten_o = (v - eaten_q - eaten_m) * o / (o + k)
        freed = free * f
        q1, m1 = max(q - dt * eaten_q, 0.0), max(m + dt * (freed - eaten_m), 0.0)
        f1, o1 = max(f - dt * freed, 0.0), max(o - dt * eaten_o, 0.0)
        eaten_q1 = v * q1 / (q1 + k)
        eaten_m1 = (v - eaten_q1) * slow_maltose * m1 / (m1 + k)
        eaten_o1 = (v - eaten_q1 - eaten_m1) * o1 / (o1 + k)
        freed1 = free * f1
        before = q + m + f + o
        q = max(q - dt * (eaten_q + eaten_q1) / 2, 0.0)
        m = max(m + dt * (freed - eaten_m + freed1 - eaten_m1) / 2, 0.0)
        f = max(f - dt * (freed + freed1) / 2, 0.0)
        o = max(o - dt * (eaten_o + eaten_o1) / 2, 0.0)
        made += before - (q + m + f + o)
        could += v * dt
        now += dt
        out.append(Progress(now, made, could, Food(q, m, f, o), living))
    return out


def yeast_gas(
    yeast: Yeast | None, rest: Progress, proof: Progress, oven: Progress, knowledge: Knowledge
) -> YeastGas:
    """Sum up the stages from the progress at the end of each."""
    if yeast is None:
        return YeastGas()
    eaten = max(yeast.food.total - yeast.food.store - (oven.food.total - oven.food.store), 0.0)
    return YeastGas(
        yeast_as_instant_g=yeast.as_instant_g,
        potential=oven.could,
        sugar_limit=yeast.food.total,
        rest=rest.made,
        proof=proof.made - rest.made,
        early_oven=oven.made - proof.made,
        fermented_g=eaten / (2 * ML_PER_MOL * knowledge.coefficient("yeast_yield")) * HEXOSE_G_PER_MOL,
        inhibitor_per_yeast=yeast.inhibitor_per_yeast,
        alive=yeast.alive,
    )


def _food(formula: Formula, instant_g: float, freed_more: float, knowledge: Knowledge) -> Food:
    """1 mol hexose gives 2 mol CO2 (C6H12O6 -> 2 C2H5OH + 2 CO2) at the practical yield; sugars as hexose [mL]."""
    c = knowledge.coefficient
    per_g = 2 * ML_PER_MOL * c("yeast_yield") / HEXOSE_G_PER_MOL
    food = Food(store=instant_g * c("yeast_own_store_ml_per_g"))
    for line in formula.lines:
        if line.ingredient.fermentable_sugars is None:
            continue
        ml = line.grams * line.ingredient.fermentable_sugars.value / 100 * per_g
        maltose, freed = line.ingredient.maltose_share, line.ingredient.freed_by_amylase_share
        # A disaccharide takes up a water as it splits: C12H22O11 + H2O -> 2 C6H12O6.
        ml *= 1 + (HEXOSE_OF_DISACCHARIDE - 1) * min(maltose + freed + line.ingredient.sucrose_share, 1.0)
        food = food._replace(
            quick=food.quick + ml * (1 - maltose - freed),
            maltose=food.maltose + ml * maltose,
            to_be_freed=food.to_be_freed + ml * freed * freed_more,
        )
    return food


def _slowing(around: Surroundings, inhibitor: float, knowledge: Knowledge) -> float:
    """Product of five factors in 0..1: salt, osmotic stress, acid, antimicrobial spices, preservatives."""
    c = knowledge.coefficient
    salt = max(1 - around.salt_per_100g_water / c("yeast_salt_stops_at"), 0.0)
    over = max(around.sugar_per_100g_water - c("yeast_sugar_free_up_to"), 0.0)
    sugar = math.exp(-over / c("yeast_sugar_scale"))
    acid = math.exp(-max(around.acid_meq - c("yeast_acid_free_up_to"), 0.0) / c("yeast_acid_scale"))
    spice = 1 / (1 + (inhibitor / c("yeast_inhibitor_half")) ** 2)
    return salt * sugar * acid * spice * min(around.held_back, 1.0)
