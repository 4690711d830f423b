"""Kept bakes as blocks: a list, one with all that came of it, two compared, and those of a formula over time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.explanation.blocks import Block, Emphasis, Heading, Item, Paragraph, Row, Runs, Table
from advisor.explanation.wording import number, percent
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
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.knowledge import Knowledge
from advisor.trial_record.bake import Bake
from advisor.trial_record.differing import differences
from advisor.trial_record.looking_back import Revised

_CAUSES_SHOWN = 4
_DID = {"worked": "It worked", "in part": "It helped in part", "failed": "It did not help"}


def list_blocks(bakes: Sequence[Bake], count: int, knowledge: Knowledge) -> Iterator[Block]:
    """Each bake as an entry, latest first."""
    for bake in bakes:
        followed = f"followed: {change_name(bake.followed, knowledge)}" if bake.followed else ""
        seen = f"saw: {', '.join(symptom_name(s, knowledge) for s in bake.seen)}" if bake.seen else ""
        more = "; ".join(part for part in (followed, seen) if part)
        said = f"{bake.baked_on[:10]} {shown(bake.formula, 60)}, {mark_text(bake)}"
        under = (Paragraph(runs=(more,)),) if more else ()
        yield Item(label=f"{bake.number}.", runs=(said,), under=under)
    if count > len(bakes):
        yield Row(left=(f"{len(bakes)} of {count} bakes; --last N shows more.",), right=())


def bake_blocks(bake: Bake, back: LookBack, knowledge: Knowledge) -> Iterator[Block]:
    """One bake: the formula, what came out, how it compares with the one before and with what was predicted."""
    yield Heading(text=f"Bake {bake.number}: {shown(bake.formula)}, {day(bake)}")
    yield Item(
        label="", runs=("The formula as it was baked",), folded=True,
        under=tuple(Item(label="-", runs=(line,)) for line in bake.formula_text.splitlines() if line.strip()),
    )  # fmt: skip
    yield Heading(text="What came out", level=3)
    yield from _came_out(bake, knowledge)
    if back.before is not None:
        yield Heading(text=f"Against bake {back.before.number}", level=3)
        yield from _against(back.before, bake, back, knowledge)
    if back.symptoms or back.measures:
        yield Heading(text="Did it come as predicted?", level=3)
        yield from _predicted(back, knowledge)
    if back.revised is not None:
        yield Heading(text="The causes, with what the changes have shown", level=3)
        yield from _causes_moved(back.revised, knowledge)


def _came_out(bake: Bake, knowledge: Knowledge) -> Iterator[Block]:
    """What was seen, marked and measured."""
    seen = ", ".join(symptom_name(s, knowledge) for s in bake.seen) or "nothing noted"
    yield Paragraph(runs=(f"Seen: {seen}.",))
    if bake.absent:
        few = ", ".join(symptom_name(s, knowledge) for s in bake.absent[:6])
        more = f" and {len(bake.absent) - 6} more" if len(bake.absent) > 6 else ""
        yield Paragraph(runs=(f"Looked for and not there: {few}{more}.",))
    if marks := marks_words(bake):
        yield Paragraph(runs=(f"Marks (1 to 5): {marks}.",))
    if read := measured_words(bake):
        yield Paragraph(runs=(f"Measured: {read}.",))
    lots = ", ".join(f"{name} {lot}" for name, lot in bake.lots.items())
    for label, told in (("Lots", lots), ("Photo", bake.photo)):
        if told:
            yield Paragraph(runs=(f"{label}: {told}",))
    if bake.notes:
        yield Paragraph(runs=("Notes: ", Emphasis(meaning="name", runs=(bake.notes,))))


def _against(before: Bake, bake: Bake, back: LookBack, knowledge: Knowledge) -> Iterator[Block]:
    if bake.followed:
        yield Paragraph(runs=(f"Followed: {change_name(bake.followed, knowledge)}.",))
    made = ", ".join(difference_text(d) for d in differences(before, bake)) or "nothing in the formula"
    yield Paragraph(runs=(f"Changed: {made}.",))
    if did := _outcome_words(back, knowledge):
        yield Paragraph(runs=(did,))
    if back.why_not_taught:
        yield Paragraph(runs=(f"Nothing is learnt from it: {back.why_not_taught}.",))


def _predicted(back: LookBack, knowledge: Knowledge) -> Iterator[Block]:
    if back.symptoms:
        right = sum(one.right for one in back.symptoms)
        said = f"Right about {right} of {len(back.symptoms)} faults that were looked for."
        yield Paragraph(runs=(said,))
    for word, what in _predictions(back, knowledge):
        yield Item(label="-", runs=(f"{word}: {what}",))
    for read in back.measures:
        name, unit, decimals = MEASURES[read.name]
        off = read.measured - read.foreseen
        predicted, measured, by = (number(x, decimals) for x in (read.foreseen, read.measured, off))
        sign = "+" if off >= 0 else ""
        told = f"{name}: {predicted} {unit} predicted, {measured} {unit} measured ({sign}{by})"
        yield Item(label="-", runs=(told,))


def two_bakes(first: Bake, second: Bake, knowledge: Knowledge) -> Iterator[Block]:
    """Two bakes beside each other: what came of each, what was done otherwise, what that did."""
    yield Heading(text=f"Bake {first.number} beside bake {second.number}")
    rows: list[tuple[Runs, ...]] = [
        (("formula",), (first.formula,), (second.formula,)),
        (("baked on",), (day(first),), (day(second),)),
        (("mark",), (mark_text(first),), (mark_text(second),)),
        (
            ("seen",),
            *((", ".join(symptom_name(s, knowledge) for s in b.seen) or "-",) for b in (first, second)),
        ),
        (("measured",), *((measured_words(b) or "-",) for b in (first, second))),
    ]
    for made in differences(first, second):
        values = (f"{v:g} g" if isinstance(v, float | int) else v or "-" for v in (made.before, made.after))
        rows.append(((made.what,), *((value,) for value in values)))
    head = ("", f"bake {first.number}", f"bake {second.number}")
    yield Table(caption="Two bakes", head=head, rows=tuple(rows))
    did = what_it_did(first, second, knowledge)
    yield Paragraph(
        runs=(f"From the first to the second: {did}." if did else "Nothing that was noted moved.",)
    )


def over_time(bakes: Sequence[Bake], best: Bake | None, count: int, knowledge: Knowledge) -> Iterator[Block]:
    """The bakes of one formula, oldest first: what was changed and what that did."""
    yield Heading(text=f"{shown(bakes[-1].formula, 60)}: {count} bake{'s' if count != 1 else ''}")
    before: Bake | None = None
    for bake in bakes:
        under: list[Block] = []
        if before is not None:
            made = [difference_text(d) for d in differences(before, bake)]
            if bake.followed:
                made.insert(0, f"followed: {change_name(bake.followed, knowledge)}")
            under.append(Paragraph(runs=(f"Changed: {', '.join(made) or 'nothing'}.",)))
            if did := what_it_did(before, bake, knowledge):
                under.append(Paragraph(runs=(f"It did: {did}.",)))
        elif bake.seen:
            under.append(
                Paragraph(runs=(f"Seen: {', '.join(symptom_name(s, knowledge) for s in bake.seen)}.",))
            )
        name = Emphasis(meaning="name", runs=(f"Bake {bake.number}",))
        yield Item(label="-", runs=(name, f" of {day(bake)}, {mark_text(bake)}"), under=tuple(under))
        before = bake
    if best is not None:
        yield Paragraph(runs=(f"Best so far: bake {best.number} of {day(best)}, {mark_text(best)}.",))
    if count > len(bakes):
        yield Paragraph(runs=(f"These are the last {len(bakes)} of {count}.",))


def day(bake: Bake) -> str:
    """The day of a bake, with its hour where it is known."""
    return bake.baked_on.replace("T", " ")


def _outcome_words(back: LookBack, knowledge: Knowledge) -> str:
    """Say what a followed change did, with the faults that went and stayed; empty where nothing tells."""
    if back.answer is None or back.answer.outcome is None:
        return ""
    parts = [
        f"{label}: {', '.join(symptom_name(s, knowledge) for s in some)}"
        for label, some in (("gone", back.answer.gone), ("still there", back.answer.stayed))
        if some
    ]
    return f"{_DID[back.answer.outcome]} ({'; '.join(parts)})."


def _predictions(back: LookBack, knowledge: Knowledge) -> Iterator[tuple[str, str]]:
    """Give "right" or "wrong" with what came, for each fault that is worth telling."""
    for one in back.symptoms:
        if one.right and not one.seen and one.before is None:
            continue
        came = "came" if one.seen else "stayed away"
        from_ = "" if one.before is None else f"{percent(one.before)} before the change, "
        name = symptom_name(one.symptom, knowledge)
        yield "right" if one.right else "wrong", f"{name} {came}; its risk was {from_}{percent(one.risk)}"


def _causes_moved(revised: Revised, knowledge: Knowledge) -> Iterator[Block]:
    """The causes that the trials moved most, likeliest first, with how likely each was and is."""
    was, now = revised.without, revised.with_trials
    moved = sorted(now, key=lambda c: (-abs(now[c] - was.get(c, 0.0)), c))[:_CAUSES_SHOWN]
    for cause in sorted(moved, key=lambda c: (-now[c], c)):
        said = f"{knowledge.causes[cause].name}: {percent(was.get(cause, 0.0))}, now {percent(now[cause])}"
        yield Item(label="-", runs=(said,))
