"""A change in the words in which a page prints it: several in one text, amounts with both weights, work of the hand."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.rule_entries import Lever
from advisor.knowledge_base.text_fields import parts_of_text
from advisor.remedy.change import Change, Changed
from advisor.remedy.levers.stated_fault import undone
from advisor.remedy.spoken_change import short_form

_PRINTED_AMOUNT = re.compile(
    r"[^:]+\s(?:more|less|fewer)\s(?P<name>[^:]+):\s*(?:[0-9]+\s+instead of\s+[0-9]+\s+\()?"
    r"(?P<after>[0-9.]+)\s*g\s+instead of\s+(?P<before>[0-9.]+)\s*g\)?",
    re.IGNORECASE,
)


def changes_in(text: str, knowledge: Knowledge) -> tuple[str, ...]:
    """Take several changes apart that stand in one text, as a page prints those that belong together.

    First may stand work of the hand, a sentence with commas of its own; else those at the end are taken apart that are
    changes as printed or said, since a name may hold a comma.
    """
    parts: list[str] = []
    for piece in text.split(", "):
        # A comma in brackets, and one before "then" of a step, is inside a change.
        if parts and (parts[-1].count("(") > parts[-1].count(")") or piece.lower().startswith("then ")):
            parts[-1] += f", {piece}"
        else:
            parts.append(piece)
    for read in range(len(parts), 0, -1):
        if _lever_printed(sentence := ", ".join(parts[:read]), knowledge) is not None:
            return (sentence, *parts[read:])
    read = len(parts)
    while read and short_form(plain := " ".join(parts[read - 1].split()).rstrip(".!")) != plain:
        read -= 1
    head = (", ".join(parts[:read]),) if read else ()
    return (*head, *parts[read:])


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedAmount:
    """A change of an amount as it is printed: what, and from which weight to which, g."""

    name: str
    before: float
    after: float


def printed_amount(text: str) -> PrintedAmount | None:
    """Tell a change such as "75 g less water: 165 g instead of 240 g" or "3 more eggs: 6 instead of 3 (300 g ...)"."""
    found = _PRINTED_AMOUNT.fullmatch(" ".join(text.split()).rstrip(".!"))
    if found is None:
        return None
    return PrintedAmount(name=found["name"], before=float(found["before"]), after=float(found["after"]))


def by_hand(formula: Formula, text: str, knowledge: Knowledge) -> Changed | None:
    """A change of the hand in the words in which it is printed; `None` where the text is none.

    The formula stays as it is where no line of it holds what is undone.
    """
    lever = _lever_printed(text, knowledge)
    if lever is None or lever.turn.do is None:
        return None
    change = Change(what=lever.turn.do, unit="", before=None, after=None)
    return Changed(formula=undone(lever, formula, knowledge), changes=(change,))


def _lever_printed(text: str, knowledge: Knowledge) -> Lever | None:
    done = ((lever, lever.turn.do) for lever in knowledge.levers.values())
    return next((lever for lever, do in done if do is not None and _printed(do).fullmatch(text)), None)


@cache
def _printed(text: str) -> re.Pattern[str]:
    """A text of the knowledge with any quantity in place of its own, since each baker has other units."""
    words = (re.escape(p) if isinstance(p, str) else r".{1,24}?" for p in parts_of_text(text.rstrip(".")))
    return re.compile("".join(words) + r"\.?", re.IGNORECASE)
