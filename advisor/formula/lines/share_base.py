"""Puts per cents into grams: of the base that a text tells in words, of its dough, or of one that is assumed."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from advisor.formula.lines.shares import (
    ASSUMED_BASE_G,
    bare_are_grams,
    bare_are_kilos,
    bare_are_shares,
    base_in,
    dough_in,
)
from advisor.formula.lines.table_rows import has_column_of_shares

if TYPE_CHECKING:
    from advisor.formula.draft import Draft

_LEAST_SHARES = 3
"""Per cents from which a text is a formula in per cents, and no line gone wrong."""
_OF_BASE = "% of a base of"


def take_shares(draft: Draft, text: str, blend_g: float | None = None) -> None:
    """Note what bare numbers are, and the base of per cents, before the lines are read.

    `blend_g`: weight of a blend whose parts are written in per cents of it.
    """
    draft.base_g = draft.base_g or blend_g
    if blend_g is not None or bare_are_shares(text):
        draft.bare = "share"
    elif bare_are_kilos(text):
        draft.bare = "kilos"
    elif bare_are_grams(text):
        draft.bare = "grams"
    column = has_column_of_shares(text)
    if draft.base_g is not None or not (column or "%" in text or draft.bare == "share"):
        return
    draft.base_g = base_in(text)
    if draft.base_g is not None:
        draft.assumed.append(f"the percentages are taken of {draft.base_g:g} g, as the text says")
        return
    if column or text.count("%") >= _LEAST_SHARES or draft.bare == "share":
        draft.base_g, draft.base_stated = ASSUMED_BASE_G, False


def size_the_base(draft: Draft, text: str) -> None:
    """Bring lines in per cents to the weight of the dough that the text tells; else say which base was assumed."""
    shares = [line for line in draft.lines if _OF_BASE in line.conversion]
    if draft.base_stated or not shares:
        return
    whole, in_shares = dough_in(text), sum(line.grams for line in shares)
    rest = sum(line.grams for line in draft.lines) - in_shares
    if whole is None or whole <= rest:
        draft.warnings.append(
            f"the base of the percentages is not said: {ASSUMED_BASE_G:g} g is assumed; write base: 500 g"
        )
        return
    factor = (whole - rest) / in_shares
    base = ASSUMED_BASE_G * factor
    how = f"{_OF_BASE} {ASSUMED_BASE_G:g} g"
    draft.lines = [
        replace(
            line,
            grams=line.grams * factor,
            conversion=line.conversion.replace(how, f"{_OF_BASE} {base:.4g} g"),
        )
        if _OF_BASE in line.conversion
        else line
        for line in draft.lines
    ]
    draft.assumed.append(f"the percentages are taken of {base:.4g} g, which gives {whole:g} g of dough")
