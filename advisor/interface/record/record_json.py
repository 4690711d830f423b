"""The record as JSON of the kind `record`: what was asked, and the bakes and shifts that answer it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from advisor.interface.desk.record_learnt import said, why
from advisor.interface.record.record_pages import LookBack
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.json_form import Json, head
from advisor.trial_record.bake import Bake
from advisor.trial_record.differing import differences
from advisor.trial_record.learning import Shift
from advisor.trial_record.plain_form import to_plain


def record_json(verb: str, bakes: Sequence[Bake], **more: Json) -> dict[str, Json]:
    """Give the whole document; keys that a verb has no use for are there, and empty."""
    out = head("record")
    out |= {"verb": verb, "bakes": [_bake(bake) for bake in bakes]}
    empty: dict[str, Json] = {"changes": [], "best": None, "looked_back": None, "shifts": [], "said": []}
    return out | empty | more


def _bake(bake: Bake) -> Json:
    found: dict[str, Json] = {"number": bake.number}
    for key, value in to_plain(bake).items():
        found[key] = value
    return found


def changes_json(bakes: Sequence[Bake]) -> Json:
    """Give for each bake but the first what differs from the one before it."""
    out: list[Json] = []
    for before, bake in pairwise(bakes):
        made: list[Json] = [
            {"what": d.what, "from": d.before, "to": d.after} for d in differences(before, bake)
        ]
        out.append({"number": bake.number, "after": before.number, "differences": made})
    return out


def look_back_json(back: LookBack) -> Json:
    """Give what a bake says of what had been foreseen."""
    symptoms: dict[str, Json] = {
        one.symptom: {"before": one.before, "risk": one.risk, "seen": one.seen, "right": one.right}
        for one in back.symptoms
    }
    measures: dict[str, Json] = {
        one.name: {"foreseen": one.foreseen, "measured": one.measured} for one in back.measures
    }
    causes: dict[str, Json] = {}
    if back.revised is not None:
        causes = {
            cause: [round(back.revised.without.get(cause, 0.0), 6), round(p, 6)]
            for cause, p in back.revised.with_trials.items()
        }
    return {
        "after": back.before.number if back.before else None,
        "outcome": back.answer.outcome if back.answer else None,
        "symptoms": symptoms,
        "measures": measures,
        "causes": causes,
        "not_taught": back.why_not_taught or None,
    }


def shifts_json(shifts: Sequence[Shift], knowledge: Knowledge) -> Json:
    """Give every shift with what it rests on."""
    return [
        {
            "kind": shift.kind,
            "id": shift.id,
            "value": round(shift.value, 6),
            "says": said(shift, knowledge),
            "why": why(shift),
            "bakes": list(shift.bakes),
        }
        for shift in shifts
    ]
