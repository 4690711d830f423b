"""Answers as JSON, schema 1."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

from advisor.diagnosis.asking import QuestionInWords
from advisor.diagnosis.ranking import CauseRank
from advisor.explanation.further import Further
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.texts import Caution
from advisor.remedy.assessing import Assessment
from advisor.remedy.change import Change
from advisor.remedy.plan.first_trial import FirstTrial
from advisor.remedy.plan.joint_plan import JointPlan
from advisor.remedy.proposal import Proposal
from advisor.version import __version__

Json: TypeAlias = "bool | int | float | str | list[Json] | dict[str, Json] | None"
DIGITS = 6


def head(kind: str) -> dict[str, Json]:
    """What every kind starts with."""
    return {"schema": 1, "kind": kind, "version": __version__}


def _round(value: float | None) -> float | None:
    return None if value is None else round(value, DIGITS)


def pair_json(pair: tuple[float | None, float | None]) -> list[Json]:
    """A before and an after."""
    return [_round(pair[0]), _round(pair[1])]


def assessment_json(
    answer: Assessment,
    knowledge: Knowledge,
    question: QuestionInWords | None = None,
    further: Further | None = None,
) -> dict[str, Json]:
    """An assessment as the kind `check` or `diagnosis`, with the question to ask next, if there is one."""
    more = further or Further()
    found = answer.examination
    observed = found.situation.symptoms
    out = head(answer.kind)
    out |= {
        "formula": _formula(answer),
        "process": _process(answer),
        "structure": found.structure,
        "structures": {s: _round(w) for s, w in found.inference.structures.items()},
        "measures": _measures(answer, knowledge),
        "symptoms": {
            name: {"risk": _round(risk.risk), "observed": observed.get(name)}
            for name, risk in sorted(found.diagnosis.risks.items(), key=lambda i: (-i[1].risk, i[0]))
        },
        "causes": [_cause(rank, knowledge) for rank in found.diagnosis.causes],
        "proposals": [_proposal(p) for p in answer.plans.proposals],
        "joint_plan": _joint(more.joint),
        "first_trial": _first(more.first),
        "rescues": [{"id": r.id, "says": r.says, "mind": r.mind or ""} for r in more.rescues],
        "next_question": _question(question),
        "reminders": list(answer.reminders),
        "cautions": [_caution(c) for c in answer.cautions],
        "limits_broken": list(answer.broken),
        "assumed": list(answer.assumed),
        "warnings": list(answer.warnings),
    }
    return out


def _formula(answer: Assessment) -> Json:
    formula = answer.examination.formula
    lines: list[Json] = [
        {
            "text": line.text,
            "ingredient": line.ingredient.id,
            "grams": _round(line.grams),
            "conversion": line.conversion,
            "grade": line.grade,
        }
        for line in formula.lines
    ]
    slices = answer.examination.workings.dough_state.with_defaults.slices
    return {"name": formula.name, "dough_g": _round(formula.dough_g), "slices": slices, "lines": lines}


def _process(answer: Assessment) -> Json:
    found = answer.examination
    stated, out = found.situation.stated, dict[str, Json]()
    values: Mapping[str, float | str] = {**found.situation.process_words, **found.situation.process_numbers}
    for name in sorted(values):
        value = values[name]
        if value in ("true", "false"):
            plain: Json = value == "true"
        else:
            plain = _round(value) if isinstance(value, float) else value
        out[name] = {"value": plain, "assumed": name not in stated}
    return out


def _measures(answer: Assessment, knowledge: Knowledge) -> Json:
    found, out = answer.examination, dict[str, Json]()
    for name, entry in knowledge.measures.items():
        measure, judged = found.workings.measures.by_id[name], found.inference.judged.get(name)
        value = judged.value if judged else measure.value
        out[name] = {
            "value": _round(value),
            "unit": entry.unit,
            "band": [_round(judged.low), _round(judged.high)] if judged else None,
            "state": judged.state if judged else "unbanded",
            "excess": _round(judged.excess) if judged else 0.0,
            "reason": "" if value is not None else measure.reason,
        }
    return out


def _cause(rank: CauseRank, knowledge: Knowledge) -> Json:
    return {
        "id": rank.id,
        "name": knowledge.causes[rank.id].name,
        "probability": _round(rank.probability),
        "refines": rank.refines,
        "chains": [list(chain) for chain in rank.chains],
        "rules": list(rank.rules),
    }


def _caution(caution: Caution) -> Json:
    return {"id": caution.id, "text": caution.text, "sources": list(caution.sources)}


def _question(asked: QuestionInWords | None) -> Json:
    """A symptom has the answers `seen` and `absent`, a question those of its own."""
    if asked is None:
        return None
    answers: dict[str, Json] = dict(asked.answers)
    return {"id": asked.id, "question": asked.question, "because": asked.because, "answers": answers}


def change_json(change: Change) -> Json:
    """One change: what, unit, from and to."""
    return {
        "what": change.what,
        "unit": change.unit,
        "from": _round(change.before),
        "to": _round(change.after),
    }


def _proposal(p: Proposal) -> Json:
    return {
        "lever": p.lever,
        "cause": p.cause,
        "kind": p.kind,
        "changes": [change_json(c) for c in p.changes],
        "measures": {name: pair_json(pair) for name, pair in p.measures.items()},
        "risk": {name: pair_json(pair) for name, pair in p.risk.items()},
        "net_carb_per_slice": pair_json(p.net_carb_per_slice),
        "side_effects": list(p.side_effects),
        "relief": _round(p.relief),
        "effort": _round(p.effort),
    }


def _joint(plan: JointPlan | None) -> Json:
    if plan is None:
        return None
    return {
        "changes": [change_json(c) for c in plan.changes],
        "measures": {name: pair_json(pair) for name, pair in plan.measures.items()},
        "risk": {name: pair_json(pair) for name, pair in plan.risk.items()},
        "net_carb_per_slice": pair_json(plan.net_carb_per_slice),
        "relief": _round(plan.relief),
        "unmet": list(plan.unmet),
        "relaxed": list(plan.relaxed),
    }


def _first(trial: FirstTrial | None) -> Json:
    if trial is None:
        return None
    return {
        "lever": trial.proposal.lever,
        "symptom": trial.symptom,
        "bits": _round(trial.bits),
        "expect": [
            {"cause": e.cause, "probability": _round(e.probability), "gone": _round(e.gone)}
            for e in trial.expectations
        ],
    }
