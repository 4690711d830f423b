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
    """Key of the table that it was looked up in."""
    record: Words
    """The record of that table."""
    basis: Literal["by_difference", "available"]
    """Whether carbohydrate has fibre in it (by_difference) or not (available)."""
    water: Percent
    """Water, g."""
    protein: Percent
    """Protein, g."""
    fat: Percent
    """Fat, g."""
    saturates: Percent | None = None
    """Saturated fatty acids, g; null where they are not known."""
    carbohydrate: Percent
    """Carbohydrate, g, as the data set counts it."""
    fibre: Percent = 0.0
    """Fibre, g."""
    sugars: Percent = 0.0
    """Sugars, g."""
    starch: Percent = 0.0
    """Starch, g."""
    polyols: Percent = 0.0
    """Sugar alcohols other than erythritol, g."""
    erythritol: Percent = 0.0
    """Erythritol, g."""
    allulose: Percent = 0.0
    """Allulose, g."""
    ash: Percent = 0.0
    """Ash, g."""
    alcohol: Percent = 0.0
    """Alcohol, g."""
    organic_acid: Percent = 0.0
    """Organic acids, g."""
    sodium_mg: Annotated[float, Field(ge=0, le=40_000)] = 0.0
    """Sodium, mg."""
    energy_kcal: Annotated[float, Field(ge=0, le=905)] | None = None
    """Energy as the table or the packet prints it, kcal."""

    @model_validator(mode="after")
    def _saturates_within_fat(self) -> Composition:
        if self.saturates is not None and self.saturates > self.fat + 0.05:
            raise ValueError(
                f"saturates {self.saturates:g} g are more than fat {self.fat:g} g, of which they are a part"
            )
        return self

    @property
    def carbohydrate_with_fibre(self) -> float:
        """Carbohydrate by difference, fibre included, g per 100 g, whatever the data set prints."""
        return self.carbohydrate + (self.fibre if self.basis == "available" else 0.0)

    @property
    def sugars_up_to(self) -> float:
        """Most sugars that it can hold, g per 100 g: where none are written, what nothing else accounts for."""
        if "sugars" in self.model_fields_set:
            return self.sugars
        counted = self.fibre + self.starch + self.polyols + self.erythritol + self.allulose
        return max(self.carbohydrate_with_fibre - counted, self.sugars)

    @property
    def saturates_up_to(self) -> float:
        """Most saturated fatty acids that it can hold, g per 100 g: where they are not known, all its fat."""
        return self.fat if self.saturates is None else self.saturates

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
    """What one such measure weighs, g."""


class Ingredient(Entry):
    """One entry of knowledge/ingredients/."""

    id: Id
    """By which rules and files name it."""
    name: Words
    """What it is called."""
    also: tuple[Words, ...] = ()
    """What else it is called in formulas."""
    shared_names: tuple[Words, ...] = ()
    """Names that mean this in one kitchen and another ingredient in the next, which has them too: the reader asks."""
    counts_for: tuple[Words, ...] = ()
    """Other foods, near enough to be counted as this one; the reader says so."""
    family: Id
    """With which ingredients it is listed."""
    roles: Annotated[tuple[Role, ...], Field(min_length=1)]
    """What it does in a dough."""
    per_100g: Composition
    """What 100 g as bought hold."""
    protein_classes: dict[ProteinClass, Share] = {}
    """Of which kinds its protein is; the shares add up to 1."""
    dry_base: bool = False
    """Whether it counts as one of the powders that stand in for flour."""
    countable: Words | None = None
    """What one piece of it is called, where it is counted."""
    allergens: tuple[Allergen, ...] = ()
    """Allergens in it."""
    traits: tuple[Id, ...] = ()
    """What rules may know of it beside its numbers."""
    gives_water: Figure | None = None
    """Share of its own water that a dough gets."""
    dough_uptake: Figure | None = None
    """Grams of water that one gram takes up in the dough."""
    holds_when_baked: Figure | None = None
    """Grams of water that one gram holds in the baked loaf."""
    starch_holding: Figure | None = None
    """Grams of water that a gram of its starch takes up when it gelatinises."""
    of_kind: tuple[Words, ...] = ()
    """Ends of names that nobody wrote down: any name that ends so is counted as this one, and the reader says so."""
    acts_like: dict[Id, Figure] = {}
    """Ingredients whose influences it has, and grams of each that act like one gram of it."""
    solids_like: Id | None = None
    """Id of the ingredient like which its dry part takes up and holds water."""
    gum_equivalent: Figure | None = None
    """Grams of psyllium that bind like one gram of it."""
    film_in_proof: Figure | None = None
    """How well films of this gum keep gas in while the dough rises."""
    film_in_oven: Figure | None = None
    """How well films of this gum keep gas in while the loaf sets."""
    filler_weight: Figure | None = None
    """What a gram of this filler costs gluten's films, over a gram of bran or coarse meal."""
    fermentable_sugars: Figure | None = None
    """Grams of sugar in 100 g that yeast can eat."""
    maltose_share: Share = 0.0
    """Share of those sugars that is maltose."""
    sucrose_share: Share = 0.0
    """Share of those sugars that is sucrose: split, it takes up water and gives more hexose."""
    freed_by_amylase_share: Share = 0.0
    """Share of those sugars that enzymes of the flour must first set free."""
    soda_per_100g: Figure | None = None
    """Grams of baking soda in 100 g."""
    acids_per_100g: dict[Id, Figure] = {}
    """Grams of each leavening acid in 100 g."""
    yeast_rate: Figure | None = None
    """Gas that a gram makes, as a multiple of what instant yeast makes."""
    enzyme_u_per_g: Figure | None = None
    """Units of crosslinking enzyme in a gram."""
    weights: dict[Id, HouseholdWeight] = {}
    """What household measures of it weigh."""
    price_per_kg: Annotated[float, Field(gt=0)] | None = None
    """In the user's own money, from the user's own file; nothing that is shipped has a price."""

    @model_validator(mode="after")
    def _parts_make_a_whole(self) -> Ingredient:
        if self.protein_classes and not 0.98 <= sum(self.protein_classes.values()) <= 1.02:
            raise ValueError(f"protein_classes add up to {sum(self.protein_classes.values()):.2f}, not 1")
        if self.solids_like and (self.dough_uptake or self.holds_when_baked):
            raise ValueError("solids_like already gives dough_uptake and holds_when_baked: keep one of them")
        return self
