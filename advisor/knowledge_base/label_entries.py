"""Lines of a nutrition declaration with their rounding and tolerance, and conventions of net carbohydrate."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from advisor.knowledge_base.entry import Entry, Graded, Id, Share, Text, Words

Form = Literal["eu", "us"]
Part = Literal[
    "energy_kj", "energy_kcal", "energy_us_kcal", "fat", "saturates", "carbohydrate", "carbohydrate_without_fibre",
    "sugars", "polyols", "fibre", "protein", "salt", "sodium_mg",
]  # fmt: skip
"""Fields of `advisor.models.dough.nutrition.Nutrition`."""
Edge = Annotated[float, Field(gt=0)]


class _Step(Entry):
    """For which figures a step is meant: those below an edge, those up to it, or all that are left."""

    below: Edge | None = None
    up_to: Edge | None = None

    def fits(self, figure: float) -> bool:
        """Whether a figure is one of those; a sum's last digit must not decide at an edge."""
        if self.below is not None:
            return figure < self.below - 1e-9
        return self.up_to is None or figure <= self.up_to + 1e-9

    @model_validator(mode="after")
    def _one_edge(self) -> _Step:
        if self.below is not None and self.up_to is not None:
            raise ValueError("a step has below or up_to, not both")
        return self


class RoundingStep(_Step):
    """How figures are written: as the nearest multiple of `step`, or as `says`."""

    step: Edge | None = None
    says: Words | None = None

    @model_validator(mode="after")
    def _one_way(self) -> RoundingStep:
        if (self.step is None) == (self.says is None):
            raise ValueError("a step of rounding has either step or says")
        return self


class ToleranceStep(_Step):
    """How far what is measured may lie from what is declared: either way, or only above or only below it."""

    off: Edge | None = None
    off_share: Share | None = None
    above_share: Share | None = None
    below_share: Share | None = None

    @model_validator(mode="after")
    def _one_kind(self) -> ToleranceStep:
        if sum(x is not None for x in (self.off, self.off_share, self.above_share, self.below_share)) != 1:
            raise ValueError("a tolerance is one of off, off_share, above_share, below_share")
        return self


class LabelPart(Graded):
    """One line of a declaration."""

    id: Id
    form: Form
    part: Part
    name: Words
    """As the rules of that form call it."""
    of_which: bool = False
    """Whether it is a part of the line above."""
    unit: Literal["kJ", "kcal", "g", "mg"]
    rounding: Annotated[tuple[RoundingStep, ...], Field(min_length=1)]
    tolerance: tuple[ToleranceStep, ...] = ()

    @model_validator(mode="after")
    def _last_step_takes_all(self) -> LabelPart:
        for steps in (self.rounding, self.tolerance):
            if steps and (steps[-1].below is not None or steps[-1].up_to is not None):
                raise ValueError("the last step must take whatever is left: without below and up_to")
        return self


class NetCarbConvention(Graded):
    """Which share of each part is counted out of all carbohydrate."""

    id: Id
    name: Words
    says: Text
    fibre: Share
    erythritol: Share
    allulose: Share
    polyols: Share
    """Of sugar alcohols other than erythritol."""
