"""Rule-based troubleshooting of low-carbohydrate and high-protein doughs.

`read_formula(text)`, `check(formula)`, `check_many(folder)`, `diagnose(formula, saw=...)`, and whatever else the
commands do: see `__all__`. What they give is frozen and can be pickled, and any number of threads and processes may
call them at once. Each function lives in `advisor.api` and is imported when it is first asked for, so that importing
this package is quick.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from advisor.api.shared import default_advisor, load_knowledge, read_formula
from advisor.version import __version__ as __version__

if TYPE_CHECKING:
    from advisor.api.answers import check, check_text, diagnose, differ, try_changes, why
    from advisor.api.bakes import BakePlanResult, learn_bakes, plan_bakes
    from advisor.api.designing import (
        ImproveResult,
        StartResult,
        ToleranceResult,
        improve,
        start_formulas,
        tolerance,
    )
    from advisor.api.looking_up import glossary, ingredients, lessons, lint, schema, sources, symptoms, teach
    from advisor.api.many import Checks, check_many
    from advisor.api.records import in_kitchen, open_record
    from advisor.api.results import CheckResult, LabelResult, NutritionResult, ScaleUpResult, Told
    from advisor.api.writing import label, nutrition, report, scale_up, write
    from advisor.remedy.constraints import Constraints

__all__ = [
    "BakePlanResult",
    "CheckResult",
    "Checks",
    "Constraints",
    "ImproveResult",
    "LabelResult",
    "NutritionResult",
    "ScaleUpResult",
    "StartResult",
    "Told",
    "ToleranceResult",
    "check",
    "check_many",
    "check_text",
    "default_advisor",
    "diagnose",
    "differ",
    "glossary",
    "improve",
    "in_kitchen",
    "ingredients",
    "label",
    "learn_bakes",
    "lessons",
    "lint",
    "load_knowledge",
    "nutrition",
    "open_record",
    "plan_bakes",
    "read_formula",
    "report",
    "scale_up",
    "schema",
    "sources",
    "start_formulas",
    "symptoms",
    "teach",
    "tolerance",
    "try_changes",
    "why",
    "write",
]
_HOMES = {
    "api.answers": ("check", "check_text", "diagnose", "differ", "try_changes", "why"),
    "api.designing": ("ImproveResult", "StartResult", "ToleranceResult", "improve", "start_formulas", "tolerance"),
    "api.looking_up": (
        "glossary", "ingredients", "lessons", "lint", "schema", "sources", "symptoms", "teach"
    ),
    "api.bakes": ("BakePlanResult", "learn_bakes", "plan_bakes"),
    "api.many": ("Checks", "check_many"),
    "api.records": ("in_kitchen", "open_record"),
    "api.results": ("CheckResult", "LabelResult", "NutritionResult", "ScaleUpResult", "Told"),
    "api.writing": ("label", "nutrition", "report", "scale_up", "write"),
    "remedy.constraints": ("Constraints",),
}  # fmt: skip
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}


def __getattr__(name: str) -> object:
    """Import a public name from where it lives when it is first asked for."""
    if (home := _HOME_OF.get(name)) is None:
        raise AttributeError(f"module 'advisor' has no attribute '{name}'")
    found: object = getattr(import_module(f"advisor.{home}"), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    """Name what can be asked for, imported or not."""
    return sorted({*globals(), *__all__})
