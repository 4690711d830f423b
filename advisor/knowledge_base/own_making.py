"""From a packet's panel to an ingredient as the models need it: what the panel leaves out is taken over, and said."""

from __future__ import annotations

from dataclasses import dataclass, replace

from pydantic import ValidationError

from advisor.knowledge_base.entry import Figure
from advisor.knowledge_base.ingredient import Composition, HouseholdWeight, Ingredient
from advisor.knowledge_base.own_entry import OwnIngredient
from advisor.knowledge_base.panel import SALT_PER_SODIUM, PanelFigures

OWN_SOURCE = "own-packet"
"""Source key and data set of what a user's packet says; it marks an ingredient as the user's own."""
_MOST_KCAL = 905.0  # what the shape of a composition admits: fat at its largest factor
_TAKEN_OVER = (
    "gives_water", "dough_uptake", "holds_when_baked", "starch_holding", "gum_equivalent", "soda_per_100g",
    "yeast_rate", "enzyme_u_per_g",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """An own ingredient, and what was taken over or worked out on the way, a sentence each."""

    ingredient: Ingredient
    said: tuple[str, ...]


def is_own(ingredient: Ingredient) -> bool:
    """Does this ingredient come from the user's own file?"""
    return ingredient.per_100g.data_set == OWN_SOURCE


def make_ingredient(own: OwnIngredient, sibling: Ingredient | None) -> Made:
    """Make the ingredient; `sibling` is what `like` names.

    Raises:
        ValueError: the parts do not make an ingredient; the message says which.
    """
    said: list[str] = []
    try:
        composition = _composition(own, sibling, said)
        fields: dict[str, object] = dict(_given(own))
        if sibling is not None:
            fields = _from_sibling(own, sibling, composition) | fields
            # Relations that name the sibling count this one by the gram too.
            fields["acts_like"] = {sibling.id: {"value": 1, "grade": "practice"}, **sibling.acts_like}
            said.append(_says_taken_over(own, sibling))
        fields.setdefault("family", "own")
        if fields.get("solids_like") is not None and (
            "dough_uptake" in fields or "holds_when_baked" in fields
        ):
            fields["solids_like"] = None
        ingredient = Ingredient.model_validate(
            fields | {"id": own.key, "name": own.name, "also": own.also, "per_100g": composition}
        )
    except ValidationError as error:
        first = error.errors(include_url=False, include_context=False, include_input=False)[0]
        where = ".".join(str(part) for part in first["loc"])
        raise ValueError(f"{where}: {first['msg']}".removeprefix(": ")) from None
    return Made(ingredient=ingredient, said=tuple(said))


def _composition(own: OwnIngredient, sibling: Ingredient | None, said: list[str]) -> Composition:
    panel = _with_fibre(own.figures, sibling, said)
    like = sibling.per_100g if sibling else None
    # Vinegar's acid stands on no panel; it is part of what is left, as with the ingredient it is like.
    acid = min(like.organic_acid, max(100 - panel.listed, 0.0)) if like else 0.0
    alcohol = own.alcohol if own.alcohol is not None else (like.alcohol if like else 0.0)
    listed = panel.listed + acid + alcohol + (own.water or 0.0) + (own.ash or 0.0)
    if listed > 100:
        said.append(f"the panel lists {listed:.1f} g per 100 g, by rounding: scaled to 100 g")
        share = 100 / listed
        acid, alcohol = acid * share, alcohol * share
        water, ash = (own.water or 0.0) * share, (own.ash or 0.0) * share
    else:
        share, left = 1.0, 100 - panel.listed - acid - alcohol
        salt = panel.sodium_mg / 1000 * SALT_PER_SODIUM
        usual = max(like.ash if like else 0.0, salt)
        if own.water is None:
            ash = own.ash if own.ash is not None else min(usual, left)
            water = max(left - ash, 0.0)
            said.append(f"not on the panel: {water:.1f} g of water and {ash:.1f} g of ash make up the 100 g")
        else:
            water = own.water
            ash = own.ash if own.ash is not None else max(left - water, 0.0)
    return Composition(
        data_set=OWN_SOURCE,
        record=f"packet, {panel.rule.upper()} panel per {panel.per_g:g} g",
        basis="by_difference" if panel.rule == "us" else "available",
        water=water,
        protein=panel.protein * share,
        fat=panel.fat * share,
        saturates=None if panel.saturates is None else min(panel.saturates, panel.fat) * share,
        carbohydrate=panel.carbohydrate * share,
        fibre=(panel.fibre or 0.0) * share,
        sugars=panel.sugars * share,
        starch=_starch(panel, like) * share,
        polyols=panel.polyols * share,
        erythritol=panel.erythritol * share,
        allulose=panel.allulose * share,
        ash=ash,
        alcohol=alcohol,
        organic_acid=acid,
        sodium_mg=panel.sodium_mg,
        energy_kcal=min(panel.energy_kcal, _MOST_KCAL),
        grade="memory",
        sources=(OWN_SOURCE,),
        note=own.note,
    )


def _with_fibre(panel: PanelFigures, sibling: Ingredient | None, said: list[str]) -> PanelFigures:
    """The European panel need not print fibre: then it is what the mass leaves beside the sibling's water and ash."""
    if panel.fibre is not None:
        return panel
    if sibling is None:
        said.append("the panel prints no fibre: taken as none")
        return replace(panel, fibre=0.0)
    like = sibling.per_100g
    left = 100 - panel.listed - like.water - like.ash - like.organic_acid - like.alcohol
    fibre = max(left, 0.0) if like.fibre > 0 else 0.0
    said.append(f"the panel prints no fibre: {fibre:.1f} g by what {sibling.name} has of water and ash")
    return replace(panel, fibre=fibre)


def _starch(panel: PanelFigures, like: Composition | None) -> float:
    """Starch as printed; else the sibling's share of what is neither fibre, sugar nor sweetener."""
    if panel.starch is not None:
        return panel.starch
    if like is None:
        return 0.0
    rest = panel.carbohydrate_with_fibre - (panel.fibre or 0.0) - panel.sugars
    rest -= panel.polyols + panel.erythritol + panel.allulose
    its_rest = like.carbohydrate_with_fibre - like.fibre - like.sugars
    its_rest -= like.polyols + like.erythritol + like.allulose
    return max(rest, 0.0) * min(like.starch / its_rest, 1.0) if its_rest > 0.5 else 0.0


def _own_figure(value: float) -> Figure:
    return Figure(value=value, grade="memory", sources=(OWN_SOURCE,))


def _given(own: OwnIngredient) -> dict[str, object]:
    """What the user's entry says itself."""
    fields: dict[str, object] = {}
    for key in ("family", "roles", "protein_classes", "dry_base", "countable", "allergens", "traits"):
        if (value := getattr(own, key)) is not None:
            fields[key] = value
    for key in ("gives_water", "dough_uptake", "holds_when_baked"):
        if (number := getattr(own, key)) is not None:
            fields[key] = _own_figure(number)
    if own.weights:
        fields["weights"] = {
            name: HouseholdWeight(grams=grams, grade="memory", sources=(OWN_SOURCE,))
            for name, grams in own.weights.items()
        }
    if own.price_per_kg is not None:
        fields["price_per_kg"] = own.price_per_kg
    return fields


def _from_sibling(own: OwnIngredient, sibling: Ingredient, made: Composition) -> dict[str, object]:
    fields: dict[str, object] = {
        "family": sibling.family, "roles": sibling.roles, "protein_classes": sibling.protein_classes,
        "dry_base": sibling.dry_base, "countable": sibling.countable, "allergens": sibling.allergens,
        "traits": sibling.traits, "weights": sibling.weights, "solids_like": sibling.solids_like,
        "acids_per_100g": sibling.acids_per_100g,
    }  # fmt: skip
    for key in _TAKEN_OVER:
        if (figure := getattr(sibling, key)) is not None:
            fields[key] = figure
    sugar = sibling.fermentable_sugars
    if sugar is not None and sugar.value > made.carbohydrate_with_fibre - made.fibre:
        # Yeast cannot find more sugar than the panel leaves room for.
        most = max(made.carbohydrate_with_fibre - made.fibre, 0.0)
        sugar = _own_figure(most)
    if sugar is not None:
        fields["fermentable_sugars"] = sugar
    return fields


def _says_taken_over(own: OwnIngredient, sibling: Ingredient) -> str:
    taken = ["what it does in the dough"]
    if own.allergens is None:
        names = ", ".join(sibling.allergens) or "none"
        taken.append(f"allergens ({names}: compare with the packet)")
    if not own.weights and sibling.weights:
        taken.append("household weights")
    return f"taken over from {sibling.name}: {', '.join(taken)}"
