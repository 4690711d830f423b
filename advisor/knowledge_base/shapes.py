"""Frozen classes that stand in documents as they are: their fields are the keys, in their order.

The text under a field is what the printed schema says of it. Any layer may make such a class, so that what it finds
is not written down once more for the document.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar, dataclass_transform

from pydantic import ConfigDict

T = TypeVar("T")


@dataclass_transform(frozen_default=True, kw_only_default=True)
def shape(made: type[T]) -> type[T]:
    """Make a class the shape of a part of a document: no other keys than its fields, and all of them always there."""
    whole = dataclass(frozen=True, slots=True, kw_only=True)(made)
    config = ConfigDict(extra="forbid", json_schema_serialization_defaults_required=True)
    whole.__pydantic_config__ = config  # type: ignore[attr-defined]  # where pydantic looks for it
    return whole
