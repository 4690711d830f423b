"""What no baker would do: shares of a dough, steps of the process, and changes that undo each other."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field, model_validator

from advisor.knowledge_base.entry import Entry, Graded, Id, Text


class Way(Entry):
    """One thing turned up or down: an ingredient's role, some ingredients, or a line of the process."""

    role: Id | None = None
    ingredients: tuple[Id, ...] = ()
    process: Id | None = None
    goes: Literal["up", "down"]

    @model_validator(mode="after")
    def _one_thing(self) -> Way:
        if sum(map(bool, (self.role, self.ingredients, self.process))) != 1:
            raise ValueError("a way names a role, ingredients or a process field")
        return self


class Usual(Entry):
    """What a bake usually holds of something, g per 100 g of its dry powders; a change from outside goes to `aim`."""

    low: Annotated[float, Field(ge=0)]
    aim: Annotated[float, Field(gt=0)]
    high: Annotated[float, Field(gt=0)]

    @model_validator(mode="after")
    def _in_order(self) -> Usual:
        if not self.low < self.aim < self.high:
            raise ValueError("low, aim and high rise")
        return self


class Never(Entry):
    """What is not done where something was seen or said: any of `ways`, or one of `levers`, unless another way is gone.

    A way of the process is only looked at where no amount is changed: minutes that an amount costs go with it.
    """

    seen: tuple[Id, ...] = ()
    """Any of these symptoms was seen."""
    but_not_seen: tuple[Id, ...] = ()
    answers: Mapping[Id, tuple[str, ...]] = Field(default_factory=dict)
    """Or one of these answers was given."""
    ways: tuple[Way, ...] = ()
    levers: tuple[Id, ...] = ()
    unless: Way | None = None

    @model_validator(mode="after")
    def _something(self) -> Never:
        if not (self.ways or self.levers):
            raise ValueError("say which ways or levers are never gone")
        return self


class Bound(Graded):
    """One bound of what a change may come to. Shares are g per 100 g of dough; a fraction is of what stands now."""

    id: Id
    role: Id | None = None
    ingredients: tuple[Id, ...] = ()
    structures: tuple[Id, ...] = ()
    kinds: tuple[Id, ...] = ()
    not_kinds: tuple[Id, ...] = ()
    process: Id | None = None
    undo_each_other: tuple[Way, Way] | None = None
    never_offered: bool = False
    """These ingredients are never offered in place of another; whoever asks for one by name gets it."""
    at_least_pct: Annotated[float, Field(ge=0, le=100)] | None = None
    at_most_pct: Annotated[float, Field(gt=0, le=100)] | None = None
    step_at_most: Annotated[float, Field(gt=0)] | None = None
    """Largest step of a process number, in its own unit."""
    at_least_fraction: Annotated[float, Field(gt=0, le=1)] | None = None
    at_most_fraction: Annotated[float, Field(ge=1)] | None = None
    counts_from_pct: Annotated[float, Field(ge=0, le=100)] = 0.0
    """A fraction says nothing of so small an amount that it moves less than this share of the dough."""
    not_new: bool = False
    """Nothing of it is put into a formula that has none."""
    without_role: Id | None = None
    """What is usual is so only where nothing else in the formula has this role."""
    usual: Usual | None = None
    never: Never | None = None
    says: Text
    """Why a baker would not do it."""

    @model_validator(mode="after")
    def _one_subject(self) -> Bound:
        if sum(map(bool, (self.role, self.ingredients, self.process, self.undo_each_other, self.never))) != 1:
            raise ValueError(
                "a bound is about exactly one of role, ingredients, process, undo_each_other, never"
            )
        shares = self.at_least_pct is not None or self.at_most_pct is not None
        far = (self.step_at_most, self.at_least_fraction, self.at_most_fraction)
        steps = self.not_new or any(x is not None for x in far)
        if shares and self.process:
            raise ValueError(
                "a share of the dough goes with a role or with ingredients, not with the process"
            )
        if self.step_at_most is not None and not self.process:
            raise ValueError("step_at_most goes with process")
        if (self.kinds or self.not_kinds) and not (self.usual or self.never or self.not_new):
            raise ValueError("kinds go with what is usual, not new or never done")
        if self.never is not None:
            if shares or steps or self.usual is not None:
                raise ValueError("what is never done has no shares and steps")
            return self
        if self.usual is not None:
            if shares or steps or not (self.role or self.ingredients):
                raise ValueError("what is usual goes with a role or with ingredients alone")
            return self
        if self.never_offered:
            if shares or steps or not self.ingredients:
                raise ValueError("never_offered goes with ingredients alone")
            return self
        if (shares or steps) == (self.undo_each_other is not None):
            raise ValueError("a bound says how much or how far, or which two changes undo each other")
        return self
