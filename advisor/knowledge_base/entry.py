"""What every entry in knowledge/ and rules/ shares: frozen, no unknown keys, every number graded."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

Grade = Literal["published", "practice", "memory", "calibrated", "demo"]
Id = Annotated[str, Field(pattern=r"^[a-z][a-z0-9]*([-_][a-z0-9]+)*$", max_length=60)]
Share = Annotated[float, Field(ge=0, le=1)]
Text = Annotated[str, Field(min_length=2, max_length=600)]
Words = Annotated[str, Field(min_length=1, max_length=80)]


class Entry(BaseModel):
    """A frozen record that refuses keys it does not know."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        allow_inf_nan=False,
        defer_build=True,
        json_schema_serialization_defaults_required=True,
    )


class Graded(Entry):
    """Something a reviewer may dispute: how well it is known, and from where."""

    grade: Grade
    """How well it is known: published, practice (common practice, no source), memory, calibrated or demo (invented)."""
    sources: tuple[str, ...] = ()
    """Keys of the works that say so."""
    note: Text | None = None
    """What else is to be said of it."""

    @model_validator(mode="after")
    def _published_names_its_source(self) -> Graded:
        if self.grade == "published" and not self.sources:
            raise ValueError("grade 'published' needs at least one key in sources")
        return self


class Figure(Graded):
    """One number with its range, grade and sources; the unit stands in the name of the field that holds it."""

    value: float
    """The number; its unit stands in the name of the field that holds it."""
    range: tuple[float, float] | None = None
    """From where to where it may lie."""
    pinned_by: str | None = None
    """The test that holds a calibrated number in place."""

    @model_validator(mode="after")
    def _inside_its_range(self) -> Figure:
        if self.range and not self.range[0] <= self.value <= self.range[1]:
            raise ValueError(
                f"{self.value:g} lies outside its own range {self.range[0]:g} to {self.range[1]:g}"
            )
        if self.grade == "calibrated" and not self.pinned_by:
            raise ValueError("grade 'calibrated' needs pinned_by: the test that holds it in place")
        return self
