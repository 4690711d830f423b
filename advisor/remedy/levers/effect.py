"""What a change does, by looking at the changed formula afresh: risks before and after, relief, side effects."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from advisor.diagnosis.diagnosis import signs_of
from advisor.diagnosis.pipeline import Examination, Examiner, Measured
from advisor.diagnosis.risk import burden
from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """Risks of every symptom before and after, severity-weighted relief and harm, and the new examination."""

    after: Examination
    risk: Mapping[str, tuple[float, float]]
    relief: float
    relieved: float
    worsened: float


def unseen_priors(examiner: Examiner, before: Examination) -> Mapping[str, float]:
    """Give the priors of a formula without what the baker saw and said: what a change is to be laid against.

    Nobody has seen the changed loaf. With what was seen of the first one among the rules, every change would seem to
    cure what only a look at the loaf had brought up.
    """
    if not before.situation.symptoms and not before.situation.answers:
        return before.diagnosis.priors
    known = Measured(workings=before.workings, structures=before.inference.structures)
    found = examiner.examine(before.formula, after_bake=before.after_bake, measured=known, ranked=False)
    return found.diagnosis.priors


def effect_of(
    examiner: Examiner,
    before: Examination,
    formula: Formula,
    cured: Mapping[str, float] | None = None,
    *,
    after: Examination | None = None,
    unseen: Mapping[str, float] | None = None,
) -> Effect:
    """Apply, infer anew and compare.

    What the baker saw is carried over: p(after) = posterior x (prior after / prior before), both without what was
    seen, or x (1 - efficacy) for causes that handling cures, or a change that comes part of the way (`cured`: cause to
    efficacy). Relief = sum of severity x (risk - risk after). Before a bake the risks after a change of the formula
    are those that a check of the changed formula gives, so that the part of the way counts in the relief alone.
    `after` is the examination of the changed formula and `unseen` what `unseen_priors` gives,
    from those who have them already.
    """
    same = formula == before.formula
    if same:
        after = before
    elif after is None:
        after = examiner.examine(formula, after_bake=before.after_bake, ranked=False)
    now = before.diagnosis.own
    then = dict(now)
    if not same:
        priors = unseen_priors(examiner, before) if unseen is None else unseen
        for cause, p in now.items():
            was, is_ = priors.get(cause, 0.0), after.diagnosis.priors.get(cause, 0.0)
            then[cause] = min(p * is_ / was, max(p, is_)) if was > 0 else is_
    credited = then | {
        cause: then.get(cause, 0.0) * (1 - efficacy) for cause, efficacy in (cured or {}).items()
    }
    told = credited if same or before.after_bake else then
    symptoms = examiner.knowledge.symptoms
    signs = signs_of(examiner.graph_of(before.formula), symptoms)
    gone = examiner.kinds.of(before.workings.dough_state).cannot_have(before.situation.symptoms)
    had = {name: sign for name, sign in signs.items() if name not in gone}
    risk = {
        name: (had[name].risk(now), had[name].risk(told)) if name in had else (0.0, 0.0) for name in signs
    }
    moved = [
        (
            symptoms[name].severity,
            risk[name][0] - (sign.risk(credited) if credited != told else risk[name][1]),
        )
        for name, sign in had.items()
    ]
    relieved = sum(s * d for s, d in moved if d > 0)
    worsened = -sum(s * d for s, d in moved if d < 0)
    return Effect(after=after, risk=risk, relief=relieved - worsened, relieved=relieved, worsened=worsened)


def heavier(before: Examination, after: Examination, knowledge: Knowledge) -> bool:
    """Whether the risks of a changed formula, weighed by how bad each is, come to more than before."""
    symptoms = knowledge.symptoms
    return burden(after.diagnosis.risks, symptoms) > burden(before.diagnosis.risks, symptoms) + 1e-6
