"""A packet's nutrition panel, by the legal terms of its layout, and its figures per 100 g.

Two layouts. United States, 21 CFR 101.9: total carbohydrate is by subtraction and includes fibre and sugar
alcohols; sodium in mg. European Union, Regulation (EU) No 1169/2011: carbohydrate is without fibre and with
polyols; salt is sodium x 2.5.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field, model_validator

from advisor.knowledge_base.entry import Entry

KJ_PER_KCAL = 4.184  # thermochemical calorie
SALT_PER_SODIUM = 2.5  # Regulation (EU) No 1169/2011, Annex I

Grams = Annotated[float, Field(ge=0, le=1_000)]
Milligrams = Annotated[float, Field(ge=0, le=400_000)]
Energy = Annotated[float, Field(ge=0, le=40_000)]
PerGrams = Annotated[float, Field(gt=0, le=1_000)]


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelFigures:
    """What a panel says, g per 100 g (sodium mg, energy kcal); `carbohydrate` as its layout means it.

    `None` where the panel does not say. `per_g` is what the printed figures were for: how coarse they are.
    """

    rule: Literal["us", "eu"]
    per_g: float
    energy_kcal: float
    protein: float
    fat: float
    saturates: float | None
    carbohydrate: float
    fibre: float | None
    sugars: float
    starch: float | None
    polyols: float
    erythritol: float
    allulose: float
    sodium_mg: float

    @property
    def carbohydrate_with_fibre(self) -> float:
        """Carbohydrate with fibre, g per 100 g, whichever the layout prints."""
        return self.carbohydrate + ((self.fibre or 0.0) if self.rule == "eu" else 0.0)

    @property
    def listed(self) -> float:
        """Protein, fat and carbohydrate with fibre together, g per 100 g."""
        return self.protein + self.fat + self.carbohydrate_with_fibre


def _not_above(part: str, part_g: float, whole: str, whole_g: float) -> None:
    if part_g > whole_g + 0.5:  # a panel is rounded to half a gram at the coarsest below 10 g
        raise ValueError(f"{part} {part_g:g} g is more than {whole} {whole_g:g} g, of which it is a part")


class UsPanel(Entry):
    """The panel of the United States; figures are for `per_g` grams (the serving size, or 100)."""

    per_g: PerGrams = Field(title="Serving size, or 100")
    calories: Energy = Field(title="Calories")
    total_fat: Grams = Field(title="Total Fat")
    saturated_fat: Grams | None = Field(default=None, title="Saturated Fat")
    trans_fat: Grams | None = Field(default=None, title="Trans Fat")
    cholesterol_mg: Milligrams | None = Field(default=None, title="Cholesterol")
    sodium_mg: Milligrams = Field(title="Sodium")
    total_carbohydrate: Grams = Field(title="Total Carbohydrate, fibre included")
    dietary_fiber: Grams = Field(default=0.0, title="Dietary Fiber")
    total_sugars: Grams = Field(default=0.0, title="Total Sugars")
    added_sugars: Grams | None = Field(default=None, title="Added Sugars")
    sugar_alcohol: Grams | None = Field(default=None, title="Sugar Alcohol, erythritol included")
    erythritol: Grams | None = Field(default=None, title="Erythritol")
    allulose: Grams | None = Field(default=None, title="Allulose")
    protein: Grams = Field(title="Protein")

    @model_validator(mode="after")
    def _parts_fit(self) -> UsPanel:
        _not_above("saturated_fat", self.saturated_fat or 0.0, "total_fat", self.total_fat)
        for part in ("dietary_fiber", "total_sugars", "sugar_alcohol", "allulose"):
            _not_above(part, getattr(self, part) or 0.0, "total_carbohydrate", self.total_carbohydrate)
        if self.sugar_alcohol is not None:
            _not_above("erythritol", self.erythritol or 0.0, "sugar_alcohol", self.sugar_alcohol)
        return self

    def figures(self) -> PanelFigures:
        """Give the figures per 100 g; total carbohydrate stays by difference, fibre included."""
        times, erythritol = 100 / self.per_g, self.erythritol or 0.0
        alcohols = erythritol if self.sugar_alcohol is None else max(self.sugar_alcohol, erythritol)
        return PanelFigures(
            rule="us",
            per_g=self.per_g,
            energy_kcal=self.calories * times,
            protein=self.protein * times,
            fat=self.total_fat * times,
            saturates=None if self.saturated_fat is None else self.saturated_fat * times,
            carbohydrate=self.total_carbohydrate * times,
            fibre=self.dietary_fiber * times,
            sugars=self.total_sugars * times,
            starch=None,
            polyols=(alcohols - erythritol) * times,
            erythritol=erythritol * times,
            allulose=(self.allulose or 0.0) * times,
            sodium_mg=self.sodium_mg * times,
        )


class EuPanel(Entry):
    """The nutrition declaration of the European Union; figures are for `per_g` grams (100, or a portion)."""

    per_g: PerGrams = Field(default=100.0, title="Figures are per 100, or a portion of")
    energy_kj: Energy | None = Field(default=None, title="Energy")
    energy_kcal: Energy | None = Field(default=None, title="Energy")
    fat: Grams = Field(title="Fat")
    saturates: Grams | None = Field(default=None, title="of which saturates")
    monounsaturates: Grams | None = Field(default=None, title="of which mono-unsaturates")
    polyunsaturates: Grams | None = Field(default=None, title="of which polyunsaturates")
    carbohydrate: Grams = Field(title="Carbohydrate, without fibre")
    sugars: Grams = Field(title="of which sugars")
    polyols: Grams | None = Field(default=None, title="of which polyols, erythritol included")
    erythritol: Grams | None = Field(default=None, title="of which erythritol")
    starch: Grams | None = Field(default=None, title="of which starch")
    fibre: Grams | None = Field(default=None, title="Fibre")
    protein: Grams = Field(title="Protein")
    salt: Grams = Field(title="Salt")

    @model_validator(mode="after")
    def _parts_fit(self) -> EuPanel:
        if self.energy_kj is None and self.energy_kcal is None:
            raise ValueError("energy_kj or energy_kcal is missing")
        _not_above("saturates", self.saturates or 0.0, "fat", self.fat)
        for part in ("sugars", "polyols", "starch"):
            _not_above(part, getattr(self, part) or 0.0, "carbohydrate", self.carbohydrate)
        if self.polyols is not None:
            _not_above("erythritol", self.erythritol or 0.0, "polyols", self.polyols)
        if self.energy_kj is not None and self.energy_kcal is not None:
            by_kj = self.energy_kj / KJ_PER_KCAL
            # The two are summed with factors rounded apart (17 kJ beside 4 kcal), and each is rounded.
            if abs(by_kj - self.energy_kcal) > 0.03 * max(by_kj, self.energy_kcal) + 2:
                raise ValueError(
                    f"energy_kj {self.energy_kj:g} is {by_kj:.0f} kcal, energy_kcal says {self.energy_kcal:g}"
                )
        return self

    def figures(self) -> PanelFigures:
        """Give the figures per 100 g; carbohydrate stays available carbohydrate, without fibre."""
        times, erythritol = 100 / self.per_g, self.erythritol or 0.0
        polyols = erythritol if self.polyols is None else max(self.polyols, erythritol)
        kcal = self.energy_kcal if self.energy_kcal is not None else (self.energy_kj or 0.0) / KJ_PER_KCAL
        return PanelFigures(
            rule="eu",
            per_g=self.per_g,
            energy_kcal=kcal * times,
            protein=self.protein * times,
            fat=self.fat * times,
            saturates=None if self.saturates is None else self.saturates * times,
            carbohydrate=self.carbohydrate * times,
            fibre=None if self.fibre is None else self.fibre * times,
            sugars=self.sugars * times,
            starch=None if self.starch is None else self.starch * times,
            polyols=(polyols - erythritol) * times,
            erythritol=erythritol * times,
            allulose=0.0,
            sodium_mg=self.salt / SALT_PER_SODIUM * 1000 * times,
        )
