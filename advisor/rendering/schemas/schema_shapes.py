"""The shapes that the schemas of all kinds are made of."""

from __future__ import annotations

from advisor.rendering.json_form import Json

NUMBER: Json = {"type": ["number", "null"]}
TEXTS: Json = {"type": "array", "items": {"type": "string"}}
PAIR: Json = {"type": "array", "prefixItems": [NUMBER, NUMBER], "minItems": 2, "maxItems": 2}
SHARE: Json = {"type": "number", "minimum": 0, "maximum": 1}


def thing(properties: dict[str, Json], optional: tuple[str, ...] = ()) -> dict[str, Json]:
    """An object with these properties and no others."""
    return {
        "type": "object",
        "properties": properties,
        "required": [name for name in properties if name not in optional],
        "additionalProperties": False,
    }


def each(values: Json) -> Json:
    """An object whose every value is of one shape."""
    return {"type": "object", "additionalProperties": values}


def kind(name: str, properties: dict[str, Json]) -> dict[str, Json]:
    """A whole document of a kind, with what every kind starts with."""
    opening: dict[str, Json] = {
        "schema": {"const": 1},
        "kind": {"const": name},
        "version": {"type": "string"},
    }
    title = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": f"dough-advisor {name}"}
    return {**title, **thing({**opening, **properties})}
