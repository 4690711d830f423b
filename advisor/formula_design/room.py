"""Whether the limits leave room at all, before any dough is measured; and what has to stay out so that they do.

Only what is plainly linear is asked: mass, spreads, protein, cost, and net carbohydrate by composition. Sugar for yeast
counts as eaten.
"""

from __future__ import annotations

from itertools import combinations

from advisor.formula_design.first_draft import Draft, draft_of
from advisor.formula_design.limit_rows import limit_rows
from advisor.formula_design.request import StartRequest
from advisor.formula_design.style_fit import StyleFit
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.constraints import Constraints
from advisor.remedy.plan.programme import Programme, Row, solve_programme


def roomy(fit: StyleFit, request: StartRequest, knowledge: Knowledge) -> StyleFit | None:
    """The style as it is, or without as few wanted ingredients as leave room; `None` where there is none at all."""
    most = int(knowledge.coefficient("start_most_dropped"))
    may_go = [slot for slot in fit.slots if fit.may_go(slot)]
    for count in range(min(most, len(may_go)) + 1):
        for some in combinations(may_go, count):
            left = fit
            for slot in some:
                if not left.may_go(slot):
                    break
                left = left.without(slot)
            else:
                if has_room(draft_of(left, request, knowledge), request.limits, knowledge):
                    return left
    return None


def has_room(draft: Draft, limits: Constraints, knowledge: Knowledge) -> bool:
    """Whether any amounts keep the spreads, the mass and the limits."""
    slots, mass = draft.fit.slots, draft.mass
    p = draft.process
    pieces = (p.slices or 1) if p.pan_cups is None else p.pan_cups
    ones = (1.0,) * len(slots)
    rows = [
        Row(name="most", coefficients=ones, bound=mass.most),
        Row(name="least", coefficients=tuple(-v for v in ones), bound=-mass.least),
    ]
    for name, spread in draft.fit.shares.items():
        for bound, sign in ((spread.most, 1.0), (spread.least, -1.0)):
            slope = tuple(sign * ((1.0 if s.part == name else 0.0) - bound / 100) for s in slots)
            rows.append(Row(name=name, coefficients=slope, bound=0.0))
    rows += limit_rows(limits, slots, pieces, knowledge)
    highest = tuple(
        min(draft.share_bounds(s.part).most * mass.most / 100, s.most_g or float("inf")) for s in slots
    )
    programme = Programme(
        now=tuple(min(u, h) for u, h in zip(draft.usual, highest, strict=True)), scale=ones, weight=ones,
        lowest=(0.0,) * len(slots), highest=highest, step=(None,) * len(slots), rows=tuple(rows), penalty=1.0,
    )  # fmt: skip
    return solve_programme(programme) is not None
