"""Every kind of document that is printed, and everything that people write, by name.

A shape is imported when it is asked for: naming the kinds loads none of them.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from importlib import import_module

Shape = Callable[[], type[object]]


def _shape(module: str, name: str) -> type[object]:
    found: type[object] = getattr(import_module(f"advisor.{module}"), name)
    return found


def _printed(module: str, name: str) -> Shape:
    return partial(_shape, f"rendering.documents.{module}", name)


PRINTED: dict[str, Shape] = {
    "check": _printed("assessment_shapes", "CheckDocument"),
    "diagnosis": _printed("assessment_shapes", "DiagnosisDocument"),
    "proof": _printed("proof", "ProofDocument"),
    "trial": _printed("comparison", "TrialDocument"),
    "difference": _printed("comparison", "DifferenceDocument"),
    "tolerance": _printed("tolerance", "ToleranceDocument"),
    "improve": _printed("improve", "ImproveDocument"),
    "start": _printed("start", "StartDocument"),
    "ingredients": _printed("known", "IngredientsDocument"),
    "nutrition": _printed("label", "NutritionDocument"),
    "label": _printed("label", "LabelDocument"),
    "bake-plan": _printed("bake_plan", "BakePlanDocument"),
    "scale-up": _printed("scale_up", "ScaleUpDocument"),
    "batch": _printed("batch", "BatchDocument"),
    "lesson": _printed("lesson", "LessonDocument"),
    "lessons": _printed("lesson", "LessonsDocument"),
    "record": _printed("record_shapes", "RecordDocument"),
    "findings": _printed("known", "FindingsDocument"),
    "symptoms": _printed("known", "SymptomsDocument"),
    "glossary": _printed("known", "GlossaryDocument"),
    "sources": _printed("known", "SourcesDocument"),
}
"""What the commands print with --json."""
WRITTEN: dict[str, Shape] = {
    "formula": _printed("written_formula", "WrittenFormula"),
    "packet": partial(_shape, "knowledge_base.own_entry", "OwnIngredient"),
    "answers": partial(_shape, "knowledge_base.written_answers", "WrittenAnswers"),
    "lesson-file": partial(_shape, "knowledge_base.lesson_entries", "Lesson"),
    "limits": partial(_shape, "knowledge_base.written_limits", "WrittenLimits"),
}
"""What people write in files: as YAML, limits as TOML."""
KINDS: tuple[str, ...] = (*PRINTED, *WRITTEN)
