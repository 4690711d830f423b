"""Which limit stands in the way: each is given up alone, by as little as can be, and the others are kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from advisor.diagnosis.pipeline import Examiner
from advisor.formula_design.amounts import AmountSolver
from advisor.formula_design.first_draft import draft_of
from advisor.formula_design.request import StartRequest
from advisor.formula_design.room import has_room
from advisor.formula_design.scoring import Scorer
from advisor.formula_design.searching import timed
from advisor.formula_design.style_fit import Lacking, StyleFit, fits_and_gaps
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.style_entries import Style
from advisor.remedy.constraints import LIMITS, Constraints, Limit, per_slice

AVOID, SLICES, AT_HAND = "avoid", "slices", "at_hand"
_HALVINGS = 8
_MOST_A_SLICE = 10_000.0
_MOST_MORE_SLICES = 1.5
"""Slices may be this much thinner; then they are no slices."""

_LESS_IN_THINNER = frozenset(limit.name for limit in LIMITS if limit.sign > 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """A limit that, given up alone, would let a formula be: what it is now, and what it would have to be."""

    limit: str
    """A limit of a slice (`net_carb_max`, `protein_min`, `cost_max` ...), `slices`, `at_hand` (g), or `avoid`."""
    asked: float | None
    needed: float | None
    what: str = ""
    """Of `avoid` and `at_hand`: the name of what would have to be let in, or of what there is too little."""
    style: Style
    beyond: bool = False
    """Whether no amounts of what is named reach it, the other limits aside; `needed` is then the utmost a slice."""


def what_stops(
    examiner: Examiner, request: StartRequest, fits: Sequence[StyleFit], gaps: Sequence[Lacking]
) -> tuple[Stop, ...]:
    """Give up one limit at a time; the style that needs least is told for each."""
    found: list[Stop] = []
    for limit in LIMITS:
        if getattr(request.limits, limit.name) is not None:
            stops = [s for fit in fits[:2] if (s := _given_up(examiner, request, fit, limit)) is not None]
            if stops:
                found.append(min(stops, key=_how_far))
    found += _smaller_slices(found, request)
    found += _more_of_it(examiner, request, fits)
    found += _let_in(request, gaps, examiner.knowledge)
    # Last, what no amounts reach by its arithmetic; before it, how far a limit must give for a loaf that passes.
    found += _beyond_all(request, fits, examiner.knowledge)
    return tuple(found)


def _beyond_all(request: StartRequest, fits: Sequence[StyleFit], knowledge: Knowledge) -> Iterator[Stop]:
    """Limits a slice that no style reaches by any amounts, each alone, with what the best of them reaches."""
    for limit in LIMITS:
        asked = getattr(request.limits, limit.name)
        if asked is None or not fits:
            continue
        utmost = [
            (value, fit) for fit in fits if (value := _utmost(fit, request, limit, knowledge)) is not None
        ]
        if len(utmost) < len(fits):
            continue
        best, fit = min(utmost, key=lambda one: limit.sign * one[0])
        if limit.sign * (best - asked) > 0:
            yield Stop(limit=limit.name, asked=asked, needed=best, style=fit.style, beyond=True)


def _utmost(fit: StyleFit, request: StartRequest, limit: Limit, knowledge: Knowledge) -> float | None:
    """Halve towards what a slice can have at the utmost by composition; `None` where the asked value is reached."""
    asked = float(getattr(request.limits, limit.name))
    draft = draft_of(fit, request, knowledge)

    def has(value: float) -> bool:
        alone = replace(Constraints(), **{limit.name: value})  # type: ignore[arg-type]  # one of its numbers
        return has_room(draft, alone, knowledge)

    if has(asked):
        return None
    far = asked
    within = 0.0 if limit.sign < 0 else asked
    while limit.sign > 0 and not has(within := 2 * within):
        if within > _MOST_A_SLICE:
            return within
    for _ in range(_HALVINGS):
        middle = (far + within) / 2
        if has(middle):
            within = middle
        else:
            far = middle
    return within


def _how_far(stop: Stop) -> float:
    return abs((stop.needed or 0.0) - (stop.asked or 0.0))


def _given_up(examiner: Examiner, request: StartRequest, fit: StyleFit, limit: Limit) -> Stop | None:
    """Halve the way from the limit to what the style has without it, until it is known where a loaf passes."""
    c = examiner.knowledge.coefficient
    draft = draft_of(fit, request, examiner.knowledge)
    solver = AmountSolver(examiner, draft)

    def reached(asked: float | None) -> float | None:
        """What a slice of the loaf made for this limit has; `None` where it is no loaf that passes a check."""
        limits = replace(request.limits, **{limit.name: asked})  # type: ignore[arg-type]  # one of its numbers
        if (solved := solver.solve(limits)) is None:
            return None
        scorer = Scorer(examiner, style=fit.style, limits=limits, mass=draft.mass)
        best = timed(scorer, scorer.full(solver.formula(solved)), fit.bake)
        risk = max((r.risk for r in best.look.diagnosis.risks.values()), default=0.0)
        if risk >= c("risk_limit") or best.look.no_all_clear:
            return None
        value: float | None = getattr(per_slice(best.look), limit.of)
        return value

    asked = getattr(request.limits, limit.name)
    needed = reached(None)
    if needed is None or limit.sign * (needed - asked) <= 0:
        return None
    near = asked
    for _ in range(int(c("start_given_up_halvings"))):
        middle = (near + needed) / 2
        if (value := reached(middle)) is None:
            near = middle
        else:
            needed = (min if limit.sign > 0 else max)(value, middle)
            if abs(needed - near) < 1e-9:
                break
    return Stop(limit=limit.name, asked=asked, needed=needed, style=fit.style)


def _smaller_slices(found: Sequence[Stop], request: StartRequest) -> Iterator[Stop]:
    """A limit a slice may be kept by cutting thinner ones, where nothing but carbohydrate or cost stops it."""
    for stop in found:
        if stop.limit in _LESS_IN_THINNER and request.slices and stop.asked and stop.needed:
            more = -(-request.slices * stop.needed // stop.asked)
            if more <= _MOST_MORE_SLICES * request.slices and request.limits.protein_min is None:
                yield Stop(limit=SLICES, asked=request.slices, needed=more, style=stop.style)
                return


def _more_of_it(examiner: Examiner, request: StartRequest, fits: Sequence[StyleFit]) -> Iterator[Stop]:
    """How much there would have to be of what there is too little of, for the size that is asked."""
    for wanted in request.wanted:
        if wanted.most_g is None or not fits:
            continue
        more = tuple(replace(w, most_g=None) if w is wanted else w for w in request.wanted)
        enough = replace(request, wanted=more)
        found, _ = fits_and_gaps(enough, examiner.knowledge)
        fit = next((f for f in found if f.style.id == fits[0].style.id), None)
        if fit is None:
            continue
        solver = AmountSolver(examiner, draft := draft_of(fit, enough, examiner.knowledge))
        if (solved := solver.solve(request.limits)) is None:
            continue
        scorer = Scorer(examiner, style=fit.style, limits=request.limits, mass=draft.mass)
        best = timed(scorer, scorer.full(solver.formula(solved)), fit.bake)
        needed = best.formula.grams_of(wanted.ingredient.id)
        if needed > wanted.most_g and not best.look.no_all_clear:
            what = wanted.ingredient.name
            yield Stop(limit=AT_HAND, asked=wanted.most_g, needed=needed, what=what, style=fit.style)


def _let_in(request: StartRequest, gaps: Sequence[Lacking], knowledge: Knowledge) -> Iterator[Stop]:
    """What is avoided and alone keeps a style from being: an allergen by its word, an ingredient by its name."""
    for avoided in sorted(request.limits.avoid):
        limits = replace(request.limits, avoid=request.limits.avoid - {avoided})
        fits, _ = fits_and_gaps(replace(request, limits=limits), knowledge)
        blocked = {gap.style.id for gap in gaps}
        for fit in fits:
            if fit.style.id in blocked:
                known = knowledge.ingredients.get(avoided)
                yield Stop(
                    limit=AVOID,
                    asked=None,
                    needed=None,
                    what=known.name if known else avoided,
                    style=fit.style,
                )
                break
