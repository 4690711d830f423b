"""Solving a joint plan: the programme of one formula, its rounding to kitchen units, and what to relax."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula, Line
from advisor.inference.bands import Edges
from advisor.knowledge_base.ingredient import Ingredient
from advisor.remedy.change import Change, kitchen_step
from advisor.remedy.constraints import Constraints
from advisor.remedy.levers.candidate import Candidate
from advisor.remedy.plan.linear_forms import PLANNED, Point, Tangent, point_of, tangent_at
from advisor.remedy.plan.programme import Programme, Row, Solution, solve_programme

CARB, MASS, MOST, ON_HAND, AVOID = (
    "net carbohydrate a slice", "mass of the dough", "largest change of one ingredient", "what is on hand",
    "what is to be avoided",
)  # fmt: skip
_ROUNDS = 4
_TRUE_WITHIN = 0.02
"""Share of half a band's width by which a tangent may be wrong before another is drawn; the plan keeps off an edge by
more (`joint_inside`)."""
_MOVED, _WORTH_WEIGHING = 0.005, 0.02
"""Shares of an amount from which it counts as moved, and from which moving it is worth a baker's while."""
_FIXED_ROLES = frozenset({"flavour"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A rounded plan, and the bands that the programme itself could not reach."""

    formula: Formula
    unmet: tuple[str, ...]


class Planner:
    """Holds what stays the same while one formula's plan is made."""

    def __init__(
        self, examiner: Examiner, before: Examination, limits: Constraints, weights: Mapping[str, float]
    ) -> None:
        self.examiner, self.before, self.limits, self.weights = examiner, before, limits, weights
        self.c = examiner.knowledge.coefficient
        judged = before.inference.judged
        table = examiner.kinds.of(before.workings.dough_state).bands
        self.bands: dict[str, Edges] = {
            n: e for n in PLANNED if n in judged and (e := table.edges(n, weights)) is not None
        }
        self._points: dict[tuple[tuple[float, ...], tuple[str, ...]], Point] = {}
        self._tangents: dict[tuple[str, ...], list[Tangent]] = {}
        """All that were drawn with these additions: each costs as many measured doughs as there are lines."""

    def planned(self) -> Made | None:
        """Solve, round to kitchen units, and give the formula."""
        found = self.solved(frozenset())
        if found is None:
            return None
        return Made(formula=self.rounded(*found), unmet=found[1].unmet)

    def outside_after(self, after: Examination) -> tuple[str, ...]:
        """Measures of the plan that the changed formula, inferred anew, has outside their bands."""
        judged = after.inference.judged
        return tuple(n for n in self.bands if n in judged and judged[n].state != "in")

    def outside_at_rest(self, formula: Formula) -> tuple[tuple[str, ...], Mapping[str, float]]:
        """Measures of the dough at rest that a plan leaves outside the bands of what it becomes, and what that is."""
        made = Candidate(formula, self.examiner, after_bake=self.before.after_bake)
        judged = made.judged_at_rest
        outside = tuple(n for n in self.bands if n in judged and judged[n].state != "in")
        return outside, made.structures

    def additions(self, relaxed: frozenset[str]) -> tuple[Ingredient, ...]:
        """What the levers of the likely causes would add, as far as the limits allow."""
        limits = self.limits
        if ON_HAND in relaxed:
            limits = replace(limits, on_hand=None)
        if AVOID in relaxed:
            limits = replace(limits, avoid=frozenset())
        floor = self.c("remedy_cause_from")
        likely = {r.id for r in self.before.diagnosis.causes if r.own >= floor}
        held = {x.ingredient.id for x in self.before.formula.lines}
        names = dict.fromkeys(
            lever.turn.add
            for lever in self.examiner.knowledge.levers.values()
            if lever.for_ in likely and lever.turn.add and lever.turn.add not in held
        )
        known = [self.examiner.knowledge.ingredients[n] for n in names if n]
        yeasted = any("yeast" in line.ingredient.roles for line in self.before.formula.lines)
        # Yeast needs a proof, which amounts do not give.
        return tuple(i for i in known if limits.refuses(i) is None and (yeasted or "yeast" not in i.roles))

    def point(self, x: Sequence[float], added: Sequence[Ingredient]) -> Point:
        """Measure the formula of these amounts with the structure held."""
        key = (tuple(x), tuple(ingredient.id for ingredient in added))
        if key not in self._points:
            formula = self.formula_of(x, added)
            self._points[key] = point_of(self.examiner, self.before, formula, self.weights)
        return self._points[key]

    def outside(self, point: Point) -> tuple[str, ...]:
        """Measures that lie outside the bands of the structure held."""
        return tuple(
            n
            for n, e in self.bands.items()
            if n in point.values
            and (
                (e.low is not None and point.values[n] < e.low - 1e-9)
                or (e.high is not None and point.values[n] > e.high + 1e-9)
            )
        )

    def formula_of(self, x: Sequence[float], added: Sequence[Ingredient]) -> Formula:
        """Give the formula with these grams of its lines, then of what is added."""
        lines: list[Line] = []
        for line, grams in zip(self.before.formula.lines, x, strict=False):
            if grams > 1e-9:
                counted = round(grams / (line.grams / line.counted)) if line.counted else None
                lines.append(replace(line, grams=grams, counted=counted or None))
        number = max((x.number for x in self.before.formula.lines), default=0)
        for place, (ingredient, grams) in enumerate(
            zip(added, x[len(self.before.formula.lines) :], strict=True), 1
        ):
            if grams > 1e-9:
                text = f"{grams:g} g {ingredient.name}"
                lines.append(Line(text=text, number=number + place, ingredient=ingredient, grams=grams))
        return self.before.formula.with_lines(tuple(lines))

    def solved(self, relaxed: frozenset[str]) -> tuple[tuple[Ingredient, ...], Solution, Programme] | None:
        """Solve the continuous plan, from the dough as it is and again from where it came to."""
        added = self.additions(relaxed)
        x = [line.grams for line in self.before.formula.lines] + [0.0] * len(added)
        solution = programme = told_by = None
        for _ in range(_ROUNDS):
            tangent = self._tangent(x, added)
            if programme is not None and tangent is told_by:
                break  # what was solved holds where it came to
            told_by = tangent
            programme = self.programme(x, added, relaxed)
            solution = solve_programme(programme)
            if solution is None:
                return None
            x = list(solution.x)
        if solution is None or programme is None:
            return None
        return added, solution, programme

    def programme(
        self,
        x: Sequence[float],
        added: Sequence[Ingredient],
        relaxed: frozenset[str],
        steps: Sequence[float | None] = (),
    ) -> Programme:
        """The linear programme about the amounts `x`."""
        lines = self.before.formula.lines
        now = [line.grams for line in lines] + [0.0] * len(added)
        dough = self.before.formula.dough_g
        tangent = self._tangent(x, added)
        rows: list[Row] = list(tangent.rows)
        if self.limits.net_carb_max is not None and CARB not in relaxed:
            rows.append(tangent.carb_row(CARB, max(self.limits.net_carb_max, 0.0)))
        if MASS not in relaxed:
            share = self.c("joint_mass_share")
            rows += tangent.mass_rows(MASS, dough * (1 - share), dough * (1 + share))
        # Without that limit a tenth still stays: a dough of nothing has no measures.
        up, down = (100.0, 0.9) if MOST in relaxed else (self.c("joint_most_up"), self.c("joint_most_down"))
        fixed = [bool(_FIXED_ROLES & set(line.ingredient.roles)) for line in lines]
        most_added = self.c("joint_added_share") * dough
        lowest = [m if f else m * (1 - down) for m, f in zip(now, fixed, strict=False)] + [0.0] * len(added)
        highest = [m if f else m * (1 + up) for m, f in zip(now, fixed, strict=False)] + [most_added] * len(
            added
        )
        return Programme(
            now=tuple(now),
            scale=(*(max(line.grams, 1.0) for line in lines), *([0.03 * dough] * len(added))),
            weight=(*([1.0] * len(lines)), *([self.c("joint_added_weight")] * len(added))),
            lowest=tuple(lowest),
            highest=tuple(highest),
            step=tuple(steps) or (None,) * len(now),
            rows=tuple(rows),
            penalty=self.c("joint_penalty"),
        )

    def _tangent(self, x: Sequence[float], added: Sequence[Ingredient]) -> Tangent:
        """Give a tangent that tells the truth at `x`: one that is there, else a new one drawn there."""
        drawn = self._tangents.setdefault(tuple(ingredient.id for ingredient in added), [])
        here = self.point(x, added)
        for tangent in reversed(drawn):
            if tangent.fits(here, x, _TRUE_WITHIN):
                return tangent
        dough = self.before.formula.dough_g
        now = [line.grams for line in self.before.formula.lines] + [0.0] * len(added)
        deltas = [max(0.01 * m, 0.002 * dough) for m in now]
        beside = [
            self.point([v + (deltas[i] if i == j else 0.0) for j, v in enumerate(x)], added)
            for i in range(len(x))
        ]
        drawn.append(tangent_at(here, beside, deltas, x, self.bands, self.c("joint_inside")))
        return drawn[-1]

    def rounded(self, added: tuple[Ingredient, ...], solution: Solution, programme: Programme) -> Formula:
        """Solve again over the amounts that the plan moves, in kitchen units, until the true measures agree.

        Nobody weighs 3 g off 315 g of water: amounts that move by little stay, where the plan holds without them.
        """
        allowed = frozenset(self.outside(self.point(solution.x, added)))
        x: Sequence[float] = solution.x
        for least, rounds in ((_WORTH_WEIGHING, 1), (_MOVED, _ROUNDS)):
            x = self._in_kitchen_units(added, solution, programme, least, rounds, allowed)
            if allowed.issuperset(self.outside(self.point(x, added))):
                break
        return self.formula_of(x, added)

    def _in_kitchen_units(
        self,
        added: tuple[Ingredient, ...],
        solution: Solution,
        programme: Programme,
        least: float,
        rounds: int,
        allowed: frozenset[str],
    ) -> Sequence[float]:
        lines = self.before.formula.lines
        moved = [abs(a - b) > least * max(b, 1.0) for a, b in zip(solution.x, programme.now, strict=True)]
        steps: list[float | None] = []
        for place, value in enumerate(solution.x):
            line = lines[place] if place < len(lines) else None
            if line is not None and line.counted:
                steps.append(line.grams / line.counted)
            else:
                steps.append(kitchen_step(max(value, programme.now[place])) if moved[place] else None)
        x: Sequence[float] = solution.x
        for _ in range(rounds):
            fresh = self.programme(x, added, frozenset(), steps)
            still = [m or s is not None for m, s in zip(moved, steps, strict=True)]
            held = replace(
                fresh,
                lowest=tuple(lo if m else n for lo, n, m in zip(fresh.lowest, fresh.now, still, strict=True)),
                highest=tuple(
                    hi if m else n for hi, n, m in zip(fresh.highest, fresh.now, still, strict=True)
                ),
            )
            found = solve_programme(held)
            if found is None:
                break
            x = found.x
            if rounds == 1 or allowed.issuperset(self.outside(self.point(x, added))):
                break
            self._tangents.clear()  # near enough was not enough here
        return x

    def smallest_relaxation(self) -> tuple[str, ...]:
        """Name the smallest set of limits without which every band is reached; none where no set is enough."""
        present = [MASS, MOST]
        if self.limits.net_carb_max is not None:
            present.append(CARB)
        if self.limits.on_hand is not None:
            present.append(ON_HAND)
        if self.limits.avoid:
            present.append(AVOID)
        for size in range(1, len(present) + 1):
            for some in combinations(present, size):
                found = self.solved(frozenset(some))
                if found is not None and not found[1].unmet:
                    return some
        return ()

    def changes(self, formula: Formula) -> tuple[Change, ...]:
        """Say line by line what the plan changes."""
        was, now = _by_place(self.before.formula), _by_place(formula)
        out = []
        for place in (*was, *(n for n in now if n not in was)):
            a, b = was.get(place), now.get(place)
            line = a or b
            if line is None or (a and b and abs(a.grams - b.grams) < 1e-6):
                continue
            out.append(
                Change(
                    what=line.ingredient.name, unit="g", before=a.grams if a else 0.0, after=b.grams if b else 0.0,
                    count_before=a.counted if a else None, count_after=b.counted if b and a and a.counted else None,
                )
            )  # fmt: skip
        return tuple(out)


def _by_place(formula: Formula) -> dict[tuple[int, str, int], Line]:
    """Lines by number and ingredient: one line of a text may hold several ingredients, and one of them twice."""
    out: dict[tuple[int, str, int], Line] = {}
    for line in formula.lines:
        same = sum(key[:2] == (line.number, line.ingredient.id) for key in out)
        out[line.number, line.ingredient.id, same] = line
    return out
