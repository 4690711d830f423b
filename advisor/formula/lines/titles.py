"""Which first line is a title although it has a number in it: "Loaf 2", "Rolls x 6", "Pizza dough, 65 % hydration"."""

from __future__ import annotations

import re

from advisor.formula.draft import Draft
from advisor.formula.faults import LineFault
from advisor.formula.lines.grammar import split_line
from advisor.formula.lines.matching import NameIndex
from advisor.formula.lines.running import amounts_at
from advisor.formula.lines.sentences import begins_with_amount
from advisor.formula.lines.states import size_in
from advisor.formula.lines.units import UnitTable
from advisor.formula.spelling import words_of

_ENDS_WEIGHED = re.compile(
    r"[0-9½¼¾]\s*(?:g|gr|gm|grams?|kg|ml|oz|lbs?|cups?|tsp|tbsp)\b[^0-9]{0,12}$", re.IGNORECASE
)
_COUNTS_ITS_PARTS = re.compile(
    r"\W*(?:[0-9]{1,2}|two|three|four|five)[\s-]+(?:ingredients?|minutes?|hours?|step)\b(?!\s*:)", re.I
)
"""A title that counts what goes in: "2-ingredient flatbread", "5 minute bread"."""
_OF_A_BATCH = re.compile(r"\b(?:base|batch|dough|loaf|loaves|tins?)\b", re.IGNORECASE)
_BARE_END = re.compile(r"[\s(,]*(?:x|for|no\.?|makes|serves)?\s*[0-9]{1,2}\s*\)?$", re.IGNORECASE)


def is_title(draft: Draft, text: str, names: NameIndex, units: UnitTable) -> bool:
    """Tell whether the first line of a text is its title, and no ingredient line gone wrong."""
    if draft.title or draft.tried:
        return False
    if _COUNTS_ITS_PARTS.match(text):
        return True
    if not any(c.isnumeric() for c in text) and not names.spelt_nearly(text):
        return True  # "Two spoons of the south"
    if not begins_with_amount(text, units) and (not _ENDS_WEIGHED.search(text) or _OF_A_BATCH.search(text)):
        weighed = [a for a in amounts_at(text, units) if a.amount.parts[0].weighs]
        if "%" in text and names.match_ignoring_percent(text):
            return False
        return (not weighed or bool(_OF_A_BATCH.search(text))) and not names.spelt_nearly(
            _BARE_END.sub("", text)
        )
    try:
        written = split_line(text, units)
    except LineFault:
        return False
    if written is None or written.amount.word:  # "Two ways with gluten", "Made to taste"
        return (written is None or written.amount.bare) and not names.spelt_nearly(text)
    if not written.amount.bare or size_in((words_of(written.name),)):
        return False
    return not names.spelt_nearly(written.name)  # "Loaf 2"
