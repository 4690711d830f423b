"""JSON Schema (2020-12) of every kind that the commands print."""

from __future__ import annotations

from advisor.rendering.json_form import Json
from advisor.rendering.schemas.record_schema import RECORD
from advisor.rendering.schemas.schema_of_answers import ANSWER, COMPARISON, SINGLY
from advisor.rendering.schemas.schema_of_knowledge import FINDING, INGREDIENT, SOURCE, SYMPTOM, TERM
from advisor.rendering.schemas.schema_shapes import NUMBER, SHARE, TEXTS, each, kind, thing
from advisor.rendering.schemas.teach_schema import LESSON, LESSONS

SCHEMAS: dict[str, dict[str, Json]] = {
    "check": kind("check", ANSWER),
    "diagnosis": kind("diagnosis", ANSWER),
    "proof": kind(
        "proof",
        {
            "about": thing({"kind": {"enum": ["cause", "symptom"]}, "id": {"type": "string"}}),
            "probability": NUMBER,
            "risk": NUMBER,
            "contributions": {
                "type": "array",
                "items": thing({"cause": {"type": "string"}, "share": {"type": "number"}}),
            },
            "proof": {"type": ["object", "null"]},
            "missed": {"type": "array", "items": {"type": "object"}},
        },
    ),
    "trial": kind("trial", COMPARISON),
    "difference": kind("difference", {**COMPARISON, "singly": SINGLY}),
    "ingredients": kind(
        "ingredients", {"ingredients": {"type": "array", "items": INGREDIENT}, "said": TEXTS}
    ),
    "batch": kind(
        "batch",
        {
            "source": {"type": "string"},
            "content": {"type": "string"},
            "asked": {"type": "string"},
            "exit": {"enum": [0, 1, 2, 3]},
            "risk": {"anyOf": [SHARE, {"type": "null"}]},
            "symptom": {"type": ["string", "null"]},
            "cause": {"type": ["string", "null"]},
            "limits_broken": {"type": "boolean"},
            "problems": TEXTS,
            "answer": {"anyOf": [kind("check", ANSWER), {"type": "null"}]},
        },
    ),
    "lesson": kind("lesson", LESSON),
    "lessons": kind("lessons", LESSONS),
    "record": kind("record", RECORD),
    "findings": kind("findings", {"findings": {"type": "array", "items": FINDING}}),
    "glossary": kind("glossary", {"words": {"type": "array", "items": TERM}, "nearest": TEXTS}),
    "symptoms": kind("symptoms", {"symptoms": {"type": "array", "items": SYMPTOM}}),
    "sources": kind(
        "sources", {"sources": {"type": "array", "items": SOURCE}, "grades": each({"type": "integer"})}
    ),
}
