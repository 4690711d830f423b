"""What a bake taught in words: what its change did, whether it came as predicted, which causes moved."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.explanation.wording import percent
from advisor.interface.desk.bake_look_back import LookBack
from advisor.interface.desk.bake_words import symptom_name
from advisor.knowledge_base.knowledge import Knowledge

_CAUSES_SHOWN = 4
_DID = {"worked": "It worked", "in part": "It helped in part", "failed": "It did not help"}


def outcome_words(back: LookBack, knowledge: Knowledge) -> str:
    """Say what a followed change did, with the faults that went and stayed; empty where nothing tells."""
    if back.answer is None or back.answer.outcome is None:
        return ""
    parts = [
        f"{label}: {', '.join(symptom_name(s, knowledge) for s in some)}"
        for label, some in (("gone", back.answer.gone), ("still there", back.answer.stayed))
        if some
    ]
    return f"{_DID[back.answer.outcome]} ({'; '.join(parts)})."


def right_words(back: LookBack) -> str:
    """Say of how many faults the prediction was right."""
    right = sum(one.right for one in back.symptoms)
    return f"Right about {right} of {len(back.symptoms)} faults that were looked for."


def predictions(back: LookBack, knowledge: Knowledge) -> Iterator[tuple[str, str]]:
    """Give "right" or "wrong" with what came, for each fault that is worth telling."""
    for one in back.symptoms:
        if one.right and not one.seen and one.before is None:
            continue
        came = "came" if one.seen else "stayed away"
        from_ = "" if one.before is None else f"{percent(one.before)} before the change, "
        name = symptom_name(one.symptom, knowledge)
        yield "right" if one.right else "wrong", f"{name} {came}; its risk was {from_}{percent(one.risk)}"


def causes_moved(back: LookBack, knowledge: Knowledge) -> Iterator[tuple[str, str]]:
    """Give the causes that the trials moved most, likeliest first, with how likely each was and is."""
    if back.revised is None:
        return
    was, now = back.revised.without, back.revised.with_trials
    moved = sorted(now, key=lambda c: (-abs(now[c] - was.get(c, 0.0)), c))[:_CAUSES_SHOWN]
    for cause in sorted(moved, key=lambda c: (-now[c], c)):
        yield knowledge.causes[cause].name, f"{percent(was.get(cause, 0.0))}, now {percent(now[cause])}"
