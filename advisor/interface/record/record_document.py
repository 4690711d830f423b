"""The record as a document of the kind `record`: what was asked, and the bakes and shifts that answer it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from advisor.api.records import said
from advisor.interface.desk.bake_look_back import LookBack
from advisor.interface.desk.record_learnt import why
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.documents.record_shapes import (
    AmountShape,
    BakeShape,
    ChangedShape,
    DifferenceShape,
    ForeseenMeasureShape,
    ForeseenShape,
    ForeseenSymptomShape,
    LookBackShape,
    RecordDocument,
    ShiftShape,
)
from advisor.trial_record.bake import Bake, Foreseen
from advisor.trial_record.differing import differences
from advisor.trial_record.learning import Shift


def record_document(
    verb: str,
    bakes: Sequence[Bake] = (),
    *,
    changes: bool = False,
    best: Bake | None = None,
    back: LookBack | None = None,
    shifts: tuple[ShiftShape, ...] = (),
    said: str | Sequence[str] = (),
) -> RecordDocument:
    """Give the whole document; with `changes`, what was done otherwise from bake to bake too."""
    return RecordDocument(
        verb=verb,
        bakes=tuple(map(_bake, bakes)),
        changes=_changed(bakes) if changes else (),
        best=best.number if best else None,
        looked_back=_look_back(back) if back else None,
        shifts=shifts,
        said=(said,) if isinstance(said, str) else tuple(said),
    )


def _bake(bake: Bake) -> BakeShape:
    scores, came_out = bake.scores, bake.came_out
    return BakeShape(
        number=bake.number,
        key=bake.key,
        date=bake.baked_on,
        formula=bake.formula,
        text=bake.formula_text,
        saw=bake.seen,
        absent=bake.absent,
        volume=scores.volume,
        crumb=scores.crumb,
        slice=scores.slice,
        taste=scores.taste,
        height_cm=came_out.height_cm,
        weight_g=came_out.weight_g,
        volume_ml=came_out.volume_ml,
        core_c=came_out.core_c,
        photo=bake.photo,
        notes=bake.notes,
        followed=bake.followed,
        follows=bake.follows,
        lots=bake.lots,
        amounts=tuple(AmountShape(ingredient=a.ingredient, name=a.name, grams=a.grams) for a in bake.amounts),
        steps=bake.steps,
        foreseen=_foreseen(bake.foreseen) if bake.foreseen else None,
    )


def _foreseen(foreseen: Foreseen) -> ForeseenShape:
    return ForeseenShape(
        cause=foreseen.cause,
        cause_probability=foreseen.cause_probability,
        efficacy=foreseen.efficacy,
        single=foreseen.single,
        core_c=foreseen.core_c,
        height_cm=foreseen.height_cm,
        volume_ml=foreseen.volume_ml,
        oven_offset_c=foreseen.oven_offset_c,
        powder_strength=foreseen.powder_strength,
        risk=foreseen.risk,
    )


def _changed(bakes: Sequence[Bake]) -> tuple[ChangedShape, ...]:
    return tuple(
        ChangedShape(
            number=bake.number,
            after=before.number,
            differences=tuple(
                DifferenceShape(what=d.what, before=d.before, after=d.after)
                for d in differences(before, bake)
            ),
        )
        for before, bake in pairwise(bakes)
    )


def _look_back(back: LookBack) -> LookBackShape:
    revised = back.revised
    return LookBackShape(
        after=back.before.number if back.before else None,
        outcome=back.answer.outcome if back.answer else None,
        symptoms={
            one.symptom: ForeseenSymptomShape(
                before=one.before, risk=one.risk, seen=one.seen, right=one.right
            )
            for one in back.symptoms
        },
        measures={
            one.name: ForeseenMeasureShape(foreseen=one.foreseen, measured=one.measured)
            for one in back.measures
        },
        causes={}
        if revised is None
        else {cause: (revised.without.get(cause, 0.0), p) for cause, p in revised.with_trials.items()},
        not_taught=back.why_not_taught or None,
    )


def shift_shapes(shifts: Sequence[Shift], knowledge: Knowledge) -> tuple[ShiftShape, ...]:
    """Give every shift with what it rests on."""
    return tuple(
        ShiftShape(
            kind=shift.kind,
            id=shift.id,
            value=shift.value,
            says=said(shift, knowledge),
            why=why(shift),
            bakes=shift.bakes,
        )
        for shift in shifts
    )
