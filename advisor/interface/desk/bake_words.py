"""Bakes in words: marks, what was measured, what was done otherwise and what that did."""

from __future__ import annotations

from advisor.explanation.wording import grams, number
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.knowledge import Knowledge
from advisor.trial_record.bake import SCORES, Bake
from advisor.trial_record.differing import Difference

MEASURES = {"core_c": ("core", "C", 0), "height_cm": ("height", "cm", 1), "volume_ml": ("volume", "mL", 0),
            "weight_g": ("weight", "g", 0)}  # fmt: skip


def what_it_did(before: Bake, bake: Bake, knowledge: Knowledge) -> str:
    """Say what moved from one bake to the next: marks, faults gone and new."""
    parts = []
    a, b = before.scores.mean, bake.scores.mean
    if a is not None and b is not None and a != b:
        parts.append(f"marks {'+' if b > a else ''}{number(b - a, 1)}")
    gone = [s for s in before.seen if s in bake.absent]
    new = [s for s in bake.seen if s not in before.seen]
    stayed = [s for s in bake.seen if s in before.seen]
    for word, names in (("gone", gone), ("still", stayed), ("new", new)):
        if names:
            parts.append(f"{word}: {', '.join(symptom_name(s, knowledge) for s in names)}")
    return "; ".join(parts)


def difference_text(change: Difference) -> str:
    """Say one difference in a few words."""
    what = shown(change.what, 80)
    if isinstance(change.before, float | int) and isinstance(change.after, float | int):
        off = change.after - change.before
        return f"{what} {'+' if off > 0 else '-'}{grams(abs(off))} (to {grams(change.after)})"
    if change.before is None:
        return f"{what} added ({_value(change.after)})"
    if change.after is None:
        return f"{what} left out ({_value(change.before)})"
    return f"{what} {_value(change.after)} instead of {_value(change.before)}"


def _value(value: float | str | None) -> str:
    return shown(value, 80) if isinstance(value, str) else grams(value or 0.0)


def mark_text(bake: Bake) -> str:
    """Give the mean mark."""
    mean = bake.scores.mean
    return "no marks" if mean is None else f"mark {number(mean, 1)} of 5"


def marks_words(bake: Bake) -> str:
    """Give each mark with what it is of; empty where there is none."""
    marks = ((name, getattr(bake.scores, name)) for name in SCORES)
    return ", ".join(f"{name} {mark}" for name, mark in marks if mark is not None)


def symptom_name(symptom: str, knowledge: Knowledge) -> str:
    """Name a symptom; by its id where the knowledge has it no more."""
    entry = knowledge.symptoms.get(symptom)
    return entry.name if entry else symptom.replace("_", " ")


def change_name(lever: str, knowledge: Knowledge) -> str:
    """Name a change; by its id where the knowledge has it no more."""
    entry = knowledge.levers.get(lever)
    return entry.says if entry else lever


def measured_words(bake: Bake) -> str:
    """Give what was measured, with units."""
    return ", ".join(
        f"{word} {number(value, decimals)} {unit}"
        for name, (word, unit, decimals) in MEASURES.items()
        if (value := getattr(bake.came_out, name)) is not None
    )
