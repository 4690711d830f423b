"""Where the water goes: what ingredients give up, what they take up in the dough, what the baked loaf holds."""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.assumptions import ProcessWithDefaults


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterBudget:
    """Grams of water of one dough, and of each line in the order of the formula."""

    available: float
    absorption: float
    holding: float
    from_water: tuple[float, ...]
    from_solids: tuple[float, ...]
    taken_up: tuple[float, ...]
    held_when_baked: tuple[float, ...]

    @property
    def mixing_hydration(self) -> float | None:
        """Available water over absorption (-); `None` where nothing takes up water."""
        return self.available / self.absorption if self.absorption > 0 else None

    @property
    def baked_water_load(self) -> float | None:
        """Available water over what the baked loaf can hold (-); `None` where nothing holds water."""
        return self.available / self.holding if self.holding > 0 else None


def _per_solids(ingredient: Ingredient, knowledge: Knowledge) -> tuple[Ingredient, float]:
    """The ingredient whose figures count, and grams of it per gram: liquid egg is its powder plus water."""
    if ingredient.solids_like is None:
        return ingredient, 1.0
    powder = knowledge.ingredients[ingredient.solids_like]
    return powder, (100 - ingredient.per_100g.water) / (100 - powder.per_100g.water)


def _released(line: Line) -> float:
    share = line.ingredient.gives_water.value if line.ingredient.gives_water else 0.0
    return line.grams * line.ingredient.per_100g.water / 100 * share


def _uptake(line: Line, saturation: float, knowledge: Knowledge) -> float:
    """Grams of water taken up by a line; below zero where its solids join the liquid."""
    like, share = _per_solids(line.ingredient, knowledge)
    if like.dough_uptake is None:
        return 0.0
    strong = like.dough_uptake.value >= knowledge.coefficient("gum_strong_uptake")
    return line.grams * share * like.dough_uptake.value * (saturation if strong else 1.0)


def _protein_holding(line: Line, foam: float, knowledge: Knowledge) -> float:
    protein = line.grams * line.ingredient.per_100g.protein / 100
    total = 0.0
    for name, share in line.ingredient.protein_classes.items():
        holds = knowledge.protein_classes[name].holds_when_set.value
        total += protein * share * holds * (foam if name == "egg_white" else 1.0)
    return total


def _held(line: Line, uptake: float, saturation: float, foam: float, knowledge: Knowledge) -> float:
    """Capacity when baked: a protein or gum holds water once, so the largest of its three figures counts.

    Starch comes on top: it takes water only when it gelatinises, after the dough stage.
    """
    like, share = _per_solids(line.ingredient, knowledge)
    baked = 0.0
    if like.holds_when_baked is not None:
        strong = like.dough_uptake is not None and like.dough_uptake.value >= knowledge.coefficient(
            "gum_strong_uptake"
        )
        baked = line.grams * share * like.holds_when_baked.value * (saturation if strong else 1.0)
    starch = 0.0
    if line.ingredient.starch_holding is not None:
        starch = line.grams * line.ingredient.per_100g.starch / 100 * line.ingredient.starch_holding.value
    return max(uptake, baked, _protein_holding(line, foam, knowledge), 0.0) + starch


def _gum_saturation(formula: Formula, knowledge: Knowledge) -> float:
    """Share of the first gram's uptake that the mean gram of a strong gum still has: S/m (1 - exp(-m/S)).

    Strong gums thicken with a power of their dose, so their grams per gram fall with it; S is a share of the
    dough's water (practice). Psyllium and fibres stay linear: published series show a constant slope.
    """
    strong = knowledge.coefficient("gum_strong_uptake")
    grams = sum(
        line.grams
        for line in formula.lines
        if line.ingredient.dough_uptake is not None and line.ingredient.dough_uptake.value >= strong
    )
    if grams <= 0:
        return 1.0
    water = sum(_released(line) + max(-_uptake(line, 1.0, knowledge), 0.0) for line in formula.lines)
    scale = max(knowledge.coefficient("gum_saturation_share") * water, 1e-9)
    return scale / grams * (1 - math.exp(-grams / scale))


def water_budget(formula: Formula, knowledge: Knowledge) -> WaterBudget:
    """Lay out the water of a dough [g].

    available = sum m w r + liquid that dissolved solids add; absorption = sum m u over what takes up water;
    holding = sum over lines of max(uptake, holding of its gum or fibre, holding of its set protein) + starch.
    Validity: doughs and batters; an ingredient without figures neither gives nor takes.
    Source: marginal water at constant consistency (published psyllium series, see knowledge/bands.yaml and
    tests/models/test_hydration_gate.py); protein holding from the water of boiled egg (composition tables).
    """
    saturation = _gum_saturation(formula, knowledge)
    uptakes = [_uptake(line, saturation, knowledge) for line in formula.lines]
    from_water = tuple(_released(line) for line in formula.lines)
    from_solids = tuple(max(-u, 0.0) for u in uptakes)
    taken_up = tuple(max(u, 0.0) for u in uptakes)
    # Protein unfolded at bubble walls no longer holds water: whipped white drains.
    foam = knowledge.coefficient("foam_holding_share") if formula.process.whites_whipped else 1.0
    held = tuple(
        _held(line, u, saturation, foam, knowledge) for line, u in zip(formula.lines, uptakes, strict=True)
    )
    return WaterBudget(
        available=sum(from_water) + sum(from_solids),
        absorption=sum(taken_up),
        holding=sum(held),
        from_water=from_water,
        from_solids=from_solids,
        taken_up=taken_up,
        held_when_baked=held,
    )


def swelling_wait_min(formula: Formula, with_defaults: ProcessWithDefaults) -> float | None:
    """Minutes between the bowl and the oven in which binders swell; `None` where nothing swells slowly."""
    if not any("slow_swelling" in line.all_traits for line in formula.lines):
        return None
    return with_defaults.stood_min
