"""What a document of the kind `record` holds, beside what all kinds start with."""

from __future__ import annotations

from advisor.rendering.json_form import Json

_TEXT: Json = {"type": "string"}
_TEXTS: Json = {"type": "array", "items": {"type": "string"}}
_NUMBER: Json = {"type": ["number", "null"]}
_SHARE: Json = {"type": ["number", "null"], "minimum": 0, "maximum": 1}
_PAIR: Json = {"type": "array", "prefixItems": [_NUMBER, _NUMBER], "minItems": 2, "maxItems": 2}


def _thing(properties: dict[str, Json], *, optional: tuple[str, ...] = ()) -> Json:
    required: list[Json] = [name for name in properties if name not in optional]
    return {"type": "object", "properties": properties, "required": required, "additionalProperties": False}


def _each(values: Json) -> Json:
    return {"type": "object", "additionalProperties": values}


_MARKS: dict[str, Json] = {
    name: {"type": "integer", "minimum": 1, "maximum": 5} for name in ("volume", "crumb", "slice", "taste")
}
_SIZES: dict[str, Json] = {
    name: {"type": "number"} for name in ("height_cm", "weight_g", "volume_ml", "core_c")
}
_KEPT: dict[str, Json] = {
    "saw": _TEXTS,
    "not": _TEXTS,
    **_MARKS,
    **_SIZES,
    "photo": _TEXT,
    "notes": _TEXT,
    "followed": _TEXT,
    "follows": _TEXT,
    "lots": _each(_TEXT),
    "amounts": {
        "type": "array",
        "items": {
            "type": "array",
            "prefixItems": [_TEXT, _TEXT, {"type": "number"}],
            "minItems": 3,
            "maxItems": 3,
        },
    },
    "steps": _each(_TEXT),
    "foreseen": {"type": "object"},
    "risk": _each(_PAIR),
}
_BAKE = _thing(
    {"number": {"type": "integer"}, "key": _TEXT, "date": _TEXT, "formula": _TEXT, "text": _TEXT, **_KEPT},
    optional=tuple(_KEPT),
)
_VALUE: Json = {"type": ["number", "string", "null"]}
_CHANGES = _thing(
    {
        "number": {"type": "integer"},
        "after": {"type": "integer"},
        "differences": {"type": "array", "items": _thing({"what": _TEXT, "from": _VALUE, "to": _VALUE})},
    }
)
_SHIFT = _thing(
    {
        "kind": {"enum": ["cause", "change", "oven", "powder"]},
        "id": _TEXT,
        "value": {"type": "number"},
        "says": _TEXT,
        "why": _TEXT,
        "bakes": {"type": "array", "items": {"type": "integer"}},
    }
)
_FORESEEN_SYMPTOM = _thing(
    {"before": _SHARE, "risk": _SHARE, "seen": {"type": "boolean"}, "right": {"type": "boolean"}}
)
_LOOKED_BACK = _thing(
    {
        "after": {"type": ["integer", "null"]},
        "outcome": {"enum": ["worked", "in part", "failed", None]},
        "symptoms": _each(_FORESEEN_SYMPTOM),
        "measures": _each(_thing({"foreseen": _NUMBER, "measured": _NUMBER})),
        "causes": _each(_PAIR),
        "not_taught": {"type": ["string", "null"]},
    }
)
RECORD: dict[str, Json] = {
    "verb": _TEXT,
    "bakes": {"type": "array", "items": _BAKE},
    "changes": {"type": "array", "items": _CHANGES},
    "best": {"type": ["integer", "null"]},
    "looked_back": {"anyOf": [_LOOKED_BACK, {"type": "null"}]},
    "shifts": {"type": "array", "items": _SHIFT},
    "said": _TEXTS,
}
