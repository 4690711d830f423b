"""How far doses move what is acted on: the relations of knowledge/influences, added up for one dough."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.influence import Dose, Influence
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough_state import DoughState
from advisor.models.loaf.films import Films


@dataclass(frozen=True, slots=True, kw_only=True)
class Influences:
    """Sum of what acts on each thing: logarithms of factors, for `crumb_light` points of L*."""

    by_thing: Mapping[str, float]

    def summed(self, thing: str) -> float:
        """Sum of the logarithms (or points) for one thing; 0 where nothing acts on it."""
        return self.by_thing.get(thing, 0.0)

    def factor(self, thing: str) -> float:
        """Factor on one thing (-)."""
        return math.exp(self.summed(thing))


def form_of(form: str, x: float) -> float:
    """Value of a form at a dose over its scale (-); 0 at no dose.

    linear x; saturates 1 - exp(-x); peaks x exp(1 - x), 1 at its peak; grows x^2 / (1 + x).
    """
    if x <= 0:
        return 0.0
    if form == "linear":
        return x
    if form == "saturates":
        return -math.expm1(-x)
    if form == "peaks":
        return x * math.exp(1 - x)
    return x * x / (1 + x)


def amounts_of(dough_state: DoughState, left_sugars_g: float) -> dict[str, float]:
    """Amounts of the whole dough that doses may be counted in, g; `left_sugars_g` is what yeast leaves."""
    dough = dough_state.dough
    lactose = sum(
        line.grams * line.ingredient.per_100g.sugars / 100
        for line in dough_state.formula.lines
        if "lactose" in line.all_traits
    )
    return {
        "fat": dough.fat,
        "fibre": dough.fibre,
        "starch": dough.starch,
        "sugars": dough.sugars,
        "left_sugars": left_sugars_g,
        "lactose": lactose,
        "polyols": dough.polyols + dough.erythritol,
        "allulose": dough.allulose,
        "salt": (dough_state.values["salt_per_100g_water"] or 0.0) * dough.water / 100,
        "acid": dough.organic_acid,
        "protein": dough.protein,
    }


def dose_g(dose: Dose, formula: Formula, amounts: Mapping[str, float]) -> float:
    """Grams of a whole dough that count towards a dose."""
    if dose.amount is not None:
        return amounts[dose.amount]
    if dose.protein:
        return sum(
            line.grams
            * line.ingredient.per_100g.protein
            / 100
            * line.ingredient.protein_classes.get(name, 0.0)
            for line in formula.lines
            for name in dose.protein
        )
    return sum(line.grams * _share(dose, line) for line in formula.lines)


def _share(dose: Dose, line: Line) -> float:
    """Grams that count towards a dose in one gram of a line; one that `acts_like` others counts as those."""
    if dose.ingredients:
        if line.ingredient.id in dose.ingredients:
            return 1.0
        return sum(g.value for like, g in line.ingredient.acts_like.items() if like in dose.ingredients)
    if dose.traits:
        return float(not set(dose.traits).isdisjoint(line.all_traits))
    return float(not set(dose.roles).isdisjoint(line.ingredient.roles))


def influences_on(
    dough_state: DoughState,
    films: Films,
    left_sugars_g: float,
    knowledge: Knowledge,
    only: Iterable[str] = (),
) -> Influences:
    """Add up every relation of knowledge/influences for one dough; `only` some of the things acted on.

    Doses are in g per 100 g of dry base. Relations multiply, as separate factors do in response surfaces of
    baking trials on a logarithmic scale; that they act apart is an assumption.
    """
    dry = dough_state.dry_base
    if dry <= 0:
        return Influences(by_thing={})
    wanted = frozenset(only)
    amounts = amounts_of(dough_state, left_sugars_g)
    acts = {"any": 1.0, "gluten": films.gluten, "weak": films.weak}
    out: dict[str, float] = {}
    for entry in knowledge.influences.values():
        if wanted and entry.on not in wanted:
            continue
        grams = dose_g(entry.of, dough_state.formula, amounts)
        if grams > 0:
            moved = acts[entry.where] * _moved(entry, 100 * grams / dry)
            out[entry.on] = out.get(entry.on, 0.0) + moved
    return Influences(by_thing=out)


def _moved(entry: Influence, dose_pct: float) -> float:
    return entry.value * form_of(entry.form, (dose_pct - entry.beyond) / entry.scale)
