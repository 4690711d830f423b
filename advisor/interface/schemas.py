"""JSON Schema (2020-12) of every kind that the commands print."""

from __future__ import annotations

from advisor.interface.json_form import Json
from advisor.interface.record_schema import RECORD
from advisor.interface.teach_schema import LESSON, LESSONS

_NUMBER: Json = {"type": ["number", "null"]}
_TEXTS: Json = {"type": "array", "items": {"type": "string"}}
_PAIR: Json = {"type": "array", "prefixItems": [_NUMBER, _NUMBER], "minItems": 2, "maxItems": 2}
_SHARE: Json = {"type": "number", "minimum": 0, "maximum": 1}


def _thing(properties: dict[str, Json], optional: tuple[str, ...] = ()) -> dict[str, Json]:
    return {
        "type": "object",
        "properties": properties,
        "required": [name for name in properties if name not in optional],
        "additionalProperties": False,
    }


def _each(values: Json) -> Json:
    return {"type": "object", "additionalProperties": values}


def _kind(kind: str, properties: dict[str, Json]) -> dict[str, Json]:
    opening: dict[str, Json] = {
        "schema": {"const": 1},
        "kind": {"const": kind},
        "version": {"type": "string"},
    }
    title = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": f"dough-advisor {kind}"}
    return {**title, **_thing({**opening, **properties})}


