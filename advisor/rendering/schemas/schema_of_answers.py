"""JSON Schema of what check, diagnose, try and differ answer."""

from __future__ import annotations

from advisor.rendering.json_form import Json
from advisor.rendering.schemas.schema_shapes import NUMBER, PAIR, SHARE, TEXTS, each, thing

_LINE = thing(
    {
        "text": {"type": "string"},
        "ingredient": {"type": "string"},
        "grams": {"type": "number", "exclusiveMinimum": 0},
        "conversion": {"type": "string"},
        "grade": {"enum": ["published", "practice", "memory", "calibrated", "demo"]},
    }
)
_MEASURE = thing(
    {
        "value": NUMBER,
        "unit": {"type": "string"},
        "band": {"anyOf": [PAIR, {"type": "null"}]},
        "state": {"enum": ["in", "low", "high", "unbanded"]},
        "excess": SHARE,
        "reason": {"type": "string"},
    }
)
_CAUSE = thing(
    {
        "id": {"type": "string"},
        "name": {"type": "string"},
        "probability": SHARE,
        "refines": {"type": ["string", "null"]},
        "chains": {"type": "array", "items": TEXTS},
        "rules": TEXTS,
    }
)
_CHANGE = thing({"what": {"type": "string"}, "unit": {"type": "string"}, "from": NUMBER, "to": NUMBER})
_PROPOSAL = thing(
    {
        "lever": {"type": "string"},
        "cause": {"type": "string"},
        "kind": {"enum": ["amount", "add", "omit", "replace", "process", "handling"]},
        "changes": {"type": "array", "items": _CHANGE, "minItems": 1},
        "measures": each(PAIR),
        "risk": each(PAIR),
        "net_carb_per_slice": PAIR,
        "side_effects": TEXTS,
        "relief": {"type": "number"},
        "effort": {"type": "number", "exclusiveMinimum": 0},
    }
)
_FORMULA = thing(
    {
        "name": {"type": "string"},
        "dough_g": {"type": "number"},
        "slices": {"type": "integer"},
        "lines": {"type": "array", "items": _LINE},
    }
)
_PROCESS_VALUE = thing(
    {"value": {"type": ["number", "string", "boolean", "null"]}, "assumed": {"type": "boolean"}}
)
_CAUTION = thing({"id": {"type": "string"}, "text": {"type": "string"}, "sources": TEXTS})
_JOINT = thing(
    {
        "changes": {"type": "array", "items": _CHANGE, "minItems": 1},
        "measures": each(PAIR),
        "risk": each(PAIR),
        "net_carb_per_slice": PAIR,
        "relief": {"type": "number"},
        "unmet": TEXTS,
        "relaxed": TEXTS,
    }
)
_FIRST = thing(
    {
        "lever": {"type": "string"},
        "symptom": {"type": "string"},
        "bits": {"type": "number", "minimum": 0},
        "expect": {
            "type": "array",
            "items": thing({"cause": {"type": "string"}, "probability": SHARE, "gone": SHARE}),
        },
    }
)
_PLAIN_FORMULA = thing(
    {
        "name": {"type": "string"},
        "dough_g": {"type": "number"},
        "lines": {
            "type": "array",
            "items": thing({"ingredient": {"type": "string"}, "grams": {"type": "number", "minimum": 0}}),
        },
    }
)
COMPARISON: dict[str, Json] = {
    "before": _PLAIN_FORMULA,
    "after": _PLAIN_FORMULA,
    "changes": {"type": "array", "items": _CHANGE},
    "measures": each(PAIR),
    "risk": each(PAIR),
    "burden": PAIR,
    "structure": {"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2},
    "says": TEXTS,
}
SINGLY: Json = {
    "type": "array",
    "items": thing({"change": _CHANGE, "measures": each(PAIR), "risk": each(PAIR)}),
}
ANSWER: dict[str, Json] = {
    "formula": _FORMULA,
    "process": each(_PROCESS_VALUE),
    "structure": {"type": "string"},
    "structures": each(SHARE),
    "measures": each(_MEASURE),
    "symptoms": each(thing({"risk": SHARE, "observed": {"type": ["boolean", "null"]}})),
    "causes": {"type": "array", "items": _CAUSE},
    "proposals": {"type": "array", "items": _PROPOSAL},
    "joint_plan": {"anyOf": [_JOINT, {"type": "null"}]},
    "first_trial": {"anyOf": [_FIRST, {"type": "null"}]},
    "rescues": {
        "type": "array",
        "items": thing({"id": {"type": "string"}, "says": {"type": "string"}, "mind": {"type": "string"}}),
    },
    "next_question": {"type": ["object", "null"]},
    "reminders": TEXTS,
    "cautions": {"type": "array", "items": _CAUTION},
    "limits_broken": TEXTS,
    "assumed": TEXTS,
    "warnings": TEXTS,
}
