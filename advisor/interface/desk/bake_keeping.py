"""A bake as it is kept: with what had been foreseen of it, and after the bake that it was to mend."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime

from advisor.diagnosis.kitchen_shifts import KitchenShifts
from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.formula.writing.weighed import as_weighed
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.trial_record.bake import Bake, CameOut, Scores, sound
from advisor.trial_record.differing import amounts_of, steps_of, text_of
from advisor.trial_record.faults import BakeFault
from advisor.trial_record.foreseeing import foresee
from advisor.trial_record.record import TrialRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class Noted:
    """Everything but the formula's own numbers; `formula` is what stands for one on a command line."""

    formula: str | None = None
    saw: tuple[str, ...] = ()
    not_seen: tuple[str, ...] = ()
    nothing_else: bool = False
    scores: Scores = field(default_factory=Scores)
    came_out: CameOut = field(default_factory=CameOut)
    photo: str | None = None
    lots: Mapping[str, str] = field(default_factory=dict)
    followed: str | None = None
    after: int | None = None
    date: str | None = None
    notes: str | None = None


def kept_bake(record: TrialRecord, noted: Noted, formula: Formula, examiner: Examiner) -> Bake:
    """Keep one bake and give it as it is kept; the names in `noted` are ids already.

    Raises:
        InputFault: what was noted cannot be, or the bake that it is to follow is not there.
        RecordFault: the record cannot be written.
    """
    try:
        told = noted.after is not None or noted.followed is not None
        before = bake_before(record, noted, formula) if told else None
        return record.add(_with_foreseen(as_kept(noted, formula), before, formula, examiner))
    except BakeFault as fault:
        raise InputFault(f"advisor: {fault}") from None


def as_kept(noted: Noted, formula: Formula) -> Bake:
    """Put together what is kept of a bake.

    Raises:
        BakeFault: it holds what cannot be.
    """
    formula = as_weighed(formula)  # what was weighed is kept, without the digits that no scale shows
    came = noted.came_out
    if came.core_c is None and formula.process.core_measured_c is not None:
        came = replace(came, core_c=formula.process.core_measured_c)
    bake = Bake(
        formula=formula.name,
        formula_text=text_of(formula),
        baked_on=noted.date or datetime.now().isoformat(timespec="minutes"),
        amounts=amounts_of(formula),
        steps=steps_of(formula),
        seen=noted.saw,
        absent=noted.not_seen,
        scores=noted.scores,
        came_out=came,
        photo=noted.photo,
        lots=noted.lots,
        notes=noted.notes,
        followed=noted.followed,
    )
    sound(bake)
    return bake


def kept_already(record: TrialRecord, noted: Noted, formula: Formula) -> Bake | None:
    """The last bake of a formula, where it is this one: kept on the same day, with all that was noted the same.

    Raises:
        BakeFault: what was noted cannot be.
    """

    def plain(bake: Bake) -> Bake:
        """What a baker said of it: without what the record adds, and to the day."""
        return replace(bake, baked_on=bake.baked_on[:10], key="", number=0, follows=None, foreseen=None)

    new, last = as_kept(noted, formula), record.latest(1, formula=formula.name)
    return next((bake for bake in last if plain(bake) == plain(sound(new))), None)


def bake_before(record: TrialRecord, noted: Noted, formula: Formula) -> Bake | None:
    """The bake that was to be mended: the one named, else the last of the same name.

    Raises:
        InputFault: the one named is not there, or a change was followed and there is none.
    """
    if noted.after is not None:
        if (found := record.bake(noted.after)) is None:
            raise InputFault(f"advisor: there is no bake {noted.after}; 'advisor record list' shows them")
        return found
    if latest := record.latest(1, formula=formula.name):
        return latest[0]
    if noted.followed is not None:
        raise InputFault(
            f"advisor: no earlier bake of '{formula.name}' that '{noted.followed}' could mend; name one with --after"
        )
    return None


def _with_foreseen(bake: Bake, before: Bake | None, formula: Formula, examiner: Examiner) -> Bake:
    earlier = None if before is None or bake.followed is None else looked_at_again(before, examiner)
    told = foresee(
        examiner,
        formula,
        bake.came_out,
        (*bake.seen, *bake.absent),
        seen=bake.seen,
        followed=bake.followed,
        before=earlier,
    )
    return replace(bake, foreseen=told, follows=before.key if before else None)


def looked_at_again(bake: Bake, examiner: Examiner) -> Examination:
    """Examine a kept bake with what it showed, without anything learnt.

    Raises:
        InputFault: its formula can no longer be read.
    """
    return examiner.in_kitchen(KitchenShifts()).examine(
        formula_of(bake, examiner.knowledge), saw=known(bake.seen, examiner.knowledge),
        not_seen=known(bake.absent, examiner.knowledge), after_bake=True,
    )  # fmt: skip


def known(symptoms: tuple[str, ...], knowledge: Knowledge) -> tuple[str, ...]:
    """Leave out symptoms that the knowledge has no more."""
    return tuple(name for name in symptoms if name in knowledge.symptoms)


def formula_of(bake: Bake, knowledge: Knowledge) -> Formula:
    """Read a kept formula again.

    Raises:
        InputFault: it can no longer be read, as where an ingredient of one's own was taken out.
    """
    try:
        return read_formula_text(bake.formula_text, knowledge, name=bake.formula)
    except FormulaFault as fault:
        first = str(fault).splitlines()[0]
        raise InputFault(
            f"advisor: the formula of bake {bake.number} can no longer be read: {first}"
        ) from None
