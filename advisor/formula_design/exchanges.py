"""Exchanges that a search may try: what a baker has at hand in the place of what does the same work in the dough."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula_design.dough_parts import DoughParts
from advisor.knowledge_base.ingredient import Ingredient
from advisor.remedy.change import Changed
from advisor.remedy.substitution import substitute


def exchanges(
    examiner: Examiner, before: Examination, others: Sequence[Ingredient], keep: frozenset[str]
) -> Iterator[Changed]:
    """Each of `others` in the place of each line that may go, its amount and the water solved for the same dough."""
    parts = DoughParts(examiner.knowledge)
    held = {x.ingredient.id: x.ingredient for x in before.formula.lines if x.grams > 0}
    for new in others:
        if new.id in held:
            continue
        for old in held.values():
            if old.id not in keep and _alike(old, new, parts):
                yield substitute(examiner, before, old.id, new).changed


def _alike(old: Ingredient, new: Ingredient, parts: DoughParts) -> bool:
    """Whether they are the same part of a dough, or share half of what the old one is there for."""
    part = parts.of(old)
    shared = set(old.roles) & set(new.roles)
    return (part is not None and part is parts.of(new)) or 2 * len(shared) >= max(len(old.roles), 1)
