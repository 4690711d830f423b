"""Water that goes with a change: whoever adds fibre to a dough gives it what that takes up, and the other way round."""

from __future__ import annotations

import math

from advisor.diagnosis.pipeline import Examination
from advisor.remedy.change import Changed, scale_lines
from advisor.remedy.levers.candidate import Candidate
from advisor.remedy.levers.target import JUST_INSIDE

_MEASURE = "mixing_hydration"
_STEP_G = 5.0


def kept_moist(changed: Changed, candidate: Candidate, before: Examination) -> Changed | None:
    """Give a dough the water that a change takes from it, or take what the change leaves over; `None` where none is.

    Only where the dough has water of its own: what else is wet in it does more than moisten. Available water over
    uptake is the measure, so that the grams follow at once.
    """
    was, now = before.inference.judged.get(_MEASURE), candidate.judged_at_rest.get(_MEASURE)
    lines = changed.formula.lines
    places = frozenset(n for n, line in enumerate(lines) if "water" in line.ingredient.roles)
    names = {lines[n].ingredient.name for n in places}
    if was is None or now is None or now.state in ("in", was.state):
        return None
    low, high = now.low, now.high
    wanted = high if now.state == "high" else low
    if wanted is None:
        return None
    if not places or any(change.what in names for change in changed.changes):
        return None
    inward = JUST_INSIDE * (high - low) if low is not None and high is not None else 0.0
    wanted += -inward if now.state == "high" else inward
    water, held = candidate.dough_state.water, sum(lines[n].grams for n in places)
    more = _STEP_G * math.ceil((wanted * water.absorption - water.available) / _STEP_G)
    if held + more <= 0:
        return None
    moist = scale_lines(changed.formula, places, (held + more) / held, 1.0)
    return Changed(formula=moist.formula, changes=(*changed.changes, *moist.changes))
