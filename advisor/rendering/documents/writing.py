"""A document as JSON: numbers to six digits, and never one that JSON does not know."""

from __future__ import annotations

import math
from typing import Any, TypeAlias

from pydantic import TypeAdapter

from advisor.rendering.documents.shape import Document

Json: TypeAlias = "bool | int | float | str | list[Json] | dict[str, Json] | None"
DIGITS = 6


_ADAPTERS: dict[type[object], TypeAdapter[Any]] = {}


def adapter(shape: type[object]) -> TypeAdapter[Any]:
    """The writer and reader of one shape: made when it is first needed, since it takes some milliseconds."""
    if shape not in _ADAPTERS:
        _ADAPTERS[shape] = TypeAdapter(shape)
    return _ADAPTERS[shape]


def plain(document: Document) -> dict[str, Json]:
    """Give a document as JSON values."""
    found: dict[str, Json] = adapter(type(document)).dump_python(document, mode="json", by_alias=True)
    return {key: rounded(value) for key, value in found.items()}


def rounded(value: Json) -> Json:
    """The same with every number to six digits; null stands for what is no number."""
    if isinstance(value, float):
        return round(value, DIGITS) + 0.0 if math.isfinite(value) else None
    if isinstance(value, dict):
        return {key: rounded(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [rounded(inner) for inner in value]
    return value
