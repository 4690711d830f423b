"""What is not the same in two kitchens: how far it may lie off, and which constants of the models it moves."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from advisor.knowledge_base.entry import Graded, Id, Words


class KitchenConstant(Graded):
    """One constant of a kitchen."""

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
