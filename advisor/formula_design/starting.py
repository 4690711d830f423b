"""First formulas for what is asked: several unlike ones, each looked at as a check looks, or what stands in the way."""

from __future__ import annotations

from dataclasses import dataclass, replace

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.formula.writing.as_text import write_formula_text
from advisor.formula_design.amounts import AmountSolver
from advisor.formula_design.bakers import BakersTable
from advisor.formula_design.bakers_way import AS_BAKERS
from advisor.formula_design.dough_parts import DoughParts
from advisor.formula_design.first_draft import Draft, draft_of, in_kitchen_amounts
from advisor.formula_design.kitchen_amounts import without_drops
from advisor.formula_design.plausibility import Plausibility, plausibility_of
from advisor.formula_design.request import StartRequest
from advisor.formula_design.room import has_room, roomy
from advisor.formula_design.scoring import Scored, Scorer
from advisor.formula_design.searching import searched, timed
from advisor.formula_design.stopped_by import Stop, what_stops
from advisor.formula_design.style_fit import Lacking, StyleFit, fits_and_gaps
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.style_entries import Style
from advisor.remedy.constraints import LIMITS, PerSlice, per_slice

_WIDER = (1.0, 2.0, 3.5)
_ROUNDS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class FromCupboard:
    """An ingredient that nobody asked for and the bread needs: how much [g], and what it is there for."""

    ingredient: Ingredient
    grams: float
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstFormula:
    """One answer: the formula and its card, how it was looked at, and what it trades."""

    formula: Formula
    card: str
    """The formula as text; it reads back as the same formula."""
    style: str
    made: Style
    """The way of making it; written, or that of the nearest bakers."""
    carried_by: str
    leavening: str
    look: Examination
    score: float
    usual: Plausibility
    slice: PerSlice
    from_cupboard: tuple[FromCupboard, ...]
    left_out: tuple[Ingredient, ...]
    passes: bool
    """Whether a check of it, with the same limits, would let it pass."""
    passed: tuple[str, ...]
    """Limits that it does not keep."""

    def __repr__(self) -> str:
        """Say it in a line."""
        return f"<first formula {self.formula.name[:120]!r}: {'passes' if self.passes else 'does not pass'} a check>"

    @property
    def volume(self) -> float | None:
        """How far it rises, mL per g of dough; `None` where its kind is not judged by that."""
        return self.look.inference.judged["specific_volume"].value if self._rises else None

    @property
    def _rises(self) -> bool:
        return "specific_volume" in self.look.inference.judged

    @property
    def worst(self) -> tuple[str, float]:
        """The symptom that is likeliest before the bake, and its risk (0..1)."""
        risks = self.look.diagnosis.risks
        name = max(risks, key=lambda s: (risks[s].risk, s))
        return name, risks[name].risk


@dataclass(frozen=True, slots=True, kw_only=True)
class StartAnswer:
    """What `start` gives: formulas, the best first; what one thing more would allow; or what stops it."""

    request: StartRequest
    formulas: tuple[FirstFormula, ...]
    lacking: tuple[Lacking, ...]
    """Ways of making it that one ingredient more would allow."""
    stops: tuple[Stop, ...] = ()
    """Where no formula keeps the limits: those out of reach; else each given up alone, and how far it must give."""
    fitting: tuple[str, ...] = ()
    """Ids of the styles that what is named makes, the limits aside."""


