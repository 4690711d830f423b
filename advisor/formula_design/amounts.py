"""Amounts of a style by a linear programme over measures and bands, first in grams, then as a baker weighs them.

Variables are the grams of the slots. Hard rows hold the mass of the dough, the spread of every part and the limits;
the edges of the bands are soft rows, linear about the amounts and drawn anew where they lead (`linear_forms`). What is
least is the summed distance from the usual amounts, each over half the spread of its part.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.formula_design.first_draft import Draft
from advisor.formula_design.kitchen_amounts import baker_step, nearest_amount
from advisor.formula_design.limit_rows import limit_rows
from advisor.formula_design.style_fit import counted_at
from advisor.inference.bands import Edges
from advisor.remedy.constraints import Constraints
from advisor.remedy.plan.linear_forms import PLANNED, Point, Tangent, point_of, tangent_at
from advisor.remedy.plan.programme import Programme, Row, Solution, solve_programme

CARB = "net_carb_max"
_ROUNDS = 3
_TRUE_WITHIN = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """Amounts in grams, in the order of the slots, and what the programme made of them."""

    grams: tuple[float, ...]
    objective: float


class AmountSolver:
    """Solves the amounts of one draft; what costs time is kept between rounds and limits."""

    def __init__(self, examiner: Examiner, draft: Draft) -> None:
        self.examiner, self.draft = examiner, draft
        self.c = examiner.knowledge.coefficient
        self.look: Examination = examiner.examine(draft.formula(draft.usual), after_bake=False, ranked=False)
        table = examiner.kinds.of(self.look.workings.dough_state).bands
        judged, self.weights = self.look.inference.judged, self.look.inference.structures
        self.bands: dict[str, Edges] = {
            n: e for n in PLANNED if n in judged and (e := table.edges(n, self.weights)) is not None
        }
        self._tangents: list[Tangent] = []
        p = draft.process
        self.pieces = (p.slices or 1) if p.pan_cups is None else p.pan_cups

    def solve(self, limits: Constraints) -> Solved | None:
        """Solve in grams and then in a baker's steps; `None` where the hard rows leave nothing."""
        x: Sequence[float] = self.draft.usual
        found: Solution | None = None
        told_by = None
        for _ in range(_ROUNDS):
            tangent = self._tangent(x)
            if tangent is told_by:
                break
            told_by = tangent
            found = solve_programme(self._programme(x, limits, ()))
            if found is None:
                return None
            x = found.x
        assert found is not None
        steps = self._steps(x)
        weighed = solve_programme(self._programme(x, limits, steps))
        # Where no whole eggs keep every row the nearest ones are taken, and the look at the loaf says what they cost.
        weighed = weighed or found
        x = [
            nearest_amount(v, counted_at(slot, v), self.examiner.knowledge)
            for v, slot in zip(weighed.x, self.draft.fit.slots, strict=True)
        ]
        return Solved(grams=tuple(x), objective=weighed.objective)

    def formula(self, solved: Solved) -> Formula:
        """The formula of solved amounts."""
        return self.draft.formula(solved.grams)

    def _steps(self, x: Sequence[float]) -> tuple[float | None, ...]:
        knowledge = self.examiner.knowledge
        return tuple(
            counted_at(slot, grams) or baker_step(grams, knowledge)
            for slot, grams in zip(self.draft.fit.slots, x, strict=True)
        )

    def _programme(self, x: Sequence[float], limits: Constraints, steps: Sequence[float | None]) -> Programme:
        draft, slots = self.draft, self.draft.fit.slots
        tangent = self._tangent(x)
        mass = draft.mass
        rows: list[Row] = list(tangent.rows)
        rows += tangent.mass_rows("mass", mass.least, mass.most)
        rows += self._part_rows(loosened=bool(steps))
        rows += self._limit_rows(tangent, limits)
        highest, lowest, scale = [], [], []
        for slot in slots:
            spread = draft.share_bounds(slot.part)
            same = sum(s.part == slot.part for s in slots)
            scale.append(max(spread.half * mass.usual / 100 / same, 0.5))
            # One of several that share a part has its worth in it, or it would not be there.
            least = self.c("start_least_of_part") * spread.least if same > 1 else 0.0
            lowest.append(least * mass.least / 100)
            most = spread.most * mass.most / 100
            highest.append(most if slot.most_g is None else min(most, slot.most_g))
        return Programme(
            now=tuple(min(u, h) for u, h in zip(draft.usual, highest, strict=True)),
            scale=tuple(scale),
            weight=(1.0,) * len(slots),
            lowest=tuple(min(a, b) for a, b in zip(lowest, highest, strict=True)),
            highest=tuple(highest),
            step=tuple(steps) or (None,) * len(slots),
            rows=tuple(rows),
            penalty=self.c("joint_penalty"),
        )

    def _part_rows(self, *, loosened: bool) -> list[Row]:
        """Hold the share of every part: sum of its grams - bound x mass / 100 on the right side of zero.

        Whole eggs and steps of half a gram cannot meet every edge: then it gives by a part of the spread.
        """
        rows = []
        slots = self.draft.fit.slots
        for name, spread in self.draft.fit.shares.items():
            give = self.c("start_rounding_slack") * spread.half if loosened else 0.0
            for bound, sign in ((spread.most + give, 1.0), (spread.least - give, -1.0)):
                slope = tuple(sign * ((1.0 if s.part == name else 0.0) - bound / 100) for s in slots)
                rows.append(Row(name=f"{name} {sign:+.0f}", coefficients=slope, bound=0.0))
        return rows

    def _limit_rows(self, tangent: Tangent, limits: Constraints) -> list[Row]:
        rows = []
        n = self.pieces
        if limits.net_carb_max is not None:
            # A little inside: yeast eats what the line does not know to the last tenth.
            rows.append(tangent.carb_row(CARB, limits.net_carb_max * (1 - self.c("start_limit_inside"))))
        rows += limit_rows(limits, self.draft.fit.slots, n, self.examiner.knowledge, but=CARB)
        return rows

    def _point(self, x: Sequence[float]) -> Point:
        return point_of(self.examiner, self.look, self.draft.formula(x), self.weights)

    def _tangent(self, x: Sequence[float]) -> Tangent:
        here = self._point(x)
        for tangent in reversed(self._tangents):
            if tangent.fits(here, x, _TRUE_WITHIN):
                return tangent
        deltas = [max(0.01 * v, 0.002 * self.draft.mass.usual) for v in x]
        beside = [
            self._point([v + (deltas[i] if i == j else 0.0) for j, v in enumerate(x)]) for i in range(len(x))
        ]
        self._tangents.append(tangent_at(here, beside, deltas, x, self.bands, self.c("joint_inside")))
        return self._tangents[-1]
