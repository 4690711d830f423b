"""Two formulas beside each other as JSON: the kinds `trial` and `difference`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.formula.formula import Formula
from advisor.remedy.change import Change
from advisor.remedy.comparing import Comparison, OneDifference
from advisor.rendering.json_form import Json, change_json, head, pair_json


def comparison_json(kind: str, found: Comparison, changes: Sequence[Change]) -> dict[str, Json]:
    """What both kinds share: changes, measures, risks, their sum by severity, and what it does in words."""
    return head(kind) | {
        "before": _formula(found.before.formula),
        "after": _formula(found.after.formula),
        "changes": [change_json(c) for c in changes],
        "measures": {name: pair_json(pair) for name, pair in found.measures.items()},
        "risk": _risks(found.risk),
        "burden": pair_json(found.burden),
        "structure": [found.before.structure, found.after.structure],
        "says": list(found.says),
    }


def one_difference_json(one: OneDifference) -> Json:
    """One difference and what it does alone."""
    return {
        "change": change_json(one.change),
        "measures": {name: pair_json(pair) for name, pair in one.measures.items()},
        "risk": _risks(one.risk),
    }


def _risks(risk: Mapping[str, tuple[float, float]]) -> Json:
    return {
        s: pair_json(pair) for s, pair in sorted(risk.items(), key=lambda i: (-abs(i[1][1] - i[1][0]), i[0]))
    }


def _formula(formula: Formula) -> Json:
    return {
        "name": formula.name,
        "dough_g": round(formula.dough_g, 6),
        "lines": [{"ingredient": x.ingredient.id, "grams": round(x.grams, 6)} for x in formula.lines],
    }
