"""A formula as the models need it: ingredients in grams, the process, and what was assumed on the way."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

from advisor.formula.process.process_values import Value
from advisor.formula.process.steps import (
    OvenStep,
    Rise,
    is_plain,
    mean_heat_c,
    steps_as_set,
    whole_time_min,
)
from advisor.knowledge_base.entry import Grade
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
    grade: Grade = "practice"
    counted: int | None = None
    traits: tuple[str, ...] = ()
    section: str = ""
    age_months: float = 0.0
    """How long a leavening has been open, where the formula says so."""
    celsius: float | None = None
    """How warm the ingredient goes in, where its line says so."""

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
    beside: bool = False
    """Whether its line says that it goes on the loaf or into the tin: then nobody is asked how much it was."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """What a formula does not say and the verdict hangs on: what, why it matters, and how to write it."""

    field: str
    """The field of the process, or the id of the ingredient without a weight."""
    what: str
    why: str
    write: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Process:
    """What is done with the dough; `None`, "" or an empty tuple means that the formula does not say.

    `oven_c` is the mean heat of the oven steps by their time and `bake_min` their sum; `proof_c` and `proof_min` are
    those of the last rise, which is the one that goes into the oven; `mix_min` and `rest_min` are sums. The tuples
    hold the steps only where there is more to say than that; `bakes` and `rises` give them in either case. Where both
    are set and differ, as after `replace(process, bake_min=50)`, the single number wins and the steps follow it. To
    set other steps, set the single numbers to `None` with them.
    """

    kind: str | None = None
    slices: int | None = None
    loaves: int | None = None
    pieces: int | None = None
    piece_g: float | None = None
    """Dough of one piece before the bake."""
    thickness_cm: float | None = None
    pan_kind: PanKind | None = None
    pan_length_cm: float | None = None
    pan_width_cm: float | None = None
    pan_height_cm: float | None = None
    pan_material: str | None = None
    pan_cups: int | None = None
    baked_on: str | None = None
    """A stone, steel or pot that is hot when the dough meets it."""
    room_c: float | None = None
    mixer: str | None = None
    mixes: tuple[float, ...] = ()
    mix_min: float | None = None
    water_c: float | None = None
    dough_wanted_c: float | None = None
    dough_measured_c: float | None = None
    starter: str | None = None
    """How lively the sourdough is, in the baker's words."""
    added_last: str | None = None
    whites_whipped: bool | None = None
    rests: tuple[float, ...] = ()
    rest_min: float | None = None
    proofs: tuple[Rise, ...] = ()
    proof_min: float | None = None
    proof_c: float | None = None
    boil_min: float | None = None
    steam_min: float | None = None
    """Cooked in steam alone, as buns are; steam in an oven belongs to its step."""
    griddle_side_min: float | None = None
    griddle_c: float | None = None
    microwave_min: float | None = None
    preheat_c: float | None = None
    oven_steps: tuple[OvenStep, ...] = ()
    oven_c: float | None = None
    oven_fan: bool | None = None
    bake_min: float | None = None
    cold_start: bool | None = None
    oven_offset_c: float | None = None
    """How much hotter than its dial the oven is; below 0 it is cooler."""
    opened_at_min: float | None = None
    opened_for_s: float | None = None
    tented_at_min: float | None = None
    probed_at_min: float | None = None
    target_core_c: float | None = None
    core_measured_c: float | None = None
    cooled_in: str | None = None
    cooled_in_pan_min: float | None = None
    sliced_after_min: float | None = None
    weight_after_g: float | None = None
    height_after_cm: float | None = None
    stored: str | None = None
    stored_min: float | None = None
    stored_c: float | None = None
    altitude_m: float | None = None

    def __post_init__(self) -> None:
        """Keep the single numbers and the steps together."""
        if self.oven_steps:
            self._settle_oven()
        if self.proofs:
            self._settle_proofs()
        for steps, total in (("mixes", "mix_min"), ("rests", "rest_min")):
            if times := getattr(self, steps):
                self._settle_sum(steps, total, times)

    def _settle_oven(self) -> None:
        steps = steps_as_set(self.oven_steps, self.oven_c, self.bake_min)
        object.__setattr__(self, "oven_c", mean_heat_c(steps))
        if self.bake_min is None:
            object.__setattr__(self, "bake_min", whole_time_min(steps))
        alone = len(steps) == 1 and is_plain(steps[0])
        object.__setattr__(self, "oven_steps", () if alone else steps)

    def _settle_proofs(self) -> None:
        *before, last = self.proofs
        if self.proof_min is not None or self.proof_c is not None:
            last = replace(
                last,
                minutes=last.minutes if self.proof_min is None else self.proof_min,
                celsius=last.celsius if self.proof_c is None else self.proof_c,
            )
        object.__setattr__(self, "proof_min", last.minutes)
        object.__setattr__(self, "proof_c", last.celsius)
        alone = not before and not last.place and not last.until
        object.__setattr__(self, "proofs", () if alone else (*before, last))

    def _settle_sum(self, steps: str, total: str, times: tuple[float, ...]) -> None:
        stated = getattr(self, total)
        if stated is None:
            object.__setattr__(self, total, sum(times))
        if len(times) == 1 or (stated is not None and abs(stated - sum(times)) > 1e-6):
            object.__setattr__(self, steps, ())

    @property
    def bakes(self) -> tuple[OvenStep, ...]:
        """What the oven does, step by step; empty where the formula says neither heat nor time."""
        if self.oven_steps or (self.oven_c is None and self.bake_min is None):
            return self.oven_steps
        return (OvenStep(celsius=self.oven_c, minutes=self.bake_min),)

    @property
    def rises(self) -> tuple[Rise, ...]:
        """The rises of the dough in their order; empty where the formula says none."""
        if self.proofs or (self.proof_min is None and self.proof_c is None):
            return self.proofs
        return (Rise(minutes=self.proof_min, celsius=self.proof_c),)

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
    asked: tuple[Missing, ...] = ()
    """What is not said and decides, the weightiest first."""
    bake_told: bool = False
    """Whether the bake was taken out of sentences, and no line of its own states it."""
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

    def with_process(self, **changes: Value) -> Formula:
        """Give the same formula with some lines of the process changed."""
        return replace(self, process=replace(self.process, **changes))  # type: ignore[arg-type]
