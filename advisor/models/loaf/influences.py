"""How far doses move what is acted on: the relations of knowledge/influences, added up for one dough."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.knowledge_base.entry import Figure
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


class CountedDoses:
    """What may count towards a dose, sorted once for a dough: a hundred doses are asked of it in a row."""

    def __init__(self, formula: Formula, amounts: Mapping[str, float]) -> None:
        """Sort the lines; `amounts` is what `amounts_of` gives."""
        self._amounts = amounts
        self._grams = [line.grams for line in formula.lines]
        self._ingredients: dict[str, list[int]] = {}
        self._stand_ins: list[tuple[int, Mapping[str, Figure]]] = []
        self._traits: dict[str, list[int]] = {}
        self._roles: dict[str, list[int]] = {}
        self._proteins: dict[str, float] = {}
        for number, line in enumerate(formula.lines):
            self._ingredients.setdefault(line.ingredient.id, []).append(number)
            if line.ingredient.acts_like:
                self._stand_ins.append((number, line.ingredient.acts_like))
            for trait in line.all_traits:
                self._traits.setdefault(trait, []).append(number)
            for role in line.ingredient.roles:
                self._roles.setdefault(role, []).append(number)
            protein = line.grams * line.ingredient.per_100g.protein / 100
            for name, part in line.ingredient.protein_classes.items():
                self._proteins[name] = self._proteins.get(name, 0.0) + protein * part

    def grams(self, dose: Dose) -> float:
        """Grams of a whole dough that count towards a dose; an ingredient that `acts_like` others counts as those."""
        if dose.amount is not None:
            return self._amounts[dose.amount]
        if dose.protein:
            return sum(self._proteins.get(name, 0.0) for name in dose.protein)
        if dose.ingredients:
            own = self._lines(self._ingredients, dose.ingredients)
            grams = sum(self._grams[number] for number in own)
            for number, acts_like in self._stand_ins:
                if number not in own:
                    shares = (g.value for like, g in acts_like.items() if like in dose.ingredients)
                    grams += self._grams[number] * sum(shares)
            return grams
        kept, names = (self._traits, dose.traits) if dose.traits else (self._roles, dose.roles)
        return sum(self._grams[number] for number in self._lines(kept, names))

    @staticmethod
    def _lines(kept: Mapping[str, list[int]], names: Sequence[str]) -> list[int]:
        """Numbers of the lines that go by any of the names, each once."""
        if len(names) == 1:
            return kept.get(names[0], [])
        return sorted({number for name in names for number in kept.get(name, ())})


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
    doses = CountedDoses(dough_state.formula, amounts_of(dough_state, left_sugars_g))
    acts = {"any": 1.0, "gluten": films.gluten, "weak": films.weak}
    out: dict[str, float] = {}
    for entry in knowledge.influences.values():
        if wanted and entry.on not in wanted:
            continue
        grams = doses.grams(entry.of)
        if grams > 0:
            moved = acts[entry.where] * _moved(entry, 100 * grams / dry)
            out[entry.on] = out.get(entry.on, 0.0) + moved
    return Influences(by_thing=out)


def _moved(entry: Influence, dose_pct: float) -> float:
    return entry.value * form_of(entry.form, (dose_pct - entry.beyond) / entry.scale)
