"""The cause graph as data: causes, mechanisms, symptoms and the links between them."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from advisor.knowledge_base.entry import Graded, Id, Share, Text, Words
from advisor.knowledge_base.ingredient import Role

Stage = Literal["mixing", "proof", "early_oven", "late_oven", "cooling", "storage"]


class Cause(Graded):
    """Something wrong with the formula, the process or an ingredient."""

    id: Id
    name: Words
    group: Id
    base_rate: Annotated[float, Field(gt=0, lt=0.5)]
    says: Text
    refines: Id | None = None
    handling: bool = False
    no_lever: Text | None = None


class Mechanism(Graded):
    """What a cause does inside the dough or loaf; `needs_role` names an ingredient without which it cannot happen."""

    id: Id
    name: Words
    says: Text
    needs_role: Role | None = None


class Symptom(Graded):
    """What the baker sees, smells or tastes."""

    id: Id
    name: Words
    also: tuple[Words, ...] = ()
    """Common words for it, by which it may be told."""
    question: Text
    says: Text
    look: Text
    severity: Share
    leak: Annotated[float, Field(gt=0, lt=0.3)]
    seconds: Annotated[float, Field(gt=0, le=300)]
    alike: Id | None = None
    tasted: bool = False
    """Whether it is no more than taste, smell or colour."""
    only_kinds: tuple[Id, ...] = ()
    """Kinds of bake that can have it; where none is named, all can."""


class Link(Graded):
    """One edge of the graph, cause to mechanism, mechanism to mechanism or mechanism to symptom."""

    start: Annotated[Id, Field(alias="from")]
    to: Id
    strength: Annotated[float, Field(gt=0, lt=1)]
    acts: Stage
