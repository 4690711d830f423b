"""How sure the numbers and the verdicts of one examination are: intervals of measures, and how many draws agree.

Everything but the heat is worked out anew for each draw; the heat of a draw is that of the bake as it stands, moved by
its slopes (advisor/models/heat/sensitivities.py), so that some hundred draws need six more bakes and not a hundred.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from advisor.diagnosis.pipeline import Examination, Examiner, Measured
from advisor.models.draws import Draw, draws_of
from advisor.models.heat.sensitivities import BakeSlopes, bake_slopes
from advisor.models.loaf.bake import Bake
from advisor.models.loaf.oven_measures import oven_measures
from advisor.models.measuring import Workings, dough_state_of, measure

DRAWS = 80
JUDGED_EVERY = 2
"""Rules are run on each second draw: they take as long as the measures do."""
_BOILS_C, _LEAST_LACK_C = 100.0, 0.4
_NOT_FOLLOWED = frozenset(
    {
        "sliceable_after_min",
        "slice_margin_min",
        "set_share_at_pull",
        "cool_set_share",
        "cooling_shrinkage_pct",
    }
)
"""Measures of cooling and of the shells of a loaf, which no slope is kept for: they get no interval."""
_TAIL = 0.1
"""Share below the low end and above the high one: the interval holds eight in ten."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Uncertainty:
    """Low and high end of each measure in its own unit, and of each symptom the share of draws that agree."""

    intervals: Mapping[str, tuple[float, float]]
    agree: Mapping[str, float]


def uncertainty_of(found: Examination, examiner: Examiner, *, many: int = DRAWS) -> Uncertainty:
    """Work out intervals (8 in 10) and agreement of an examination.

    A verdict on a symptom is whether its risk reaches `risk_limit`.
    """
    knowledge, centre = examiner.knowledge, found.workings
    slopes = _slopes(centre.bake)
    limit = knowledge.coefficient("risk_limit")
    values: dict[str, list[float]] = {}
    same: dict[str, int] = dict.fromkeys(found.diagnosis.risks, 0)
    judged = 0
    for n, draw in enumerate(draws_of(found.formula, knowledge, many)):
        drawn = _measured(draw, centre, slopes)
        for name, one in drawn.measures.by_id.items():
            if one.value is not None:
                values.setdefault(name, []).append(one.value)
        if n % JUDGED_EVERY:
            continue
        judged += 1
        again = examiner.examine(
            draw.formula, saw=found.seen, answers=found.situation.answers, after_bake=found.after_bake,
            not_seen=[s for s, there in found.situation.symptoms.items() if not there],
            measured=Measured(workings=drawn, structures=found.inference.structures), ranked=False,
        )  # fmt: skip
        for symptom, risk in found.diagnosis.risks.items():
            same[symptom] += (risk.risk >= limit) == (again.diagnosis.risks[symptom].risk >= limit)
    told = {
        name: some
        for name, some in values.items()
        if name not in _NOT_FOLLOWED and len(some) >= many / 2 and centre.measures.value(name) is not None
    }
    return Uncertainty(
        intervals={
            name: (min(low, here), max(high, here))  # the figure itself lies inside
            for name, (low, high) in _ends(told)
            if (here := centre.measures.value(name)) is not None
        },
        agree={symptom: count / judged for symptom, count in same.items()},
    )


def _ends(values: Mapping[str, list[float]]) -> Iterator[tuple[str, tuple[float, float]]]:
    """The eight in ten in the middle of each; all of one length at once, since a call costs more than its sums."""
    import numpy as np

    for _, some in groupby(
        sorted(values, key=lambda name: len(values[name])), lambda name: len(values[name])
    ):
        names = list(some)
        ends = np.quantile([values[name] for name in names], (_TAIL, 1 - _TAIL), axis=1, method="hazen")
        yield from zip(names, ends.T.tolist(), strict=True)


