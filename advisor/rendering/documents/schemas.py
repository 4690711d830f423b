"""JSON Schema (2020-12) of what is printed and of what people write, from the classes themselves.

What a schema says of a key is the text under the field in the source: read from there, it is written once.
"""

from __future__ import annotations

import ast
import inspect
from functools import cache
from itertools import pairwise
from typing import Any, get_type_hints

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from advisor.rendering.documents.kinds import PRINTED, WRITTEN
from advisor.rendering.documents.writing import Json, adapter

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema_of(kind: str) -> dict[str, Json]:
    """Give the schema of a kind of document, or of something that people write.

    Raises:
        KeyError: no such kind.
    """
    printed = kind in PRINTED
    shape = PRINTED[kind]() if printed else WRITTEN[kind]()
    found: dict[str, Json] = adapter(shape).json_schema(
        mode="serialization" if printed else "validation", schema_generator=_Described
    )
    return {"$schema": DIALECT, **_plain(found), "title": f"dough-advisor {kind}"}


def _plain(schema: dict[str, Json]) -> dict[str, Json]:
    """Without the indirection at the top, where nothing in the document refers back to the whole."""
    top = str(schema.get("$ref", "")).removeprefix("#/$defs/")
    parts = schema.get("$defs")
    if not isinstance(parts, dict) or top not in parts:
        return schema
    whole = parts.pop(top)
    assert isinstance(whole, dict)
    return {**whole, **({"$defs": parts} if parts else {})}


class _Described(GenerateJsonSchema):
    """Puts to every key what the source says of it, and leaves out the titles that only repeat the key."""

    def dataclass_schema(self, schema: core_schema.DataclassSchema) -> JsonSchemaValue:
        return _described(super().dataclass_schema(schema), schema["cls"])

    def model_schema(self, schema: core_schema.ModelSchema) -> JsonSchemaValue:
        return _described(super().model_schema(schema), schema["cls"])

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False


def _described(made: JsonSchemaValue, cls: type[Any]) -> JsonSchemaValue:
    names = _names(cls)
    for key, value in made.get("properties", {}).items():
        said = said_of(cls).get(names.get(key, key)) or value.get("title")
        if said:
            value["description"] = said
    return made


def _names(cls: type[Any]) -> dict[str, str]:
    """Key in the JSON to the name of the field."""
    if issubclass(cls, BaseModel):
        return {info.alias or name: name for name, info in cls.model_fields.items()}
    found = {}
    for name, hint in get_type_hints(cls, include_extras=True).items():
        marks = getattr(hint, "__metadata__", ())
        found[next((m.alias for m in marks if isinstance(m, FieldInfo) and m.alias), name)] = name
    return found


def said_of(cls: type[Any]) -> dict[str, str]:
    """Give for each field of a class, its parents' too, the text that stands under it in the source."""
    found: dict[str, str] = {}
    for one in reversed(cls.__mro__):
        if one.__module__.partition(".")[0] == "advisor":
            found |= _under_fields(one)
    return found


def _under_fields(cls: type[Any]) -> dict[str, str]:
    module = inspect.getmodule(cls)
    body = _classes(inspect.getsource(module)).get(cls.__name__, []) if module else []
    found = {}
    for field, below in pairwise(body):
        if not (isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name)):
            continue
        if isinstance(below, ast.Expr) and isinstance(below.value, ast.Constant):
            found[field.target.id] = inspect.cleandoc(str(below.value.value)).replace("\n", " ")
    return found


@cache
def _classes(source: str) -> dict[str, list[ast.stmt]]:
    return {node.name: node.body for node in ast.parse(source).body if isinstance(node, ast.ClassDef)}