_LINE = _thing(
    {
        "text": {"type": "string"},
        "ingredient": {"type": "string"},
        "grams": {"type": "number", "exclusiveMinimum": 0},
        "conversion": {"type": "string"},
        "grade": {"enum": ["published", "practice", "memory", "calibrated", "demo"]},
    }
)
_MEASURE = _thing(
    {
        "value": _NUMBER,
        "unit": {"type": "string"},
        "band": {"anyOf": [_PAIR, {"type": "null"}]},
        "state": {"enum": ["in", "low", "high", "unbanded"]},
        "excess": _SHARE,
        "reason": {"type": "string"},
    }
)
_CAUSE = _thing(
    {
        "id": {"type": "string"},
        "name": {"type": "string"},
        "probability": _SHARE,
        "refines": {"type": ["string", "null"]},
        "chains": {"type": "array", "items": _TEXTS},
        "rules": _TEXTS,
    }
)
_CHANGE = _thing({"what": {"type": "string"}, "unit": {"type": "string"}, "from": _NUMBER, "to": _NUMBER})
_PROPOSAL = _thing(
    {
        "lever": {"type": "string"},
        "cause": {"type": "string"},
        "kind": {"enum": ["amount", "add", "omit", "replace", "process", "handling"]},
        "changes": {"type": "array", "items": _CHANGE, "minItems": 1},
        "measures": _each(_PAIR),
        "risk": _each(_PAIR),
        "net_carb_per_slice": _PAIR,
        "side_effects": _TEXTS,
        "relief": {"type": "number"},
        "effort": {"type": "number", "exclusiveMinimum": 0},
    }
)
_FORMULA = _thing(
    {
        "name": {"type": "string"},
        "dough_g": {"type": "number"},
        "slices": {"type": "integer"},
        "lines": {"type": "array", "items": _LINE},
    }
)
_PROCESS_VALUE = _thing(
    {"value": {"type": ["number", "string", "boolean", "null"]}, "assumed": {"type": "boolean"}}
)
_CAUTION = _thing({"id": {"type": "string"}, "text": {"type": "string"}, "sources": _TEXTS})
_JOINT = _thing(
    {
        "changes": {"type": "array", "items": _CHANGE, "minItems": 1},
        "measures": _each(_PAIR),
        "risk": _each(_PAIR),
        "net_carb_per_slice": _PAIR,
        "relief": {"type": "number"},
        "unmet": _TEXTS,
        "relaxed": _TEXTS,
    }
)
_FIRST = _thing(
    {
        "lever": {"type": "string"},
        "symptom": {"type": "string"},
        "bits": {"type": "number", "minimum": 0},
        "expect": {
            "type": "array",
            "items": _thing({"cause": {"type": "string"}, "probability": _SHARE, "gone": _SHARE}),
        },
    }
)
_PLAIN_FORMULA = _thing(
    {
        "name": {"type": "string"},
        "dough_g": {"type": "number"},
        "lines": {
            "type": "array",
            "items": _thing({"ingredient": {"type": "string"}, "grams": {"type": "number", "minimum": 0}}),
        },
    }
)
_COMPARISON: dict[str, Json] = {
    "before": _PLAIN_FORMULA,
    "after": _PLAIN_FORMULA,
    "changes": {"type": "array", "items": _CHANGE},
    "measures": _each(_PAIR),
    "risk": _each(_PAIR),
    "burden": _PAIR,
    "structure": {"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2},
    "says": _TEXTS,
}
_SINGLY: Json = {
    "type": "array",
    "items": _thing({"change": _CHANGE, "measures": _each(_PAIR), "risk": _each(_PAIR)}),
}
_ANSWER: dict[str, Json] = {
    "formula": _FORMULA,
    "process": _each(_PROCESS_VALUE),
    "structure": {"type": "string"},
    "structures": _each(_SHARE),
    "measures": _each(_MEASURE),
    "symptoms": _each(_thing({"risk": _SHARE, "observed": {"type": ["boolean", "null"]}})),
    "causes": {"type": "array", "items": _CAUSE},
    "proposals": {"type": "array", "items": _PROPOSAL},
    "joint_plan": {"anyOf": [_JOINT, {"type": "null"}]},
    "first_trial": {"anyOf": [_FIRST, {"type": "null"}]},
    "rescues": {
        "type": "array",
        "items": _thing({"id": {"type": "string"}, "says": {"type": "string"}, "mind": {"type": "string"}}),
    },
    "next_question": {"type": ["object", "null"]},
    "reminders": _TEXTS,
    "cautions": {"type": "array", "items": _CAUTION},
    "limits_broken": _TEXTS,
    "assumed": _TEXTS,
    "warnings": _TEXTS,
}
_FINDING = _thing(
    {
        "file": {"type": "string"},
        "line": {"type": "integer"},
        "check": {"type": "string"},
        "message": {"type": "string"},
    }
)
_SOURCE = _thing(
    {
        "key": {"type": "string"},
        "cites": {"type": "string"},
        "kind": {"type": "string"},
        "seen": {"type": "string"},
        "note": {"type": ["string", "null"]},
        "rests_on_it": _TEXTS,
    }
)
_TERM = _thing(
    {
        "kind": {"enum": ["term", "measure", "structure"]},
        "word": {"type": "string"},
        "also": _TEXTS,
        "says": {"type": "string"},
        "unit": {"type": ["string", "null"]},
        "grade": {"enum": ["published", "practice", "memory", "calibrated", "demo", None]},
        "sources": {
            "type": "array",
            "items": _thing({"key": {"type": "string"}, "cites": {"type": "string"}}),
        },
    }
)
_FIGURE = _thing(
    {
        "grade": {"enum": ["published", "practice", "memory", "calibrated", "demo"]},
        "sources": _TEXTS,
        "note": {"type": ["string", "null"]},
        "value": {"type": "number"},
        "range": {"anyOf": [_PAIR, {"type": "null"}]},
        "pinned_by": {"type": ["string", "null"]},
    }
)
_FIGURE_OR_NONE: Json = {"anyOf": [_FIGURE, {"type": "null"}]}
_INGREDIENT = _thing(
    {
        "own": {"type": "boolean"},
        "id": {"type": "string"},
        "name": {"type": "string"},
        "also": _TEXTS,
        "family": {"type": "string"},
        "roles": _TEXTS,
        "per_100g": {"type": "object"},
        "protein_classes": _each(_SHARE),
        "dry_base": {"type": "boolean"},
        "countable": {"type": ["string", "null"]},
        "allergens": _TEXTS,
        "traits": _TEXTS,
        "gives_water": _FIGURE_OR_NONE,
        "dough_uptake": _FIGURE_OR_NONE,
        "holds_when_baked": _FIGURE_OR_NONE,
        "starch_holding": _FIGURE_OR_NONE,
        "solids_like": {"type": ["string", "null"]},
        "gum_equivalent": _FIGURE_OR_NONE,
        "fermentable_sugars": _FIGURE_OR_NONE,
        "soda_per_100g": _FIGURE_OR_NONE,
        "acids_per_100g": _each(_FIGURE),
        "yeast_rate": _FIGURE_OR_NONE,
        "enzyme_u_per_g": _FIGURE_OR_NONE,
        "weights": _each({"type": "object"}),
        "price_per_kg": _NUMBER,
        "all_sources": _TEXTS,
    }
)

SCHEMAS: dict[str, dict[str, Json]] = {
    "check": _kind("check", _ANSWER),
    "diagnosis": _kind("diagnosis", _ANSWER),
    "proof": _kind(
        "proof",
        {
            "about": _thing({"kind": {"enum": ["cause", "symptom"]}, "id": {"type": "string"}}),
            "probability": _NUMBER,
            "risk": _NUMBER,
            "contributions": {
                "type": "array",
                "items": _thing({"cause": {"type": "string"}, "share": {"type": "number"}}),
            },
            "proof": {"type": ["object", "null"]},
            "missed": {"type": "array", "items": {"type": "object"}},
        },
    ),
    "trial": _kind("trial", _COMPARISON),
    "difference": _kind("difference", {**_COMPARISON, "singly": _SINGLY}),
    "ingredients": _kind(
        "ingredients", {"ingredients": {"type": "array", "items": _INGREDIENT}, "said": _TEXTS}
    ),
    "batch": _kind(
        "batch",
        {
            "source": {"type": "string"},
            "content": {"type": "string"},
            "asked": {"type": "string"},
            "exit": {"enum": [0, 1, 2, 3]},
            "risk": {"anyOf": [_SHARE, {"type": "null"}]},
            "symptom": {"type": ["string", "null"]},
            "cause": {"type": ["string", "null"]},
            "limits_broken": {"type": "boolean"},
            "problems": _TEXTS,
            "answer": {"anyOf": [_kind("check", _ANSWER), {"type": "null"}]},
        },
    ),
    "lesson": _kind("lesson", LESSON),
    "lessons": _kind("lessons", LESSONS),
    "record": _kind("record", RECORD),
    "findings": _kind("findings", {"findings": {"type": "array", "items": _FINDING}}),
    "glossary": _kind("glossary", {"words": {"type": "array", "items": _TERM}, "nearest": _TEXTS}),
    "sources": _kind(
        "sources", {"sources": {"type": "array", "items": _SOURCE}, "grades": _each({"type": "integer"})}
    ),
}
