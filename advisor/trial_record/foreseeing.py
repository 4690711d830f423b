"""What is expected of a bake before it is known how it came out, and what would explain what was measured on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from advisor.diagnosis.kitchen_shifts import KitchenShifts, is_powder
from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.formula.process.process_lines import PROCESS_KEYS
from advisor.knowledge_base.rule_entries import Lever
from advisor.models.measuring import Workings, dough_state_of, measure
from advisor.remedy.constraints import Constraints
from advisor.remedy.levers.candidate import Candidates
from advisor.remedy.levers.trying import LeverTrial
from advisor.remedy.proposal import Proposal
from advisor.trial_record.bake import Amount, Bake, CameOut, Foreseen
from advisor.trial_record.differing import Difference, amounts_of, differences, steps_of, text_of

_OFFSETS = (-40.0, -20.0, 0.0, 20.0, 40.0)
_STRENGTHS = (0.3, 0.45, 0.6, 0.8, 1.0)
FALLEN = frozenset({"collapse_in_oven", "collapse_on_cooling", "overflow", "large_cavity"})
"""Where a loaf fell, ran over or is hollow, its size says nothing of its gas."""
_OVEN_TIME = "oven"

Curve = tuple[tuple[float, float | None], ...]
"""A reading for each place tried, in rising order of places."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """What a loaf should measure once it is out and cool: core [C] at the pull, height [cm]; of a piece mL and g."""

    core_c: float | None
    height_cm: float | None
    volume_ml: float | None
    weight_g: float | None


def expected_of(workings: Workings) -> Expected:
    """Read what a loaf should measure off its workings: size at set less what it shrinks by on cooling."""
    lost = (workings.measures.value("cooling_shrinkage_pct") or 0.0) / 100
    height = workings.measures.value("rise_height_cm")
    volume = workings.rise.set_ml
    pieces = workings.dough_state.with_defaults.pieces
    return Expected(
        core_c=workings.bake.core_at_pull_c if workings.bake else None,
        height_cm=None if height is None else height * (1 - lost),
        volume_ml=None if volume is None else volume * (1 - lost) / pieces,
        weight_g=workings.dough_state.dough.total * (1 - workings.bake.bake_loss) / pieces
        if workings.bake
        else None,
    )


def foresee(
    examiner: Examiner,
    formula: Formula,
    came_out: CameOut,
    told: Sequence[str],
    *,
    seen: Sequence[str] = (),
    followed: str | None = None,
    before: Examination | None = None,
) -> Foreseen:
    """Say what this formula promised; `told` are the symptoms looked for, `before` the bake that was to be mended.

    The examiner is taken without anything learnt, so that what is learnt never rests on itself.
    """
    plain = examiner.in_kitchen(KitchenShifts())
    unmeasured = replace(formula, process=replace(formula.process, core_measured_c=None))
    now = plain.examine(unmeasured, after_bake=False)
    expected = expected_of(now.workings)
    risks = now.diagnosis.risks
    limit = plain.knowledge.coefficient("risk_limit")
    kept = [name for name, risk in risks.items() if name in told or risk.risk >= limit]
    out = Foreseen(
        core_c=expected.core_c,
        height_cm=expected.height_cm,
        volume_ml=expected.volume_ml,
        oven_offset_c=oven_offset(plain, unmeasured, came_out.core_c, now),
        powder_strength=None if FALLEN & set(seen) else powder_strength(plain, unmeasured, came_out, now),
        risk={name: (None, risks[name].risk) for name in kept},
    )
    if followed is None or before is None:
        return out
    return _with_change(plain, out, formula, followed, before, told)


def _with_change(
    examiner: Examiner,
    out: Foreseen,
    formula: Formula,
    followed: str,
    before: Examination,
    told: Sequence[str],
) -> Foreseen:
    """Add what the change followed was for, what it promised, and whether it was the only change."""
    lever = examiner.knowledge.levers[followed]
    trial = LeverTrial(
        examiner=examiner,
        before=before,
        constraints=Constraints(),
        candidates=Candidates(examiner, after_bake=before.after_bake),
    )(lever)
    proposal = trial if isinstance(trial, Proposal) else None
    made = _differences(before.formula, formula)
    turned = _differences(before.formula, proposal.formula) if proposal else ()
    risks = dict(out.risk)
    now = before.diagnosis.risks
    promised = proposal.risk if proposal else {}
    reached = examiner.graph_of(formula).influence.get(lever.for_, {})
    for name in now:
        if name in promised:
            risks[name] = promised[name]
        elif name in reached and name in told and before.situation.symptoms.get(name):
            # Not worked out, yet what the cause leads to is what its cure is to take away.
            risks[name] = (now[name].risk, min(risks[name][1], now[name].risk * (1 - reached[name])))
    expected = examiner.knowledge.coefficient("learning_turned_efficacy")
    return replace(
        out,
        cause=lever.for_,
        cause_probability=before.diagnosis.own.get(lever.for_),
        efficacy=lever.efficacy or expected,
        single=_is_single(lever, made, turned),
        risk={n: pair for n, pair in risks.items() if n in told or n in out.risk},
    )


def _is_single(lever: Lever, made: Sequence[Difference], turned: Sequence[Difference]) -> bool:
    """Tell whether nothing but the change followed was done otherwise, whatever its amount.

    Where no amount of it was worked out, its kind has to do: one amount (two where one takes the place of another), or
    one line of the process. A bake time that goes with another amount is no change of its own.
    """
    if lever.turn.do:
        return not made
    if turned:
        return bool(made) and {d.what for d in made} <= {d.what for d in turned}
    lines = [d for d in made if d.what in PROCESS_KEYS]
    amounts = len(made) - len(lines)
    if lever.turn.process:
        return amounts == 0 and len(lines) == 1
    return 1 <= amounts <= (2 if lever.turn.replace else 1) and all(d.what == _OVEN_TIME for d in lines)


def _differences(before: Formula, after: Formula) -> tuple[Difference, ...]:
    return differences(_plain(before), _plain(after))


def _plain(formula: Formula) -> Bake:
    amounts: tuple[Amount, ...] = amounts_of(formula)
    return Bake(
        formula=formula.name or "formula", formula_text=text_of(formula), baked_on="", amounts=amounts,
        steps=steps_of(formula),
    )  # fmt: skip


def oven_offset(
    examiner: Examiner, formula: Formula, measured_c: float | None, now: Examination
) -> float | None:
    """Give how far off its dial [C] the oven was, if that alone made the core what it was.

    `None` without a measured core or a stated bake time, where the formula says how the oven runs, where the core would
    not tell (near boiling it stands still), or where no oven explains it.
    """
    if measured_c is None or now.workings.bake is None:
        return None
    return oven_at(core_by_oven(examiner, formula, now), measured_c, examiner)


def core_by_oven(examiner: Examiner, formula: Formula, now: Examination) -> Curve:
    """Give the core [C] at the pull for ovens off their dial; empty where the formula leaves nothing to find out."""
    process = formula.process
    if process.bake_min is None or process.oven_offset_c is not None:
        return ()
    out = []
    for offset in _OFFSETS:
        changed = replace(formula, process=replace(process, oven_offset_c=offset))
        out.append((offset, expected_of(_worked(examiner, changed, now)).core_c))
    return tuple(out)


def oven_at(curve: Curve, measured_c: float, examiner: Examiner) -> float | None:
    """Give the offset [C] at which the core is as measured, if the core tells of the oven there."""
    return _where(curve, measured_c, examiner.knowledge.coefficient("learning_oven_tells_c"))


def powder_strength(
    examiner: Examiner, formula: Formula, came_out: CameOut, now: Examination
) -> float | None:
    """Give what was left of the powder's strength (0.3 to 1), if that alone made the loaf as large as it was.

    Volume by seed displacement goes before height. `None` without either, without powder, where the formula says how
    old it is, or where the loaf does not owe enough of its size to it; 1 where it is as large as foreseen, or larger.
    """
    if came_out.volume_ml is None and came_out.height_cm is None:
        return None
    return strength_at(size_by_powder(examiner, formula, now), came_out, examiner)


Sizes = tuple[tuple[float, Expected], ...]
"""What a loaf should measure for each strength left in its powder, rising."""


def size_by_powder(examiner: Examiner, formula: Formula, now: Examination) -> Sizes:
    """Give what a loaf should measure for powders that have lost strength; empty without powder of unknown age."""
    powders = [line for line in formula.lines if is_powder(line)]
    if not powders or any(line.age_months for line in powders):
        return ()
    weaker = [KitchenShifts(powder_strength=s).formula_here(formula, examiner.knowledge) for s in _STRENGTHS]
    return tuple(
        (strength, expected_of(_worked(examiner, aged, now)))
        for strength, aged in zip(_STRENGTHS, weaker, strict=True)
    )


def strength_at(sizes: Sizes, came_out: CameOut, examiner: Examiner) -> float | None:
    """Give the strength at which a loaf is as large as measured, if it owes enough of its size to the powder."""
    by_volume = came_out.volume_ml is not None
    measured = came_out.volume_ml if by_volume else came_out.height_cm
    curve = tuple((strength, found.volume_ml if by_volume else found.height_cm) for strength, found in sizes)
    if measured is None or not curve or (whole := curve[-1][1]) is None:
        return None
    if came_out.weight_g is not None and (weight := sizes[-1][1].weight_g) is not None:
        # Less dough makes a smaller loaf with the best of powders.
        measured *= weight / came_out.weight_g
    least = examiner.knowledge.coefficient("learning_volume_tells") * whole / (1 - _STRENGTHS[0])
    lowest = curve[0][1]
    if lowest is None or whole - lowest < least * (1 - _STRENGTHS[0]):
        return None
    return 1.0 if measured >= whole else _where(curve, measured, 0.0)


def _worked(examiner: Examiner, formula: Formula, now: Examination) -> Workings:
    return measure(dough_state_of(formula, examiner.knowledge), examiner.knowledge)


def _where(curve: Curve, measured: float, least_slope: float) -> float | None:
    """Give the place at which a rising reading is as measured, between the places tried; `None` where it is flat."""
    for (low, a), (high, b) in pairwise(curve):
        if a is None or b is None or not a <= measured <= b or b - a < least_slope * (high - low):
            continue
        share = (measured - a) / (b - a) if b > a else 0.0
        return round(low + (high - low) * share, 3)
    return None
