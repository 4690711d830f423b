"""JSON Schema of what `advisor teach` prints: the kinds `lesson` and, without a topic, `lessons`."""

from __future__ import annotations

from typing import get_args

from advisor.explanation.lesson.teach_steps import ROWS, StepKind
from advisor.rendering.json_form import Json

_TEXT: Json = {"type": "string"}
_TEXT_OR_NONE: Json = {"type": ["string", "null"]}
_TEXTS: Json = {"type": "array", "items": _TEXT}
_SHARE: Json = {"type": "number", "minimum": 0, "maximum": 1}


def _object(properties: dict[str, Json]) -> dict[str, Json]:
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _list(item: Json) -> Json:
    return {"type": "array", "items": item}


_QUESTION = _object(
    {
        "ask": _TEXT,
        "after": _TEXTS,
        "choices": _TEXTS,
        "right": {"enum": ["a", "b", "c", "d", None]},
        "found": _TEXT_OR_NONE,
        "because": _TEXT_OR_NONE,
    }
)
_STEP = _object(
    {
        "kind": {"enum": list(get_args(StepKind))},
        "stage": {"enum": list(ROWS)},
        "title": _TEXT,
        "body": _TEXTS,
        "facts": _TEXTS,
        "rule": _TEXT_OR_NONE,
        "link": {"type": ["array", "null"], "items": _TEXT, "minItems": 2, "maxItems": 2},
        "sides": _list(_object({"title": _TEXT, "for": _TEXTS, "against": _TEXTS})),
        "question": {"anyOf": [_QUESTION, {"type": "null"}]},
    }
)
_LINK = _object(
    {
        "from": _TEXT,
        "to": _TEXT,
        "acts": {"enum": list(ROWS)},
        "strength": _SHARE,
        "grade": _TEXT,
        "carried": _SHARE,
        "lit": {"type": "boolean"},
    }
)
LESSON: dict[str, Json] = {
    "title": _TEXT,
    "lesson": _TEXT_OR_NONE,
    "formula": _TEXT_OR_NONE,
    "cause": _TEXT_OR_NONE,
    "symptom": _TEXT_OR_NONE,
    "steps": _list(_STEP),
    "chain": _list(_LINK),
}
LESSONS: dict[str, Json] = {"lessons": _list(_object({"id": _TEXT, "title": _TEXT})), "formulas": _TEXTS}
