"""Water that goes with a change: whoever adds gluten or fibre to a dough gives it what that takes up."""

from __future__ import annotations

import math

from advisor.diagnosis.pipeline import Examination
from advisor.remedy.change import Changed, scale_lines
from advisor.remedy.levers.candidate import Candidate
from advisor.remedy.levers.target import JUST_INSIDE

_MEASURE = "mixing_hydration"
_STEP_G = 5.0


def kept_moist(changed: Changed, candidate: Candidate, before: Examination) -> Changed | None:
    """Add the water that a change takes from a dough which was moist enough; `None` where none is wanted.

    Only where the dough has water of its own: what else is wet in it does more than moisten. Available water over
    uptake is the measure, so that the grams follow at once.
    """
    was, now = before.inference.judged.get(_MEASURE), candidate.judged_at_rest.get(_MEASURE)
    lines = changed.formula.lines
    places = frozenset(n for n, line in enumerate(lines) if "water" in line.ingredient.roles)
    names = {lines[n].ingredient.name for n in places}
    if was is None or now is None or was.state == "low" or now.state != "low" or now.low is None:
        return None
    if not places or any(change.what in names for change in changed.changes):
        return None
    wanted = now.low + JUST_INSIDE * ((now.high or now.low) - now.low)
    water, held = candidate.dough_state.water, sum(lines[n].grams for n in places)
    more = _STEP_G * math.ceil((wanted * water.absorption - water.available) / _STEP_G)
    moist = scale_lines(changed.formula, places, (held + more) / held, 1.0)
    return Changed(formula=moist.formula, changes=(*changed.changes, *moist.changes))
