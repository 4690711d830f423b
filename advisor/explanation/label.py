"""What stands on a label: ingredients by weight, allergens by name, nutrition in two forms."""

from __future__ import annotations

from typing import Literal

from advisor.explanation.declaration import Declaration, declaration
from advisor.formula.formula import Formula
from advisor.formula.writing.label import label_of
from advisor.knowledge_base.ingredient import Allergen
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.shapes import shape
from advisor.models.baked_nutrition import Basis, nutrition_of
from advisor.models.dough.composition import allergens
from advisor.models.dough.nutrition import Nutrition, UnknownPart
from advisor.models.measuring import dough_state_of, measure


@shape
class NetCarbohydrateLine:
    """Net carbohydrate by one convention."""

    id: str
    """Id in knowledge/net_carb.yaml."""
    name: str
    """What the convention counts out."""
    says: str
    """Who counts so."""
    per_100g: float
    """In 100 g, g."""
    per_piece: float
    """In a slice or piece, g."""


@shape
class NutritionAnswer:
    """What 100 g and a slice or piece of the baked loaf hold: an estimate, not for sale."""

    name: str
    """Title of the formula."""
    piece: Literal["slice", "piece"]
    """What it is cut or parted into."""
    pieces: int
    """How many all loaves give."""
    basis: Basis
    """Whether the baked weight was weighed, is worked out, or is that of the dough as mixed."""
    bake_loss: float
    """Share of the dough that the bake took, 0 to 1."""
    per_100g: Nutrition
    """In 100 g."""
    per_piece: Nutrition
    """In a slice or piece."""
    net_carbohydrate: tuple[NetCarbohydrateLine, ...]
    """By each convention; the first is the one that limits are held by."""
    unknown: tuple[UnknownPart, ...]
    """What no table says of some ingredients."""
    unweighed: tuple[str, ...]
    """Ingredients without a weight, which are counted as nothing."""


@shape
class LabelIngredient:
    """One ingredient in the list."""

    name: str
    """What it is called."""
    grams: float | None
    """As put in, g; null where the formula gives no weight."""
    share_pct: float | None
    """Share of the dough, per cent."""
    allergens: tuple[Allergen, ...]
    """Allergens in it."""


@shape
class AllergenLine:
    """An allergen, and what carries it."""

    allergen: Allergen
    """The allergen."""
    carried_by: tuple[str, ...]
    """Names of the ingredients, as nuts must be named one by one."""


@shape
class LabelAnswer:
    """What would stand on a label: an estimate, not for sale."""

    nutrition: NutritionAnswer
    """What it holds, before any rounding."""
    ingredients: tuple[LabelIngredient, ...]
    """By falling weight as put in."""
    allergens: tuple[AllergenLine, ...]
    """By name, what carries most first."""
    per_100g: Declaration
    """In the European form, for 100 g."""
    per_portion: Declaration
    """In the European form, for a slice or piece."""
    serving: Declaration
    """In the form of the United States, for a slice or piece."""


def nutrition_answer(formula: Formula, knowledge: Knowledge) -> NutritionAnswer:
    """Work out what 100 g and a piece of the baked loaf hold."""
    work = measure(dough_state_of(formula, knowledge), knowledge)
    held = nutrition_of(work, knowledge)
    kind = work.dough_state.with_defaults.pan_kind
    return NutritionAnswer(
        name=formula.name,
        piece="piece" if kind in ("rolls", "flat") else "slice",
        pieces=held.pieces,
        basis=held.basis,
        bake_loss=held.loss_share,
        per_100g=held.per_100g,
        per_piece=held.per_piece,
        net_carbohydrate=tuple(
            NetCarbohydrateLine(
                id=name,
                name=entry.name,
                says=entry.says,
                per_100g=held.per_100g.net_by_convention[name],
                per_piece=held.per_piece.net_by_convention[name],
            )
            for name, entry in knowledge.net_carb.items()
        ),
        unknown=held.unknown,
        unweighed=tuple(dict.fromkeys(entry.ingredient.name for entry in formula.unweighed)),
    )


def label_answer(formula: Formula, knowledge: Knowledge) -> LabelAnswer:
    """Work out what would stand on a label."""
    held, listed = nutrition_answer(formula, knowledge), label_of(formula)
    parts = tuple(knowledge.label_parts.values())
    carriers = {
        allergen: tuple(e.name for e in listed.entries if allergen in e.allergens)
        for allergen in listed.allergens
    }
    order = [name for name in allergens(formula) if name in carriers]
    return LabelAnswer(
        nutrition=held,
        ingredients=tuple(
            LabelIngredient(name=e.name, grams=e.grams, share_pct=e.share_pct, allergens=e.allergens)
            for e in listed.entries
        ),
        allergens=tuple(
            AllergenLine(allergen=name, carried_by=carriers[name])
            for name in sorted(carriers, key=lambda n: order.index(n) if n in order else len(order))
        ),
        per_100g=declaration("eu", held.per_100g, parts),
        per_portion=declaration("eu", held.per_piece, parts),
        serving=declaration("us", held.per_piece, parts),
    )
