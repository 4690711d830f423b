"""A formula as the models need it: ingredients in grams, the process, and what was assumed on the way."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

from advisor.knowledge_base.ingredient import Ingredient

PanKind = Literal["tin", "round", "free_standing", "rolls", "flat"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One ingredient line: what was written, what it was taken to be, and how its grams came about."""

    text: str
    number: int
    ingredient: Ingredient
    grams: float
    conversion: str = ""
    grade: str = "practice"
    counted: int | None = None
    traits: tuple[str, ...] = ()
    section: str = ""
    age_months: float = 0.0
    """How long a leavening has been open, where the formula says so."""

    @property
    def all_traits(self) -> tuple[str, ...]:
        """Traits of the ingredient and of the state in which it was written (grated from a bag, melted)."""
        own = self.ingredient.traits
        return tuple(dict.fromkeys((*own, *self.traits))) if self.traits else own


@dataclass(frozen=True, slots=True, kw_only=True)
class Unweighed:
    """An ingredient that was written without a weight ("salt to taste"): kept, and counted as nothing."""

    text: str
    number: int
    ingredient: Ingredient
    section: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Process:
    """What is done with the dough; `None` means that the formula does not say."""

    slices: int | None = None
    loaves: int | None = None
    pan_kind: PanKind | None = None
    pan_length_cm: float | None = None
    pan_width_cm: float | None = None
    pan_height_cm: float | None = None
    pan_material: str | None = None
    pan_cups: int | None = None
    mix_min: float | None = None
    water_c: float | None = None
    dough_wanted_c: float | None = None
    added_last: str | None = None
    whites_whipped: bool | None = None
    rest_min: float | None = None
    proof_min: float | None = None
    proof_c: float | None = None
    oven_c: float | None = None
    oven_fan: bool | None = None
    bake_min: float | None = None
    cold_start: bool | None = None
    oven_offset_c: float | None = None
    """How much hotter than its dial the oven is; below nought it is cooler."""
    opened_at_min: float | None = None
    opened_for_s: float | None = None
    tented_at_min: float | None = None
    probed_at_min: float | None = None
    target_core_c: float | None = None
    core_measured_c: float | None = None
    cooled_in_pan_min: float | None = None
    sliced_after_min: float | None = None
    altitude_m: float | None = None

    @property
    def pan_volume_ml(self) -> float | None:
        """Volume of one pan, or of one cup of a muffin tin, mL; `None` where there is no pan or no size."""
        length, width, height = self.pan_length_cm, self.pan_width_cm, self.pan_height_cm
        if self.pan_kind not in ("tin", "round") or not (length and width and height):
            return None
        return length * width * height * (0.785398 if self.pan_kind == "round" else 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """A whole formula, ready for the models."""

    name: str
    lines: tuple[Line, ...]
    process: Process
    assumed: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    unweighed: tuple[Unweighed, ...] = ()
    source_text: str = field(default="", repr=False, compare=False)

    @property
    def dough_g(self) -> float:
        """Mass of all ingredients, g."""
        return sum(line.grams for line in self.lines)

    def grams_of(self, ingredient_id: str) -> float:
        """Grams of one ingredient over all its lines."""
        return sum(line.grams for line in self.lines if line.ingredient.id == ingredient_id)

    def with_lines(self, lines: tuple[Line, ...]) -> Formula:
        """Give the same formula with other ingredient lines."""
        return replace(self, lines=lines)

    def with_process(self, **changes: float | str | bool | int | None) -> Formula:
        """Give the same formula with some lines of the process changed."""
        return replace(self, process=replace(self.process, **changes))  # type: ignore[arg-type]
