"""Two formulas beside each other: what moves, and what each difference does on its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.diagnosis.risk import burden
from advisor.formula.formula import Formula, Line, Process
from advisor.formula.lines.states import WORD_FOR_TRAIT
from advisor.inference.situation import Judged
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.change import Change, moved
from advisor.remedy.process_change import STEPS_OF, process_changes
from advisor.remedy.side_effects import side_effects

Pair = tuple[float | None, float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Measures that moved and risks of every symptom, before and after; what it does in words."""

    before: Examination
    after: Examination
    measures: Mapping[str, Pair]
    risk: Mapping[str, tuple[float, float]]
    says: tuple[str, ...]

    burden: tuple[float, float]
    """Severity-weighted sum of the risks, before and after."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OneDifference:
    """One difference between two formulas, and what it does to the first where it alone is made."""

    change: Change
    measures: Mapping[str, Pair]
    """Measures whose state it changes, or else the one that it moves furthest."""

    worsens: str | None
    improves: str | None
    """Symptoms whose risk it moves most, up and down; `None` where it moves none to speak of."""

    risk: Mapping[str, tuple[float, float]]


def compare(examiner: Examiner, a: Formula, b: Formula) -> Comparison:
    """Examine both before the bake and lay the results side by side."""
    return compared(
        examiner.examine(a, after_bake=False), examiner.examine(b, after_bake=False), examiner.knowledge
    )


def compared(before: Examination, after: Examination, knowledge: Knowledge) -> Comparison:
    """Lay two examinations side by side."""
    was, now = before.situation.measures, after.situation.measures
    changed = {n: (was.get(n), now.get(n)) for n in knowledge.measures if moved(was.get(n), now.get(n))}
    risks = before.diagnosis.risks
    return Comparison(
        before=before,
        after=after,
        measures=changed,
        risk={s: (risks[s].risk, after.diagnosis.risks[s].risk) for s in risks},
        says=side_effects(before, after, knowledge),
        burden=(burden(risks, knowledge.symptoms), burden(after.diagnosis.risks, knowledge.symptoms)),
    )


def differences(a: Formula, b: Formula) -> tuple[tuple[Change, Formula], ...]:
    """Each difference of `b` from `a` with `a` changed in that alone: amounts by ingredient, then the process."""
    out: list[tuple[Change, Formula]] = []
    names = {x.ingredient.id: x.ingredient.name for x in (*b.lines, *a.lines)}
    for ingredient in dict.fromkeys(x.ingredient.id for x in (*a.lines, *b.lines)):
        was, now = a.grams_of(ingredient), b.grams_of(ingredient)
        if abs(was - now) < 1e-9:
            continue
        counts = [_count(f, ingredient) for f in (a, b)]
        change = Change(
            what=names[ingredient],
            unit="g",
            before=was,
            after=now,
            count_before=counts[0],
            count_after=counts[1],
        )
        out.append((change, _with_lines_of(a, b, ingredient)))
    out += _other_states(a, b)
    for field in fields(Process):
        if getattr(a.process, field.name) != getattr(b.process, field.name):
            alone = STEPS_OF.get(field.name, ())
            if any(getattr(a.process, name) != getattr(b.process, name) for name in alone):
                continue  # its single numbers tell it
            other = {field.name: getattr(b.process, field.name), **dict.fromkeys(alone)}
            process = replace(a.process, **other)
            out += [(c, replace(a, process=process)) for c in process_changes(a.process, process)]
    return tuple(out)


def _other_states(a: Formula, b: Formula) -> list[tuple[Change, Formula]]:
    """What is written in another state: boiling water, cheese from a bag."""
    out = []
    now = {x.ingredient.id: x.traits for x in b.lines}
    for line in a.lines:
        then = now.get(line.ingredient.id, line.traits)
        if set(then) == set(line.traits):
            continue
        was, is_ = (
            " and ".join(WORD_FOR_TRAIT[t] for t in traits if t in WORD_FOR_TRAIT) or "as it is"
            for traits in (line.traits, then)
        )
        change = Change(
            what=f"{line.ingredient.name}: {is_} instead of {was}", unit="", before=None, after=None
        )
        out.append(
            (change, a.with_lines(tuple(replace(x, traits=then) if x is line else x for x in a.lines)))
        )
    return out


def explain(
    examiner: Examiner, a: Formula, b: Formula, least_risk: float = 0.02
) -> tuple[OneDifference, ...]:
    """Make each difference alone on the first formula and look what it does."""
    base = examiner.examine(a, after_bake=False)
    out = []
    for change, formula in differences(a, b):
        if not formula.lines:
            continue
        alone = compared(base, examiner.examine(formula, after_bake=False), examiner.knowledge)
        risks = {s: pair for s, pair in alone.risk.items() if abs(pair[1] - pair[0]) >= least_risk}
        rising = max(risks, key=lambda s: risks[s][1] - risks[s][0], default=None)
        falling = min(risks, key=lambda s: risks[s][1] - risks[s][0], default=None)
        out.append(
            OneDifference(
                change=change,
                measures=_telling(alone),
                worsens=rising if rising and risks[rising][1] > risks[rising][0] else None,
                improves=falling if falling and risks[falling][1] < risks[falling][0] else None,
                risk=risks,
            )
        )
    return tuple(out)


def _telling(alone: Comparison) -> Mapping[str, Pair]:
    """Measures that change their state; where none does, the one that goes furthest in its band's widths."""
    was, now = alone.before.inference.judged, alone.after.inference.judged
    changed = {n: alone.measures[n] for n in alone.measures if _state(was, n) != _state(now, n)}
    if changed:
        return changed
    steps = {n: _step(was.get(n), pair) for n, pair in alone.measures.items() if n in was and n in now}
    far = max(steps, key=lambda n: steps[n], default=None)
    return {far: alone.measures[far]} if far is not None else {}


def _state(judged: Mapping[str, Judged], name: str) -> str | None:
    return judged[name].state if name in judged else None


def _step(judged: Judged | None, pair: Pair) -> float:
    if judged is None or pair[0] is None or pair[1] is None:
        return 0.0
    low, high = judged.low, judged.high
    width = (high - low) if low is not None and high is not None else abs(high or low or 1.0)
    return abs(pair[1] - pair[0]) / max(width, 1e-9)


def _count(formula: Formula, ingredient: str) -> int | None:
    counts = [x.counted for x in formula.lines if x.ingredient.id == ingredient]
    return sum(c for c in counts if c is not None) if counts and all(c is not None for c in counts) else None


def _with_lines_of(a: Formula, b: Formula, ingredient: str) -> Formula:
    """The first formula with the second one's lines of one ingredient, in the place where its own stood."""
    theirs = [x for x in b.lines if x.ingredient.id == ingredient]
    lines: list[Line] = []
    put = False
    for line in a.lines:
        if line.ingredient.id != ingredient:
            lines.append(line)
        elif not put:
            lines += theirs
            put = True
    return a.with_lines(tuple(lines if put else [*lines, *theirs]))