def first_formulas(examiner: Examiner, request: StartRequest, *, region: str = "us") -> StartAnswer:
    """Write first formulas: a programme for the start of each style, then a search on the real models.

    Where a limit leaves no room, `stops` says for each limit alone how far it would have to give.
    """
    knowledge = examiner.knowledge
    c = knowledge.coefficient
    fits, gaps = fits_and_gaps(request, knowledge)
    bakers = BakersTable(knowledge).fit(request) if request.like is None else None
    followed = _by_likeness(fits, request, knowledge)
    made = [_Started(examiner, fit, request) for fit in ((bakers,) if bakers else ()) + followed]
    able = sorted(
        (one for one in made if one.drafted is not None), key=lambda one: (not one.as_bakers, one.rank())
    )
    chosen: list[FirstFormula] = []
    tried: set[tuple[str, str]] = set()
    for one in able:
        alike = (one.style.carried_by, one.style.leavening)
        if alike in tried or len(tried) >= int(c("start_answers")):
            continue
        found = one.finished(region)
        if found.passes or not one.as_bakers:
            tried.add(alike)
        chosen.append(found)
    good = [f for f in chosen if not f.passed]
    good.sort(key=lambda f: (not f.passes, f.style != AS_BAKERS, f.score))
    # One that no check lets pass is shown only where none is that passes.
    passing = [f for f in good if f.passes]
    # Nor one outside what good formulas hold, where another is inside.
    shown = [f for f in passing if f.style == AS_BAKERS or not f.usual.outside] or passing[:1] or good[:1]
    one_more = tuple(gap for gap in gaps if len(gap.parts) == 1)
    if not fits and bakers is not None:
        fits = (bakers,)
    stops = () if any(f.passes for f in shown) else what_stops(examiner, request, fits, gaps)
    return StartAnswer(
        request=request,
        formulas=tuple(shown),
        lacking=one_more or gaps[:3],
        stops=stops,
        fitting=tuple(fit.style.id for fit in fits),
    )


