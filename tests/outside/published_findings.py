"""Published findings as case files hold them: what a paper changed, what it found, and what that asks of the product.

A finding has claims, each with a change to a formula and what must follow from it, or says why it is out of scope.
The grounds that several findings share stand in tests/cases/published_bases.yaml.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

from advisor.knowledge_base.entry import Id, Text
from advisor.knowledge_base.reading import read_entries

CASES = Path(__file__).parents[1] / "cases"
Edit = dict[str, str]
Range = tuple[float, float]


class Claim(BaseModel):
    """One thing that a finding asks of the product, with the change that brings it about.

    `risk` (of a symptom before the bake) or `measure` (`over` another one, where a share is meant) is read before and
    after the edits: it `moves` up, down or stays the `same` (`within` an absolute step of risk, or a relative step of
    a measure), or the `ratio` of after to before lies in a range, or the value after lies `between` two figures.
    `figure` is a number of the knowledge, by its path, that must lie `between` two figures.
    `disagrees` marks a claim that the product gets wrong or is silent on, and says why.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    says: Text
    formula: str | None = None
    base: Id | None = None
    before: tuple[Edit, ...] = ()
    after: tuple[Edit, ...] = ()
    risk: Id | None = None
    measure: Id | None = None
    over: Id | None = None
    figure: str | None = None
    moves: Literal["up", "down", "same"] | None = None
    within: Annotated[float, Field(gt=0, lt=1)] | None = None
    ratio: Range | None = None
    between: Range | None = None
    disagrees: Text | None = None

    @model_validator(mode="after")
    def _one_subject_one_demand(self) -> Claim:
        if 1 != sum(x is not None for x in (self.risk, self.measure, self.figure)):
            raise ValueError("a claim is about one of risk, measure, figure")
        if 1 != sum(x is not None for x in (self.moves, self.ratio, self.between)):
            raise ValueError("a claim asks one of moves, ratio, between")
        if (self.moves == "same") != (self.within is not None):
            raise ValueError("'same' goes with 'within', and nothing else does")
        if self.figure is not None and self.between is None:
            raise ValueError("a figure can only lie between two figures")
        if self.over is not None and self.measure is None:
            raise ValueError("'over' needs a measure")
        for pair in (self.ratio, self.between):
            if pair is not None and pair[0] > pair[1]:
                raise ValueError(f"a range runs from low to high, not {pair[0]:g} to {pair[1]:g}")
        return self


class Finding(BaseModel):
    """What one work found, as far as it was read."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    id: str
    topic: Text
    source: Text
    seen: Literal["abstract", "part", "secondary", "memory"]
    key: Id | None = None
    """The work's key in knowledge/sources.yaml, where the knowledge rests on it: such a finding is no blind test."""
    found: Text
    note: Text | None = None
    formula: str | None = None
    base: Id | None = None
    claims: tuple[Claim, ...] = ()
    out_of_scope: Text | None = None

    @model_validator(mode="after")
    def _claimed_or_explained(self) -> Finding:
        if (not self.claims) == (self.out_of_scope is None):
            raise ValueError("a finding has either claims, or out_of_scope: why")
        return self

    def ground(self, claim: Claim) -> dict[str, str]:
        """What a claim's formula starts from, in the form that edits take: its own ground, else the finding's."""
        for holder in (claim, self):
            if holder.formula is not None:
                return {"formula": holder.formula}
            if holder.base is not None:
                return {"text": bases()[holder.base]}
        raise ValueError(f"{self.id}: neither formula nor base for '{claim.says}'")


class Base(BaseModel):
    """A formula that findings share; its amounts are ours where the paper's were not read."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    id: Id
    text: str


@cache
def bases() -> dict[str, str]:
    """Texts of the shared formulas by id."""
    path = CASES / "published_bases.yaml"
    return {entry.id: entry.text for entry, _ in read_entries(path, path.name, Base)}


@cache
def findings() -> tuple[Finding, ...]:
    """All findings, in and out of scope, in the order of their file."""
    path = CASES / "published.yaml"
    return tuple(entry for entry, _ in read_entries(path, path.name, Finding))