def _slopes(bake: Bake | None) -> BakeSlopes | None:
    if bake is None:
        return None
    try:
        return bake_slopes(bake.problem)
    except ValueError:
        return None


def _measured(draw: Draw, centre: Workings, slopes: BakeSlopes | None) -> Workings:
    """All measures of a draw, its heat by slopes; of a bake that is no loaf's the heat stays as it is."""
    state = dough_state_of(draw.formula, draw.knowledge)
    drawn = measure(state, draw.knowledge, with_bake=False, warmed_like=centre.warming, baked_as=centre.bake)
    by_id = dict(drawn.measures.by_id)
    if centre.bake is not None and slopes is not None:
        heated = oven_measures(
            draw.formula.process, _moved(centre.bake, draw, drawn, centre, slopes), {}, draw.knowledge
        )
        for name, value in heated.items():
            if value is not None and by_id[name].value is not None:
                by_id[name] = replace(by_id[name], value=value)
    elif centre.bake is None:
        by_id |= {n: m for n, m in centre.measures.by_id.items() if by_id[n].value is None}
    return replace(drawn, measures=replace(drawn.measures, by_id=by_id))


def _moved(bake: Bake, draw: Draw, drawn: Workings, centre: Workings, slopes: BakeSlopes) -> Bake:
    """The bake with its times, core, loss and browning where the slopes take them.

    Times and browning move by factors, and so does what the core lacks to boiling, which a bake eats up ever more
    slowly; constants and sizes are taken by the logarithm of their ratio.
    """
    loaf, here, there = bake.problem.loaf, centre.dough_state.dough, drawn.dough_state.dough
    larger = _log_ratio(drawn.rise.set_ml, centre.rise.set_ml)
    in_tin = centre.dough_state.with_defaults.pan_kind in ("tin", "round")
    steps = (
        (slopes.oven_c, draw.oven_off_c),
        (slopes.water, there.water / there.total - here.water / here.total),
        (slopes.density, -larger),
        # In a tin a larger loaf is higher and no wider.
        (slopes.size, larger * (0.5 if in_tin else 1 / 3)),
        (slopes.convection, _off(draw, "oven_h_fan" if loaf.fan else "oven_h_still", bake)),
        (slopes.vapour, _off(draw, "oven_vapour_share", bake)),
    )

    def by(name: str) -> float:
        return sum((getattr(slope, name) or 0.0) * step for slope, step in steps)

    browned = bake.problem.coefficients.browning_power * -_off(draw, "oven_browning_minutes", bake)

    def times(name: str, value: float) -> float:
        return value * math.exp(max(-1.0, min(by(name) / value, 1.0))) if value > 0 else value

    set_at = None if bake.core_set_min is None else times("core_set_min", bake.core_set_min)
    done = None if bake.core_done_min is None else times("core_done_min", bake.core_done_min)
    margin, core = bake.pull_margin_min, bake.core_at_pull_c
    process = centre.dough_state.formula.process
    if margin is not None and process.bake_min is not None and done is not None:
        margin -= done - (bake.core_done_min or done)
    if process.core_measured_c is None:
        lacks = max(_BOILS_C - core, _LEAST_LACK_C)
        core = _BOILS_C - min(lacks * math.exp(-by("core_at_pull_c") / lacks), _BOILS_C - 20)
    return replace(
        bake, core_set_min=set_at, core_done_min=done, core_at_pull_c=core, pull_margin_min=margin,
        browning=times("browning", bake.browning) * math.exp(browned),
        bake_loss=times("water_lost_frac", bake.bake_loss),
    )  # fmt: skip


def _log_ratio(there: float | None, here: float | None) -> float:
    return math.log(there / here) if there and here else 0.0


def _off(draw: Draw, name: str, bake: Bake) -> float:
    """How far a constant of the oven is drawn from what the bake was made with, as a logarithm."""
    used = getattr(bake.problem.coefficients, name.removeprefix("oven_"))
    return math.log(draw.knowledge.coefficient(name) / used) if used else 0.0
