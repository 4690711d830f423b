"""Figures of a nutrition declaration as a form writes them: rounded by its rules, with what an inspector may find."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from advisor.knowledge_base.label_entries import Form, LabelPart
from advisor.knowledge_base.shapes import shape
from advisor.models.dough.nutrition import Nutrition

_TENTHS = {0.1: 1, 0.01: 2}
"""Digits of a step that is a tenth or a hundredth: they are written out, "7.0"."""
_SPANS = {"saturates": "saturates_up_to", "sugars": "sugars_up_to"}
"""Parts that may be known only from least to most."""


@shape
class DeclaredLine:
    """One line of a declaration."""

    id: str
    """Id in knowledge/label_parts.yaml."""
    name: str
    """As the form calls it."""
    of_which: bool
    """Whether it is a part of the line above."""
    unit: Literal["kJ", "kcal", "g", "mg"]
    """Unit of the figures."""
    value: float
    """The figure before it is rounded; the least, where it is a span."""
    up_to: float
    """The most it may be; the same where all is known."""
    written: str
    """As the form writes it, without unit."""
    inspected: tuple[float | None, float | None] | None
    """From where to where a measured figure may lie, by the authority's tolerance; null where it sets none."""


@shape
class Declaration:
    """A declaration in one form, for one amount."""

    form: Literal["eu", "us"]
    """European Union or United States."""
    grams: float
    """For how much of the baked loaf, g."""
    lines: tuple[DeclaredLine, ...]
    """Its lines in their order."""


def declaration(form: Form, held: Nutrition, parts: Iterable[LabelPart]) -> Declaration:
    """Write what some of the loaf holds in one form; sugar alcohols only where there are any."""
    lines = tuple(
        _line(part, held)
        for part in parts
        if part.form == form and (part.part != "polyols" or held.polyols > 0)
    )
    return Declaration(form=form, grams=held.grams, lines=lines)


def _line(part: LabelPart, held: Nutrition) -> DeclaredLine:
    least: float = getattr(held, part.part)
    most: float = getattr(held, _SPANS.get(part.part, part.part))
    low, high = rounded(least, part), rounded(most, part)
    return DeclaredLine(
        id=part.id,
        name=part.name,
        of_which=part.of_which,
        unit=part.unit,
        value=least,
        up_to=most,
        written=low if low == high else f"{low} to {high}",
        inspected=tolerance((least + most) / 2, part) if part.tolerance else None,
    )


def rounded(figure: float, part: LabelPart) -> str:
    """Write a figure by the first step of rounding that fits it; half a step goes up."""
    for step in part.rounding:
        if step.fits(figure):
            if step.step is None:
                return step.says or ""
            whole = int(figure / step.step + 0.5 + 1e-9)
            decimals = _TENTHS.get(step.step)
            return f"{whole * step.step:g}" if decimals is None else f"{whole * step.step:.{decimals}f}"
    raise AssertionError(f"{part.id}: no step fits {figure}")  # the last one takes all, as the entry checks


def tolerance(figure: float, part: LabelPart) -> tuple[float | None, float | None]:
    """From where to where a measured figure may lie around one that is declared; an open end is `None`."""
    for step in part.tolerance:
        if step.fits(figure):
            if step.above_share is not None:
                return None, figure * (1 + step.above_share)
            if step.below_share is not None:
                return figure * (1 - step.below_share), None
            off = step.off if step.off is not None else figure * (step.off_share or 0.0)
            return max(figure - off, 0.0), figure + off
    return None, None
