"""Amounts beside their grams as a kitchen measures them: pieces, spoons, cups."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.explanation.blocks import Quantity
from advisor.explanation.changes import ChangeWords
from advisor.formula.writing.as_text import pieces
from advisor.remedy.change import Change
from advisor.rendering.documents.shape import ChangeShape
from advisor.rendering.quantities import household


def kitchen_amount(name: str, grams: float, counted: int | None, words: ChangeWords) -> str | None:
    """Some grams of an ingredient in pieces, where they are counted, else in spoons or cups; `None` where none fits."""
    if counted:
        return pieces(counted, name)
    return household(Quantity(value=grams, unit="g", g_per_ml=words.g_per_ml(name)), "us") or None


def changes_of(changes: Iterable[Change], words: ChangeWords) -> tuple[ChangeShape, ...]:
    """Give changes with the new amounts in kitchen measures too."""
    return tuple(
        ChangeShape(
            what=change.what,
            unit=change.unit,
            before=change.before,
            after=change.after,
            kitchen=kitchen_amount(change.what, change.after, change.count_after, words)
            if change.unit == "g" and change.after
            else None,
        )
        for change in changes
    )
