"""JSON Schema of what is known: ingredients, sources, terms, and the findings of the linter."""

from __future__ import annotations

from advisor.rendering.json_form import Json
from advisor.rendering.schemas.schema_shapes import NUMBER, PAIR, SHARE, TEXTS, each, thing

FINDING = thing(
    {
        "file": {"type": "string"},
        "line": {"type": "integer"},
        "check": {"type": "string"},
        "message": {"type": "string"},
    }
)
SOURCE = thing(
    {
        "key": {"type": "string"},
        "cites": {"type": "string"},
        "kind": {"type": "string"},
        "seen": {"type": "string"},
        "note": {"type": ["string", "null"]},
        "rests_on_it": TEXTS,
    }
)
SYMPTOM = thing(
    {
        "id": {"type": "string"},
        "name": {"type": "string"},
        "also": TEXTS,
        "says": {"type": "string"},
        "look": {"type": "string"},
        "question": {"type": "string"},
    }
)
TERM = thing(
    {
        "kind": {"enum": ["term", "measure", "structure"]},
        "word": {"type": "string"},
        "also": TEXTS,
        "says": {"type": "string"},
        "unit": {"type": ["string", "null"]},
        "grade": {"enum": ["published", "practice", "memory", "calibrated", "demo", None]},
        "sources": {
            "type": "array",
            "items": thing({"key": {"type": "string"}, "cites": {"type": "string"}}),
        },
    }
)
_FIGURE = thing(
    {
        "grade": {"enum": ["published", "practice", "memory", "calibrated", "demo"]},
        "sources": TEXTS,
        "note": {"type": ["string", "null"]},
        "value": {"type": "number"},
        "range": {"anyOf": [PAIR, {"type": "null"}]},
        "pinned_by": {"type": ["string", "null"]},
    }
)
_FIGURE_OR_NONE: Json = {"anyOf": [_FIGURE, {"type": "null"}]}
INGREDIENT = thing(
    {
        "own": {"type": "boolean"},
        "id": {"type": "string"},
        "name": {"type": "string"},
        "also": TEXTS,
        "family": {"type": "string"},
        "roles": TEXTS,
        "per_100g": {"type": "object"},
        "protein_classes": each(SHARE),
        "dry_base": {"type": "boolean"},
        "countable": {"type": ["string", "null"]},
        "allergens": TEXTS,
        "traits": TEXTS,
        "gives_water": _FIGURE_OR_NONE,
        "dough_uptake": _FIGURE_OR_NONE,
        "holds_when_baked": _FIGURE_OR_NONE,
        "starch_holding": _FIGURE_OR_NONE,
        "solids_like": {"type": ["string", "null"]},
        "gum_equivalent": _FIGURE_OR_NONE,
        "fermentable_sugars": _FIGURE_OR_NONE,
        "film_in_proof": _FIGURE_OR_NONE,
        "film_in_oven": _FIGURE_OR_NONE,
        "filler_weight": _FIGURE_OR_NONE,
        "maltose_share": SHARE,
        "freed_by_amylase_share": SHARE,
        "soda_per_100g": _FIGURE_OR_NONE,
        "acids_per_100g": each(_FIGURE),
        "yeast_rate": _FIGURE_OR_NONE,
        "enzyme_u_per_g": _FIGURE_OR_NONE,
        "weights": each({"type": "object"}),
        "price_per_kg": NUMBER,
        "all_sources": TEXTS,
    }
)
