"""What the models compute and how it is judged: measures, bands, structures, coefficients."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from advisor.knowledge_base.entry import Entry, Figure, Graded, Id, Share, Text, Words


class MeasureEntry(Entry):
    """A named number that rules may read: its unit, how it is shown, and where it can lie."""

    id: Id
    name: Words
    unit: str
    says: Text
    decimals: Annotated[int, Field(ge=0, le=4)]
    possible: tuple[float, float]
    group: Id
    in_words: Words | None = None
    """What follows the figure of a ratio in a sentence: "1.5" and "g of water for each gram that is taken up"."""

    def allows(self, value: float) -> bool:
        """Whether a value lies where the measure means something; the last digit of a sum must not decide."""
        low, high = self.possible
        return low - 1e-9 <= value <= high + 1e-9


class Band(Graded):
    """Where a measure lies in a good loaf of one structure; one end may be open.

    Every edge has a step of its own, in the measure's unit: the distance past it that a baker would notice for
    certain. `scale` is that of both edges, `low_scale` and `high_scale` are those of one.
    """

    measure: Id
    structures: Annotated[tuple[Id, ...], Field(min_length=1)]
    low: float | None = None
    high: float | None = None
    scale: Annotated[float, Field(gt=0)] | None = None
    low_scale: Annotated[float, Field(gt=0)] | None = None
    high_scale: Annotated[float, Field(gt=0)] | None = None
    aim: float | None = None
    """Where a baker would put it who changes it anyhow: what a change from outside aims at."""
    near_edge: bool = False
    """Good loaves lie near either edge: a change goes a little way past it, however far outside the measure is."""
    pinned_by: str | None = None

    @property
    def step_below(self) -> float | None:
        """Distance below the low edge that counts as a full step; `None` where that end is open."""
        return None if self.low is None else self.low_scale or self.scale

    @property
    def step_above(self) -> float | None:
        """Distance above the high edge that counts as a full step; `None` where that end is open."""
        return None if self.high is None else self.high_scale or self.scale

    @model_validator(mode="after")
    def _two_ends_in_order(self) -> Band:
        if self.low is None and self.high is None:
            raise ValueError("a band needs low, high or both")
        if self.low is not None and self.high is not None and self.low >= self.high:
            raise ValueError(f"low {self.low:g} is not below high {self.high:g}")
        ends = ((self.low, self.step_below, "low"), (self.high, self.step_above, "high"))
        for edge, step, end in ends:
            if edge is not None and step is None:
                raise ValueError(
                    f"its {end} edge needs scale or {end}_scale: the distance past it that counts as a full step"
                )
        if self.aim is not None and not (self.low or self.aim) <= self.aim <= (self.high or self.aim):
            raise ValueError(f"aim {self.aim:g} lies outside the band")
        if self.grade == "calibrated" and not self.pinned_by:
            raise ValueError("grade 'calibrated' needs pinned_by: the test that holds it in place")
        return self


class Structure(Graded):
    """What carries the loaf, and how well it keeps gas."""

    id: Id
    name: Words
    says: Text
    network: tuple[Id, ...]
    retention: Figure
    filler_cost: Figure | None = None
    needs_gum: Figure | None = None
    stiff_below: Figure | None = None
    """Hydration at mixing below which the dough holds its gas back."""
    slack_above: Figure | None = None
    """Hydration at mixing above which the dough lets its gas go."""
    keeps_gas_min: Figure
    holds_slice: Figure
    """How well a slice of this structure holds together, over that of a wheat loaf (-)."""
    bears_gas: Figure
    """Gas at the set, over the volume of the dough without gas, at which the films of this structure give most loaf."""


class ProteinClassEntry(Graded):
    """What heat does to one class of protein."""

    id: Id
    name: Words
    says: Text
    sets_share: Share
    holds_when_set: Figure
    crosslinks_share: Share
    own_ph: Figure
    """pH of the ingredient that this protein mostly comes in, as far as it holds the dough to it."""
    sets_c: tuple[float, float] | None = None


class Acid(Graded):
    """A leavening acid: how much soda it neutralises, and when it lets the gas go."""

    id: Id
    name: Words
    neutralising_value: Figure
    half_given_ph: Figure
    """pH at which half of its acid is given: its pKa, or the mean of several."""
    release_mix: Share
    release_bench: Share
    release_early_oven: Share
    release_late_oven: Share
    onset_c: float | None = None

    @model_validator(mode="after")
    def _all_gas_somewhere(self) -> Acid:
        total = self.release_mix + self.release_bench + self.release_early_oven + self.release_late_oven
        if abs(total - 1) > 0.005:
            raise ValueError(f"the four release shares add up to {total:.3f}, not 1")
        return self


class Coefficient(Figure):
    """A constant of a model that a baker, chemist or reviewer could dispute."""

    id: Id
    unit: str
    says: Text


class Unit(Graded):
    """A unit people write: its names, and its size in grams or millilitres."""

    id: Id
    names: Annotated[tuple[Words, ...], Field(min_length=1)]
    grams: Annotated[float, Field(gt=0)] | None = None
    millilitres: Annotated[float, Field(gt=0)] | None = None
    regions: dict[Id, float] = {}
    guess: tuple[float, float] | None = None
    """Where the size is a guess, as of a handful: the least and the most it may be, in its grams or millilitres."""

    @model_validator(mode="after")
    def _guess_holds_its_size(self) -> Unit:
        size = self.millilitres or self.grams
        if self.guess is not None and not (size and 0 < self.guess[0] <= size <= self.guess[1]):
            raise ValueError("guess needs millilitres or grams that lie between its two ends")
        return self


class Mixer(Graded):
    """A way of mixing: what it is called in formulas, and how much each minute warms the dough."""

    id: Id
    name: Words
    names: Annotated[tuple[Words, ...], Field(min_length=1)]
    heat_c_per_min: Figure


class PanSize(Graded):
    """A pan that people call by pounds or by two lengths in inches, with its measures inside."""

    id: Id
    kind: Literal["tin", "round", "flat"]
    pounds: Annotated[float, Field(gt=0)] | None = None
    inches: tuple[float, float] | None = None
    length_cm: Annotated[float, Field(ge=1, le=200)]
    width_cm: Annotated[float, Field(ge=1, le=200)]
    height_cm: Annotated[float, Field(ge=1, le=200)]


class KitchenConstant(Graded):
    """What is not the same in two kitchens: how far it may lie off, and which constants of the models it moves."""

    id: Id
    name: Words
    unit: Literal["C", ""]
    """C for degrees that are added; else the logarithm of a factor."""
    spread: Annotated[float, Field(gt=0)]
    """Standard deviation over kitchens."""
    coefficients: tuple[Id, ...] = ()
    """Coefficients that it multiplies."""
    causes: tuple[Id, ...] = ()
    """Causes by which a baker asks for it."""
