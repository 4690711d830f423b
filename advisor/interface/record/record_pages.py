"""Bakes as blocks: a list, one bake, and the bakes of a formula over time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.explanation.blocks import Block, Heading, Item, Paragraph, Row, Table
from advisor.explanation.wording import number, sentence
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
from advisor.trial_record.bake import Bake
from advisor.trial_record.differing import differences

_BAR = 20


def list_page(bakes: Sequence[Bake], knowledge: Knowledge, count: int) -> Iterator[Block]:
    """Give each bake as an entry, latest first."""
    for bake in bakes:
        followed = f"followed: {change_name(bake.followed, knowledge)}" if bake.followed else ""
        seen = f"saw: {', '.join(symptom_name(s, knowledge) for s in bake.seen)}" if bake.seen else ""
        more = "; ".join(part for part in (followed, seen) if part)
        yield _entry(bake, f"{bake.formula}, {mark_text(bake)}", [more] if more else [])
    if count > len(bakes):
        yield Row(left=(f"{len(bakes)} of {count} bakes; --last N shows more.",), right=())


def _entry(bake: Bake, text: str, under: Sequence[str]) -> Item:
    said = (f"{bake.baked_on[:10]} {text}",)
    return Item(label=f"{bake.number}.", runs=said, under=tuple(_says(line) for line in under))


def _says(text: str) -> Paragraph:
    return Paragraph(runs=sentence(text))


def show_page(bake: Bake, back: LookBack, knowledge: Knowledge) -> Iterator[Block]:
    """Give one bake with all that it taught."""
    yield Heading(text=f"Bake {bake.number}: {shown(bake.formula)}, {bake.baked_on.replace('T', ' ')}")
    yield from (Paragraph(runs=(line,)) for line in bake.formula_text.splitlines())
    yield Heading(text="What came out")
    yield _says(f"Seen: {', '.join(symptom_name(s, knowledge) for s in bake.seen) or 'nothing noted'}.")
    if bake.absent:
        yield _says(f"Looked for and not there: {_some(bake.absent, knowledge)}.")
    if marks := marks_words(bake):
        yield _says(f"Marks (1 to 5): {marks}.")
    if read := measured_words(bake):
        yield _says(f"Measured: {read}.")
    lots = ", ".join(f"{name} {lot}" for name, lot in bake.lots.items())
    for label, text in (("Lots", lots), ("Photo", bake.photo), ("Notes", bake.notes)):
        if text:
            yield _says(f"{label}: {text}")
    yield from _followed(bake, back, knowledge)
    yield from _foreseen(back, knowledge)
    if moved := tuple(causes_moved(back, knowledge)):
        caption = "The causes, with what the changes have shown"
        yield Heading(text=caption)
        yield Table(caption=caption, head=("", ""), rows=tuple(((name,), (odds,)) for name, odds in moved))


def _followed(bake: Bake, back: LookBack, knowledge: Knowledge) -> Iterator[Block]:
    if back.before is None:
        return
    yield Heading(text=f"Against bake {back.before.number}")
    if bake.followed:
        yield _says(f"Followed: {change_name(bake.followed, knowledge)}.")
    made = differences(back.before, bake)
    yield _says(f"Changed: {', '.join(difference_text(d) for d in made) or 'nothing in the formula'}.")
    if did := outcome_words(back, knowledge):
        yield _says(did)
    if back.why_not_taught:
        yield _says(f"Nothing is learnt from it: {back.why_not_taught}.")


def _foreseen(back: LookBack, knowledge: Knowledge) -> Iterator[Block]:
    if back.symptoms or back.measures:
        yield Heading(text="Did it come as predicted?")
    if back.symptoms:
        yield _says(right_words(back))
    for word, what in predictions(back, knowledge):
        yield Item(label=f"{word}:", runs=sentence(what))
    for read in back.measures:
        name, unit, decimals = MEASURES[read.name]
        off = read.measured - read.foreseen
        yield _says(
            f"{name}: {number(read.foreseen, decimals)} {unit} predicted, {number(read.measured, decimals)} {unit} "
            f"measured ({'+' if off >= 0 else ''}{number(off, decimals)})"
        )


def over_time_page(
    bakes: Sequence[Bake], best: Bake | None, count: int, knowledge: Knowledge
) -> Iterator[Block]:
    """Give the bakes of one formula, oldest first: what changed, what that did, and the best so far."""
    yield Heading(text=f"{shown(bakes[-1].formula)}: {count} bake{'s' if count != 1 else ''}")
    before: Bake | None = None
    for bake in bakes:
        under = []
        if before is not None:
            made = [difference_text(d) for d in differences(before, bake)]
            if bake.followed:
                made.insert(0, f"followed: {change_name(bake.followed, knowledge)}")
            under.append(f"changed: {', '.join(made) or 'nothing'}")
            if did := what_it_did(before, bake, knowledge):
                under.append(f"did: {did}")
        elif bake.seen:
            under.append(f"saw: {', '.join(symptom_name(s, knowledge) for s in bake.seen)}")
        yield _entry(bake, f"{mark_text(bake)} {_bar(bake)}", under)
        before = bake
    if best is not None:
        said = f"Best so far: bake {best.number} of {best.baked_on[:10]}, {mark_text(best)}."
        yield Row(left=(said,), right=())
    if count > len(bakes):
        yield Row(left=(f"The last {len(bakes)} of {count}; --last N shows more.",), right=())


def _bar(bake: Bake) -> str:
    mean = bake.scores.mean
    return "" if mean is None else "#" * round(_BAR * mean / 5)


def _some(symptoms: Sequence[str], knowledge: Knowledge) -> str:
    names = [symptom_name(s, knowledge) for s in symptoms]
    return ", ".join(names) if len(names) <= 8 else f"{', '.join(names[:6])} and {len(names) - 6} more"
