"""What some of a loaf holds, worked out from its ingredients: energy and the parts of a nutrition table.

Where an ingredient's saturates or sugars are not known, the figure is a span: the least from what is known, and the
most that the rest could hold (all its fat; all its carbohydrate that nothing else accounts for).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.panel import SALT_PER_SODIUM
from advisor.knowledge_base.shapes import shape
from advisor.models.dough.composition import DoughComposition, NetCarbohydrate, energy_kcal, net_carbohydrate

_MATTERS_G = 0.02
"""Per 100 g of dough; a gap below this moves no figure that is printed."""


@shape
class Nutrition:
    """Energy, parts and sodium in some of the loaf."""

    grams: float
    """Weight of it, g."""
    energy_kj: float
    """Energy, kJ, by the factors of the European Union."""
    energy_kcal: float
    """Energy, kcal, by the factors of the European Union."""
    energy_us_kcal: float
    """Energy, kcal, by the general factors of the United States, soluble and insoluble fibre counted alike."""
    fat: float
    """Fat, g."""
    saturates: float
    """Saturated fatty acids, g: the least, where those of an ingredient are not known."""
    saturates_up_to: float
    """The most they may be, g; the same where all are known."""
    carbohydrate: float
    """Carbohydrate with fibre and sugar alcohols, g, less what yeast took: total carbohydrate of the United States."""
    carbohydrate_without_fibre: float
    """Carbohydrate with sugar alcohols and without fibre, g: carbohydrate of the European Union."""
    sugars: float
    """Sugars left, g: the least, where those of an ingredient are not known."""
    sugars_up_to: float
    """The most they may be, g, with the sugar that enzymes of a flour set free; the same where all is known."""
    polyols: float
    """Sugar alcohols put in, erythritol among them, g; traces that fruit holds are in no table."""
    fibre: float
    """Fibre, g."""
    protein: float
    """Protein, g, as the tables count it from nitrogen."""
    salt: float
    """Salt, g: sodium times 2.5."""
    sodium_mg: float
    """Sodium, mg."""
    net_carbohydrate: float
    """Net carbohydrate by the usual convention, g: no regulated term."""
    net_by_convention: Mapping[str, float]
    """Net carbohydrate by each convention of knowledge/net_carb.yaml, g."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftSugars:
    """Sugars of the whole dough after yeast, g: the least and the most they may be."""

    least: float
    most: float


def left_sugars(formula: Formula, fermented_g: float) -> LeftSugars:
    """Sugars that yeast leaves [g]; it takes first what is sugar from the start, then what amylase sets free.

    Lactose and what else it cannot eat stays. What amylase may set free counts only in a yeasted dough, and only
    towards the most: how much of it comes free depends on the flour.
    """
    stays = quick = freed = unknown = 0.0
    for line in formula.lines:
        held, share = line.ingredient.per_100g, line.grams / 100
        eaten = line.ingredient.fermentable_sugars
        of_amylase = line.ingredient.freed_by_amylase_share
        free = min(eaten.value * (1 - of_amylase), held.sugars) if eaten else 0.0
        quick += share * free
        stays += share * (held.sugars - free)
        freed += share * eaten.value * of_amylase if eaten else 0.0
        unknown += share * (held.sugars_up_to - held.sugars)
    yeasted = any(line.ingredient.yeast_rate for line in formula.lines)
    least = stays + max(quick - fermented_g, 0.0)
    most = stays + max(quick + (freed if yeasted else 0.0) - fermented_g, 0.0) + unknown
    return LeftSugars(least=least, most=max(least, most))


def nutrition(
    formula: Formula,
    dough: DoughComposition,
    net: NetCarbohydrate,
    *,
    share: float,
    loaf_g: float,
    knowledge: Knowledge,
) -> Nutrition:
    """Give what a share (0..1) of all the dough holds once it weighs `loaf_g` in all: only water leaves in the oven.

    What yeast ate is out of the energy, the carbohydrate and the sugars. Energy: Regulation (EU) No 1169/2011,
    Annex XIV, and 21 CFR 101.9(c)(1); salt: the same regulation, Annex I.
    """

    def energy(rule: str) -> float:
        return share * energy_kcal(dough, net.fermented, knowledge, rule)

    sugars = left_sugars(formula, net.fermented)
    carbohydrate = dough.carbohydrate - net.fermented
    saturates = sum(x.grams / 100 * (x.ingredient.per_100g.saturates or 0.0) for x in formula.lines)
    most_saturates = sum(x.grams / 100 * x.ingredient.per_100g.saturates_up_to for x in formula.lines)
    by_convention = {
        name: share * net_carbohydrate(dough, net.fermented, knowledge, name).net
        for name in knowledge.net_carb
    }
    return Nutrition(
        grams=share * loaf_g,
        energy_kj=energy("eu_kj"),
        energy_kcal=energy("eu"),
        energy_us_kcal=energy("us"),
        fat=share * dough.fat,
        saturates=share * saturates,
        saturates_up_to=share * most_saturates,
        carbohydrate=share * carbohydrate,
        carbohydrate_without_fibre=share * max(carbohydrate - dough.fibre, 0.0),
        sugars=share * sugars.least,
        sugars_up_to=share * sugars.most,
        polyols=share * (dough.polyols + dough.erythritol),
        fibre=share * dough.fibre,
        protein=share * dough.protein,
        salt=share * dough.sodium_mg / 1000 * SALT_PER_SODIUM,
        sodium_mg=share * dough.sodium_mg,
        net_carbohydrate=share * net.net,
        net_by_convention=by_convention,
    )


@shape
class UnknownPart:
    """A part that is not known of some ingredients."""

    part: str
    """Saturates or sugars."""
    ingredients: tuple[str, ...]
    """Names of the ingredients, the weightiest first."""
    at_most: float
    """The most that they may add to 100 g of dough, g."""


def unknown_parts(formula: Formula) -> tuple[UnknownPart, ...]:
    """Name what no table says of these ingredients, where it could move a printed figure."""
    dough = formula.dough_g
    gaps = {"saturates": dict[str, float](), "sugars": dict[str, float]()}
    for line in formula.lines:
        held = line.ingredient.per_100g
        for part, gap in (
            ("saturates", held.saturates_up_to - (held.saturates or 0.0)),
            ("sugars", held.sugars_up_to - held.sugars),
        ):
            if gap * line.grams / dough > _MATTERS_G:
                name = line.ingredient.name
                gaps[part][name] = gaps[part].get(name, 0.0) + gap * line.grams / dough
    return tuple(_parts(gaps))


def _parts(gaps: Mapping[str, Mapping[str, float]]) -> Iterable[UnknownPart]:
    for part, by_name in gaps.items():
        if by_name:
            names = sorted(by_name, key=lambda name: (-by_name[name], name))
            yield UnknownPart(part=part, ingredients=tuple(names), at_most=sum(by_name.values()))
