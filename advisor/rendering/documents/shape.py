"""What every document is made of: a frozen class whose fields are its keys, in their order.

The text under a field is what the printed schema says of it (`schemas.py`). A name that Python keeps for itself
(from, not, for) has it as an alias, and stands in the JSON under that.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from advisor.knowledge_base.shapes import shape
from advisor.version import __version__

__all__ = ["SCHEMA", "CautionShape", "ChangeShape", "Document", "Pair", "RiskPair", "Share", "shape"]
SCHEMA: Literal[2] = 2
Share = Annotated[float, Field(ge=0, le=1)]
Pair = tuple[float | None, float | None]
"""Before and after; null where there is no value."""
RiskPair = tuple[Share, Share]
"""A risk before and after."""


@shape
class Document:
    """What every document starts with."""

    schema: Literal[2] = SCHEMA
    """Number of the shape: another number, other keys."""
    kind: str
    """What is told; `advisor --schema KIND` prints its shape."""
    version: str = __version__
    """Version of the program that wrote this."""


@shape
class ChangeShape:
    """One change of a formula."""

    what: str
    """The ingredient by its name, or the process line; for handling, what to do in a sentence."""
    unit: str
    """Unit of both amounts; empty for handling."""
    before: Annotated[float | None, Field(alias="from")]
    """The amount as it is; null where there was none."""
    after: Annotated[float | None, Field(alias="to")]
    """The amount as it should be; null for handling."""
    kitchen: str | None
    """The new amount in pieces, spoons or cups; null where that is not known or not of use."""


@shape
class CautionShape:
    """Something to watch out for."""

    id: str
    """Id in knowledge/cautions.yaml."""
    short: str
    """The caution in one sentence."""
    text: str
    """The caution in full."""
    sources: tuple[str, ...]
    """Keys of the works that say so; `advisor sources KEY` tells which."""
