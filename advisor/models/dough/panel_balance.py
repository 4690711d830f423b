"""Does a nutrition panel agree with itself? Its energy against its parts, and its mass against 100 g."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from advisor.knowledge_base.ingredient import Composition, Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.panel import PanelFigures

_ALCOHOL_KCAL_PER_G = 7.0  # Regulation (EU) No 1169/2011, Annex XIV


@dataclass(frozen=True, slots=True, kw_only=True)
class Balance:
    """One check of a panel: whether it holds, and one line that says it with its numbers."""

    about: Literal["energy", "mass"]
    holds: bool
    says: str


def panel_balance(
    panel: PanelFigures,
    made: Composition,
    sibling: Ingredient | None,
    knowledge: Knowledge,
    *,
    water_told: bool,
) -> tuple[Balance, ...]:
    """Check energy and mass; `made` is the composition that the panel came to, `sibling` what it is like.

    Tolerances stand in knowledge/coefficients.yaml (panel_...): a share for analyses and averages, and the half
    step to which a panel is rounded, which weighs the more the smaller the serving.
    """
    return (
        _energy(panel, made, knowledge),
        _mass(panel, made, sibling, knowledge, water_told=water_told),
    )


def _step(panel: PanelFigures, knowledge: Knowledge) -> float:
    """Half a rounding step of protein, fat and carbohydrate together, g per 100 g: in quadrature."""
    half = knowledge.coefficient("panel_half_step_g") * 100 / panel.per_g
    return half * math.sqrt(3)


def energy_span(panel: PanelFigures, made: Composition, knowledge: Knowledge) -> tuple[float, float]:
    """Energy that the parts come to, kcal per 100 g, as (least, most), by the factors of the panel's law.

    E = 4 protein + 9 fat + 4 digestible + polyols + allulose + organic acid at their own factors + 7 alcohol.
    In the United States each sugar alcohol has its own factor and fibre may count nothing, or all of the total
    carbohydrate 4 kcal/g (21 CFR 101.9(c)(1)(i)(B)): the least and the most.
    """

    def factor(name: str) -> float:
        return knowledge.coefficient(f"energy_{panel.rule}_{name}")

    fibre = panel.fibre if panel.fibre is not None else made.fibre
    with_fibre = panel.carbohydrate + (fibre if panel.rule == "eu" else 0.0)
    sweet = panel.polyols + panel.erythritol + panel.allulose
    digestible = max(with_fibre - fibre - sweet, 0.0)
    fixed = (
        factor("protein") * panel.protein
        + factor("fat") * panel.fat
        + factor("carbohydrate") * digestible
        + factor("allulose") * panel.allulose
        + factor("organic_acid") * made.organic_acid
        + _ALCOHOL_KCAL_PER_G * made.alcohol
    )
    if panel.rule == "eu":
        exact = fixed + factor("polyols") * panel.polyols + factor("fibre") * fibre
        return exact, exact
    kinds = knowledge.coefficients["energy_us_polyols"].range
    fewest = kinds[0] if kinds else factor("polyols")
    all_of_it = factor("carbohydrate") * (fibre + sweet) - factor("allulose") * panel.allulose
    return fixed + fewest * panel.polyols, fixed + max(all_of_it, 0.0)


def _energy(panel: PanelFigures, made: Composition, knowledge: Knowledge) -> Balance:
    least, most = energy_span(panel, made, knowledge)
    rounding = math.hypot(
        knowledge.coefficient("panel_half_step_kcal") * 100 / panel.per_g,
        # A gram of fat weighs 9 kcal, the two others 4: sqrt(81 + 16 + 16) half steps in quadrature.
        knowledge.coefficient("panel_half_step_g") * 100 / panel.per_g * math.sqrt(113),
    )
    share = knowledge.coefficient("panel_energy_share")
    low, high = least * (1 - share) - rounding, most * (1 + share) + rounding
    holds = low <= panel.energy_kcal <= high
    parts = f"{least:.0f}" if most - least < 1 else f"{least:.0f} to {most:.0f}"
    says = f"Energy: {panel.energy_kcal:.0f} kcal per 100 g on the panel, {parts} kcal by its parts"
    if holds:
        return Balance(about="energy", holds=True, says=says + ": they agree.")
    about_fibre = {
        "us": "is fibre inside total carbohydrate, and sugar alcohol entered?",
        "eu": "is carbohydrate without fibre, and are polyols entered?",
    }[panel.rule]
    return Balance(
        about="energy",
        holds=False,
        says=f"{says} ({max(low, 0):.0f} to {high:.0f} allowed): a figure is wrong; {about_fibre}",
    )


def _mass(
    panel: PanelFigures,
    made: Composition,
    sibling: Ingredient | None,
    knowledge: Knowledge,
    *,
    water_told: bool,
) -> Balance:
    """Protein, fat and carbohydrate with fibre leave room for water and ash, about as much as in the sibling."""
    fibre = panel.fibre if panel.fibre is not None else made.fibre
    listed = panel.protein + panel.fat + panel.carbohydrate + (fibre if panel.rule == "eu" else 0.0)
    told = (made.water if water_told else 0.0) + made.alcohol + made.organic_acid
    step = _step(panel, knowledge)
    most = 100 + knowledge.coefficient("panel_mass_over_g") + step
    says = f"Mass: protein, fat, carbohydrate and fibre come to {listed:.1f} g per 100 g"
    if water_told:
        says += f", with {made.water:.1f} g of water {listed + told:.1f} g"
    if listed + told > most:
        return Balance(
            about="mass",
            holds=False,
            says=f"{says}, more than {most:.1f} g: is per_g the weight that the figures are for?",
        )
    rest = 100 - listed - told
    if water_told and rest > knowledge.coefficient("panel_rest_apart_g") + step:
        return Balance(about="mass", holds=False, says=f"{says}: {rest:.1f} g are missing.")
    if sibling is not None and not water_told:
        like = sibling.per_100g
        usual = like.water + like.ash
        apart = knowledge.coefficient("panel_rest_apart_g") + step
        if abs(rest - usual) > apart:
            return Balance(
                about="mass",
                holds=False,
                says=(
                    f"{says}, which leaves {rest:.1f} g for water and ash where {sibling.name} has {usual:.1f} g: "
                    "is per_g the weight that the figures are for? If it is, add water: g per 100 g"
                ),
            )
    return Balance(about="mass", holds=True, says=f"{says}: {max(rest, 0):.1f} g are left for the rest.")
