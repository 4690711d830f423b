"""Temperature of the dough after mixing, and of the water for a wanted one."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.ingredient import Composition
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.measured import Mixer
from advisor.models.dough.thermal import Makeup, heat_capacity

_MIDDLE_C = 25.0
"""Temperature at which heat capacities are taken: they change by a hundredth from here to where doughs lie."""
_BOILS_C = 100.0


def dough_temperature_c(formula: Formula, water_c: float, mix_min: float, knowledge: Knowledge) -> float:
    """Heat balance over the ingredients plus the heat of mixing [C].

    T = sum m cp T / sum m cp + friction x minutes; cp by Choi and Okos (thermal.py). An ingredient is taken at the
    temperature that its line states, else at that of the room; water and what is written as hot at `water_c`.
    Friction per minute is practice, by the mixer that the formula names.
    """
    parts = _heat_capacities(formula)
    room_c = _room_c(formula, knowledge)
    held = parts.poured * water_c + parts.rest * room_c + parts.own_heat
    mixed = held / (parts.poured + parts.rest + parts.own)
    # Mixed for hours a dough boils at last, and gets no hotter: what warms it leaves as steam.
    return max(mixed, min(mixed + _warming(formula, mix_min, knowledge), _BOILS_C))


def water_for_dough_c(
    formula: Formula, wanted_c: float, mix_min: float, knowledge: Knowledge
) -> float | None:
    """Temperature of the water that brings the dough to `wanted_c` after mixing [C]; the same balance solved.

    It may lie beyond what water can be; `None` without water.
    """
    parts = _heat_capacities(formula)
    if parts.poured <= 0:
        return None
    before_mixing = wanted_c - _warming(formula, mix_min, knowledge)
    wanted = before_mixing * (parts.poured + parts.rest + parts.own)
    return (wanted - parts.rest * _room_c(formula, knowledge) - parts.own_heat) / parts.poured


def _warming(formula: Formula, mix_min: float, knowledge: Knowledge) -> float:
    """Warming by mixing [C]: by the minute; in a mixer that nobody named it ends, since long minutes hold rests."""
    named = named_mixer(formula.process.mixer or "", knowledge)
    minutes = mix_min if named else min(mix_min, knowledge.coefficient("mixing_heat_at_most_min"))
    return minutes * mixing_heat(formula, knowledge)


def mixing_heat(formula: Formula, knowledge: Knowledge) -> float:
    """Warming of the dough a minute of mixing [C/min]: of the mixer that the formula names, else a usual one."""
    mixer = named_mixer(formula.process.mixer or "", knowledge)
    return knowledge.coefficient("mixing_heat_c_per_min") if mixer is None else mixer.heat_c_per_min.value


def named_mixer(said: str, knowledge: Knowledge) -> Mixer | None:
    """Find the mixer that some words name; the longest name that stands in them wins."""
    words = f" {' '.join(said.lower().replace('-', ' ').replace('_', ' ').split())} "
    found = [
        (len(name), mixer)
        for mixer in knowledge.mixers.values()
        for name in mixer.names
        if f" {name} " in words
    ]
    return max(found, key=lambda pair: pair[0])[1] if found else None


def _room_c(formula: Formula, knowledge: Knowledge) -> float:
    """Temperature of the kitchen, and of what comes from its shelf [C]."""
    stated = formula.process.room_c
    return knowledge.coefficient("room_c") if stated is None else stated


@dataclass(frozen=True, slots=True, kw_only=True)
class _Parts:
    """Heat capacity [J/K] of what is poured at the water's heat, of the rest, and of what has a heat of its own.

    `own_heat` is that capacity times its temperature [J, counted from 0 C].
    """

    poured: float
    rest: float
    own: float
    own_heat: float


def _heat_capacities(formula: Formula) -> _Parts:
    poured = rest = own = own_heat = 0.0
    for line in formula.lines:
        capacity = line.grams / 1000 * _specific_heat(line.ingredient.per_100g)
        if line.celsius is not None:
            own += capacity
            own_heat += capacity * line.celsius
        elif _is_poured(line):
            poured += capacity
        else:
            rest += capacity
    return _Parts(poured=poured, rest=rest, own=own, own_heat=own_heat)


def _is_poured(line: Line) -> bool:
    return "water" in line.ingredient.roles or "hot_liquid" in line.all_traits


@lru_cache(maxsize=1024)
def _of_parts(water: float, protein: float, fat: float, carb: float, fibre: float, ash: float) -> float:
    makeup = Makeup(water=water, protein=protein, fat=fat, carb=carb, fibre=fibre, ash=ash)
    return heat_capacity(makeup, _MIDDLE_C)


def _specific_heat(c: Composition) -> float:
    """Specific heat [J/(kg K)]; what a record leaves out counts as ash."""
    carb = max(c.carbohydrate_with_fibre - c.fibre, 0.0)
    listed = c.water + c.protein + c.fat + carb + c.fibre + c.alcohol
    return _of_parts(c.water + c.alcohol, c.protein, c.fat, carb, c.fibre, max(100 - listed, 0.0) or c.ash)
