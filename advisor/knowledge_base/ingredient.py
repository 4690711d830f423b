"""One ingredient: what it is made of, what it does to water, gas and set, and what people call it."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from advisor.knowledge_base.entry import Entry, Figure, Graded, Id, Share, Words

Percent = Annotated[float, Field(ge=0, le=100)]
Role = Literal[
    "water", "liquid", "egg", "gluten", "setting_protein", "casein", "flour", "meal", "fibre", "gum", "starch",
    "cheese", "fat", "sugar", "sweetener", "salt", "soda", "powder", "acid", "yeast", "enzyme", "flavour", "filler",
]  # fmt: skip
ProteinClass = Literal[
    "gluten", "casein", "whey", "egg_white", "yolk", "collagen", "legume", "nut_seed", "cereal"
]
Allergen = Literal[
    "wheat",
    "gluten",
    "milk",
    "egg",
    "nuts",
    "peanut",
    "soy",
    "sesame",
    "lupin",
    "fish",
    "mustard",
    "sulphite",
]


class Composition(Graded):
    """Grams per 100 g as bought, with the carbohydrate convention of its data set."""

    data_set: Id
    record: Words
    basis: Literal["by_difference", "available"]
    water: Percent
    protein: Percent
    fat: Percent
    carbohydrate: Percent
    fibre: Percent = 0.0
    sugars: Percent = 0.0
    starch: Percent = 0.0
    polyols: Percent = 0.0
    erythritol: Percent = 0.0
    allulose: Percent = 0.0
    ash: Percent = 0.0
    alcohol: Percent = 0.0
    organic_acid: Percent = 0.0
    sodium_mg: Annotated[float, Field(ge=0, le=40_000)] = 0.0
    energy_kcal: Annotated[float, Field(ge=0, le=905)] | None = None

    @property
    def carbohydrate_with_fibre(self) -> float:
        """Carbohydrate by difference, fibre included, g per 100 g, whatever the data set prints."""
        return self.carbohydrate + (self.fibre if self.basis == "available" else 0.0)

    @property
    def dissolved_sweet(self) -> float:
        """Sugars, polyols and allulose that draw water from yeast, g per 100 g."""
        return self.sugars + self.polyols + self.erythritol + self.allulose

    @property
    def closure(self) -> float:
        """Sum of the proximates, g per 100 g; near 100 when the record is whole."""
        total = self.water + self.protein + self.fat + self.carbohydrate_with_fibre + self.ash + self.alcohol
        return total + self.organic_acid


class HouseholdWeight(Graded):
    """Grams in one household measure of one ingredient."""

    grams: Annotated[float, Field(gt=0, le=5_000)]


class Ingredient(Entry):
    """One entry of knowledge/ingredients/."""

    id: Id
    name: Words
    also: tuple[Words, ...] = ()
    family: Id
    roles: Annotated[tuple[Role, ...], Field(min_length=1)]
    per_100g: Composition
    protein_classes: dict[ProteinClass, Share] = {}
    dry_base: bool = False
    countable: Words | None = None
    allergens: tuple[Allergen, ...] = ()
    traits: tuple[Id, ...] = ()
    gives_water: Figure | None = None
    dough_uptake: Figure | None = None
    holds_when_baked: Figure | None = None
    starch_holding: Figure | None = None
    solids_like: Id | None = None
    gum_equivalent: Figure | None = None
    film_in_proof: Figure | None = None
    film_in_oven: Figure | None = None
    filler_weight: Figure | None = None
    """What a gram of this filler costs gluten's films, over a gram of bran or coarse meal."""
    fermentable_sugars: Figure | None = None
    maltose_share: Share = 0.0
    freed_by_amylase_share: Share = 0.0
    soda_per_100g: Figure | None = None
    acids_per_100g: dict[Id, Figure] = {}
    yeast_rate: Figure | None = None
    enzyme_u_per_g: Figure | None = None
    weights: dict[Id, HouseholdWeight] = {}
    price_per_kg: Annotated[float, Field(gt=0)] | None = None
    """In the user's own money, from the user's own file; nothing that is shipped has a price."""

    @model_validator(mode="after")
    def _parts_make_a_whole(self) -> Ingredient:
        if self.protein_classes and not 0.98 <= sum(self.protein_classes.values()) <= 1.02:
            raise ValueError(f"protein_classes add up to {sum(self.protein_classes.values()):.2f}, not 1")
        if self.solids_like and (self.dough_uptake or self.holds_when_baked):
            raise ValueError("solids_like already gives dough_uptake and holds_when_baked: keep one of them")
        return self
