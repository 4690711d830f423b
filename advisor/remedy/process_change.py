"""From one process to another, as changes that a baker can read."""

from __future__ import annotations

from dataclasses import fields

from advisor.formula.formula import Process
from advisor.formula.writing.as_text import process_values
from advisor.remedy.change import Change

_WORD_FOR = {
    "oven_c": ("oven", "C"), "bake_min": ("bake", "min"), "proof_min": ("proof", "min"),
    "proof_c": ("proof temperature", "C"), "water_c": ("water temperature", "C"),
}  # fmt: skip


STEPS_OF = {
    "oven_steps": ("bake_min", "oven_c"), "proofs": ("proof_min", "proof_c"), "mixes": ("mix_min",),
    "rests": ("rest_min",),
}  # fmt: skip
"""Fields that hold steps, and the single numbers that move with them."""


NOT_STATED = "not stated"


def _written(process: Process, key: str) -> str:
    return process_values(process).get(key, NOT_STATED)


def process_changes(before: Process, after: Process) -> list[Change]:
    """Every number or word of the process that is another, as changes."""
    changes = []
    for steps, alone in STEPS_OF.items():
        if any(getattr(before, name) != getattr(after, name) for name in alone):
            continue  # the single numbers tell it
        was, now = getattr(before, steps), getattr(after, steps)
        if was != now:
            key = alone[0].rsplit("_", 1)[0].replace("bake", "oven")
            text = f"{key}: {_written(after, key)}, {_before(_written(before, key))}"
            changes.append(Change(what=text, unit="", before=None, after=None))
    for field in fields(Process):
        was, now = getattr(before, field.name), getattr(after, field.name)
        if was == now or field.name in STEPS_OF:
            continue
        what, unit = _WORD_FOR.get(
            field.name, (field.name.rsplit("_", 1)[0].replace("_", " "), _unit(field.name))
        )
        numbers = all(
            x is None or (isinstance(x, int | float) and not isinstance(x, bool)) for x in (was, now)
        )
        if numbers and was is not None and now is not None:
            changes.append(
                Change(what=what, unit=unit, before=float(was), after=float(now), field=field.name)
            )
        else:
            text = f"{what}: {_said(now, unit)}, {_before(_said(was, unit))}"
            changes.append(Change(what=text, unit="", before=None, after=None))
    return changes


def _before(written: str) -> str:
    return "not stated before" if written == NOT_STATED else f"instead of {written}"


def _said(value: object, unit: str) -> str:
    if value is None or isinstance(value, bool):
        return {None: NOT_STATED, True: "yes", False: "no"}[value]
    if isinstance(value, int | float):
        return f"{value:g} {unit}".strip()
    return str(value)


def _unit(field: str) -> str:
    return {"min": "min", "c": "C", "cm": "cm", "m": "m", "s": "s"}.get(field.rsplit("_", 1)[-1], "")
