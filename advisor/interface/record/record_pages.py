"""Bakes as pages of text: a list, one bake, and the bakes of a formula over time."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.explanation.wording import number
from advisor.interface.desk.bake_look_back import LookBack
from advisor.interface.desk.bake_words import (
    MEASURES,
    change_name,
    difference_text,
    mark_text,
    marks_words,
    measured_words,
    symptom_name,
    what_it_did,
)
from advisor.interface.desk.look_back_words import causes_moved, outcome_words, predictions, right_words
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.text import Page
from advisor.trial_record.bake import Bake
from advisor.trial_record.differing import differences

_BAR = 20


def list_page(bakes: Sequence[Bake], knowledge: Knowledge, count: int) -> str:
    """Write bakes a line each, latest first."""
    page = Page()
    for bake in bakes:
        page.row(f"{bake.number:>4}  {bake.baked_on[:10]}  {shown(bake.formula, 60)}", mark_text(bake))
        told = [symptom_name(s, knowledge) for s in bake.seen]
        what = f"followed: {change_name(bake.followed, knowledge)}" if bake.followed else ""
        seen = f"saw: {', '.join(told)}" if told else ""
        if line := "; ".join(part for part in (what, seen) if part):
            page.paragraph(line, 6)
    if count > len(bakes):
        page.blank()
        page.paragraph(f"{len(bakes)} of {count} bakes; --last N shows more.")
    return page.text()


def show_page(bake: Bake, back: LookBack, knowledge: Knowledge) -> str:
    """Write one bake with all that it taught."""
    page = Page()
    page.heading(f"Bake {bake.number}: {shown(bake.formula)}, {bake.baked_on.replace('T', ' ')}")
    for line in bake.formula_text.splitlines():
        page.paragraph(line, 2)
    page.heading("What came out")
    page.paragraph(f"Seen: {', '.join(symptom_name(s, knowledge) for s in bake.seen) or 'nothing noted'}.")
    if bake.absent:
        page.paragraph(f"Looked for and not there: {_some(bake.absent, knowledge)}.")
    if marks := marks_words(bake):
        page.paragraph(f"Marks (1 to 5): {marks}.")
    if read := measured_words(bake):
        page.paragraph(f"Measured: {read}.")
    lots = ", ".join(f"{name} {lot}" for name, lot in bake.lots.items())
    for label, text in (("Lots", lots), ("Photo", bake.photo), ("Notes", bake.notes)):
        if text:
            page.paragraph(f"{label}: {text}")
    _followed(page, bake, back, knowledge)
    _foreseen(page, back, knowledge)
    _causes(page, back, knowledge)
    return page.text()


def _followed(page: Page, bake: Bake, back: LookBack, knowledge: Knowledge) -> None:
    if back.before is None:
        return
    page.heading(f"Against bake {back.before.number}")
    if bake.followed:
        page.paragraph(f"Followed: {change_name(bake.followed, knowledge)}.")
    made = differences(back.before, bake)
    page.paragraph(f"Changed: {', '.join(difference_text(d) for d in made) or 'nothing in the formula'}.")
    if did := outcome_words(back, knowledge):
        page.paragraph(did)
    if back.why_not_taught:
        page.paragraph(f"Nothing is learnt from it: {back.why_not_taught}.")


def _foreseen(page: Page, back: LookBack, knowledge: Knowledge) -> None:
    if not back.symptoms and not back.measures:
        return
    page.heading("Did it come as predicted?")
    if back.symptoms:
        page.paragraph(right_words(back))
    for word, what in predictions(back, knowledge):
        page.item(f"{word}:", what, 2)
    for read in back.measures:
        name, unit, decimals = MEASURES[read.name]
        off = read.measured - read.foreseen
        page.paragraph(
            f"{name}: {number(read.foreseen, decimals)} {unit} predicted, {number(read.measured, decimals)} {unit} "
            f"measured ({'+' if off >= 0 else ''}{number(off, decimals)})",
            2,
        )


def _causes(page: Page, back: LookBack, knowledge: Knowledge) -> None:
    if back.revised is None:
        return
    page.heading("The causes, with what the changes have shown")
    for name, likely in causes_moved(back, knowledge):
        page.row(f"  {name}", likely)


def over_time_page(bakes: Sequence[Bake], best: Bake | None, count: int, knowledge: Knowledge) -> str:
    """Write the bakes of one formula, oldest first: what changed, what that did, and the best so far."""
    page = Page()
    page.heading(f"{shown(bakes[-1].formula)}: {count} bake{'s' if count != 1 else ''}")
    before: Bake | None = None
    for bake in bakes:
        page.row(f"{bake.number:>4}  {bake.baked_on[:10]}  {_bar(bake)}", mark_text(bake))
        if before is not None:
            made = [difference_text(d) for d in differences(before, bake)]
            if bake.followed:
                made.insert(0, f"followed: {change_name(bake.followed, knowledge)}")
            page.paragraph(f"changed: {', '.join(made) or 'nothing'}", 6, 8)
            if did := what_it_did(before, bake, knowledge):
                page.paragraph(f"did: {did}", 6, 8)
        elif bake.seen:
            page.paragraph(f"saw: {', '.join(symptom_name(s, knowledge) for s in bake.seen)}", 6, 8)
        before = bake
    page.blank()
    if best is not None:
        page.paragraph(f"Best so far: bake {best.number} of {best.baked_on[:10]}, {mark_text(best)}.")
    if count > len(bakes):
        page.paragraph(f"The last {len(bakes)} of {count}; --last N shows more.")
    return page.text()


def _bar(bake: Bake) -> str:
    mean = bake.scores.mean
    return "" if mean is None else "#" * round(_BAR * mean / 5)


def _some(symptoms: Sequence[str], knowledge: Knowledge) -> str:
    names = [symptom_name(s, knowledge) for s in symptoms]
    return ", ".join(names) if len(names) <= 8 else f"{', '.join(names[:6])} and {len(names) - 6} more"