class _Started:
    """One style on its way: drafted and baked once, so that the better ones can be followed further."""

    def __init__(self, examiner: Examiner, fit: StyleFit, request: StartRequest) -> None:
        self.examiner, self.request = examiner, request
        self.drafted: Scored | None = None
        knowledge = examiner.knowledge
        self.as_bakers, self.kept = bool(fit.amounts), False
        left = self._with_room(fit)
        self.fit = left or fit
        if left is None:
            return
        self.draft: Draft = draft_of(left, request, knowledge)
        at_most = {s.ingredient.id: s.most_g for s in left.slots if s.most_g is not None}
        self.scorer = Scorer(
            examiner, style=self.style, limits=request.limits, mass=self.draft.mass, at_most=at_most
        )
        if self.as_bakers:
            plain = self._as_weighed()
            if (share := self._smaller(plain)) < 1:
                # Before anything is changed, the pieces are made smaller.
                fewer, mass = (share * u for u in self.draft.usual), self.draft.mass.times(share)
                self.draft = replace(self.draft, usual=tuple(fewer), mass=mass)
                self.scorer.mass = mass
                plain = self._as_weighed()
            # What bakers make is not moved about where a check lets it pass; else as little as helps.
            self.drafted, self.kept = plain, True
            most_far = knowledge.coefficient("start_farthest")
            if not self._is_sound(plain) or self._far_out(plain):
                mended = (searched(self.scorer, plain, left.bake, rounds=_ROUNDS), self._solved())
                sound = [
                    m for m in mended if m is not None and self._is_sound(m) and self._far(m) <= most_far
                ]
                self.drafted = min(sound, key=self._far, default=plain)
            return
        self.drafted = self._solved()

    def _solved(self) -> Scored | None:
        """Solve the amounts and bake them as long as their core asks for."""
        solver = AmountSolver(self.examiner, self.draft)
        solved = solver.solve(self.request.limits)
        if solved is None:
            return None
        return timed(self.scorer, self.scorer.full(solver.formula(solved)), self.fit.bake)

    def _with_room(self, fit: StyleFit) -> StyleFit | None:
        """The fit with what has room within the limits; what bakers made is widened before anything stays out."""
        knowledge, limits = self.examiner.knowledge, self.request.limits
        for factor in _WIDER if fit.amounts else ():
            wider = fit.widened(factor)
            if has_room(draft_of(wider, self.request, knowledge), limits, knowledge):
                return wider
        return roomy(fit, self.request, knowledge)

    def _as_weighed(self) -> Scored:
        """The usual amounts as a baker weighs them, baked as long as their core asks for."""
        grams = in_kitchen_amounts(self.draft, self.examiner.knowledge)
        return timed(self.scorer, self.scorer.full(self.draft.formula(grams)), self.fit.bake)

    def _smaller(self, found: Scored) -> float:
        """Share (0..1) of the dough with which a slice keeps the limits that it passes; 1 where that is too little."""
        over = self.request.limits.passed(per_slice(found.look))
        if not over or any(limit.sign < 0 for limit in LIMITS if limit.name in over):
            return 1.0
        c = self.examiner.knowledge.coefficient
        share = (1 - c("start_limit_inside")) / (1 + max(over.values()))
        return share if share >= c("start_smallest") else 1.0

    def _far_out(self, found: Scored) -> bool:
        """Whether a measure lies past its band by nearly a full step, though no check would stop for it."""
        full = self.examiner.knowledge.coefficient("start_excess_kept")
        return any(j.state != "in" and j.excess > full for j in found.look.inference.judged.values())

    def _far(self, found: Scored) -> float:
        """How far it has gone from what bakers make."""
        return found.usual.distance if found.usual is not None else 0.0

    def _is_sound(self, found: Scored) -> bool:
        """Whether a check lets it pass, with its limits kept."""
        formula, look = found.formula, found.look
        over = (*self.request.limits.passed(per_slice(look)), *self.scorer.more_than_there_is(formula))
        worst = max((r.risk for r in look.diagnosis.risks.values()), default=0.0)
        return (
            not over and not look.no_all_clear and worst < self.examiner.knowledge.coefficient("risk_limit")
        )

    @property
    def style(self) -> Style:
        """The way of making it."""
        return self.fit.style

    def rank(self) -> float:
        """What it is worth before it is followed further; the less, the better."""
        assert self.drafted is not None
        return self.drafted.score + self.not_as_asked

    @property
    def not_as_asked(self) -> float:
        """What leaving out a wish counts for, and what was named first being only one thing among others."""
        c = self.examiner.knowledge.coefficient
        beside = 0.0 if self.fit.carried_by_the_first else c("start_first_named_weight")
        return c("start_left_out_weight") * len(self.fit.left_out) + beside

    def finished(self, region: str) -> FirstFormula:
        """Follow it to the end, write it as a card, read the card, and look at what was read."""
        assert self.drafted is not None
        best = self.drafted if self.kept else searched(self.scorer, self.drafted, self.fit.bake)
        best = self.scorer.full(without_drops(best.formula, self.examiner.knowledge))
        knowledge = self.examiner.knowledge
        card = write_formula_text(replace(best.formula, source_text=""))
        formula = read_formula_text(card, knowledge, region=region)
        look = self.examiner.examine(formula, after_bake=False)
        one = per_slice(look)
        passed = (*self.request.limits.passed(one), *self.scorer.more_than_there_is(formula))
        risks = look.diagnosis.risks
        worst = max((r.risk for r in risks.values()), default=0.0)
        usual = plausibility_of(formula.lines, self.style, DoughParts(knowledge), knowledge)
        cupboard = {s.ingredient.id: s for s in self.fit.slots if s.pantry}
        return FirstFormula(
            formula=formula,
            card=card,
            style=self.style.id,
            made=self.fit.style,
            carried_by=self.style.carried_by,
            leavening=self.style.leavening,
            look=look,
            score=best.score + self.not_as_asked,
            usual=usual,
            slice=one,
            from_cupboard=tuple(
                FromCupboard(
                    ingredient=x.ingredient, grams=x.grams, because=cupboard[x.ingredient.id].because
                )
                for x in formula.lines
                if x.ingredient.id in cupboard
            ),
            left_out=self._left_out(formula),
            passes=not passed and not look.no_all_clear and worst < knowledge.coefficient("risk_limit"),
            passed=passed,
        )

    def _left_out(self, formula: Formula) -> tuple[Ingredient, ...]:
        held = {x.ingredient.id for x in formula.lines}
        return tuple(w.ingredient for w in self.request.wanted if w.ingredient.id not in held)


def _by_likeness(
    fits: tuple[StyleFit, ...], request: StartRequest, knowledge: Knowledge
) -> tuple[StyleFit, ...]:
    """Of all that fits, what uses most of what is at hand; like a formula, what is nearest to it first."""
    most = int(knowledge.coefficient("start_tried"))
    if request.like is None:
        return fits[:most]
    parts, lines = DoughParts(knowledge), request.like.lines
    near = {f.style.id: plausibility_of(lines, f.style, parts, knowledge).distance for f in fits}
    return tuple(sorted(fits, key=lambda f: near[f.style.id]))[:most]
