"""Bands as linear inequalities: ratios of linear forms multiplied out, the few others re-linearised.

A measure r = N / D with linear N and D lies under an edge where N - edge x D <= 0, which is linear in the grams and
exact. The gradient is taken by differences, which for a linear form is exact for any step; for what is no ratio
(gas, volume) D is the dough's mass or one, and the plan is made again from where it came to.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.inference.bands import Edges
from advisor.models.measuring import DoughState, dough_state_of, values_of_amounts
from advisor.remedy.plan.programme import Row

_DENOMINATORS: Mapping[str, Callable[[DoughState], float]] = {
    "mixing_hydration": lambda g: g.water.absorption,
    "baked_water_load": lambda g: g.water.holding,
    "setting_protein_pct": lambda g: g.frame.setting + g.frame.water_for_protein,
    "filler_ratio": lambda g: g.frame.binder,
    "fat_ratio": lambda g: g.frame.binder,
    "gum_load": lambda g: g.water.available,
    "salt_per_100g_water": lambda g: g.dough.water,
    "whey_share": lambda g: g.frame.carrying,
    "casein_share": lambda g: g.frame.total,
    "collagen_share": lambda g: g.frame.total,
    "gluten_pct_of_dry": lambda g: g.dry_base,
    "psyllium_pct_of_dry": lambda g: g.dry_base,
}
_PER_DOUGH = frozenset(
    {
        "co2_total",
        "co2_chemical",
        "residual_soda_meq",
        "residual_acid_meq",
        "specific_volume",
        "yeast_pct_of_dry",
        "salt_pct",
    }
)
PLANNED = (*_DENOMINATORS, *sorted(_PER_DOUGH), "early_gas_share", "late_gas_share", "proof_rise", "pan_fill")
"""Measures that amounts can move; those of time and oven are no matter of a joint plan of amounts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """Measures of one formula with their denominators, and its net carbohydrate a slice."""

    values: Mapping[str, float]
    under: Mapping[str, float]
    net_carb: float
    dough_g: float


def point_of(
    examiner: Examiner, before: Examination, formula: Formula, weights: Mapping[str, float]
) -> Point:
    """Measure a formula with a structure that is held (`weights`) and the warming of the loaf before the plan."""
    knowledge = examiner.knowledge
    dough_state = dough_state_of(formula, knowledge)
    told = values_of_amounts(dough_state, knowledge, before.workings.warming)
    values = {n: v for n in PLANNED if (v := told.get(n)) is not None and knowledge.measures[n].allows(v)}
    under = {n: of(dough_state) for n, of in _DENOMINATORS.items()} | dict.fromkeys(
        _PER_DOUGH, dough_state.dough.total
    )
    return Point(
        values=values,
        under={n: under.get(n, 1.0) for n in values},
        net_carb=told["net_carb_per_slice"] or 0.0,
        dough_g=dough_state.dough.total,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Edge:
    """One edge of a band: measure, the value aimed at, and the side (1: at most, -1: at least)."""

    name: str
    aim: float
    sign: float

    def gap(self, point: Point) -> float:
        """How far a point is beyond the edge, multiplied out; zero and less is within."""
        return self.sign * point.under[self.name] * (point.values[self.name] - self.aim)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tangent:
    """Bands, net carbohydrate and mass as linear forms about the amounts `x`; a soft row for each edge of each band."""

    x: tuple[float, ...]
    here: Point
    rows: tuple[Row, ...]
    edges: tuple[_Edge, ...]
    """Of the rows, in their order."""
    carb: tuple[float, ...]
    mass: tuple[float, ...]
    """Net carbohydrate a slice, and mass of the dough, g per g of each variable."""

    def carb_row(self, name: str, most: float) -> Row:
        """Keep net carbohydrate a slice at or under `most`, g."""
        return self._hard(name, self.carb, self.here.net_carb, most)

    def mass_rows(self, name: str, least: float, most: float) -> tuple[Row, Row]:
        """Keep the mass of the dough between two limits, g."""
        less = tuple(-g for g in self.mass)
        return (
            self._hard(name, self.mass, self.here.dough_g, most),
            self._hard(name, less, -self.here.dough_g, -least),
        )

    def _hard(self, name: str, slope: tuple[float, ...], at: float, most: float) -> Row:
        bound = most - at + sum(s * v for s, v in zip(slope, self.x, strict=True))
        return Row(name=name, coefficients=slope, bound=bound)

    def fits(self, point: Point, x: Sequence[float], within: float) -> bool:
        """Whether it still tells the truth at other amounts: every gap to `within` of half a band's width."""
        for row, edge in zip(self.rows, self.edges, strict=True):
            if edge.name not in point.values:
                return False
            told = sum(a * v for a, v in zip(row.coefficients, x, strict=True)) - row.bound
            if abs(told - edge.gap(point)) > within * (row.unit or 1.0):
                return False
        return True


def tangent_at(
    here: Point,
    beside: Sequence[Point],
    steps: Sequence[float],
    x: Sequence[float],
    bands: Mapping[str, Edges],
    inside: float,
) -> Tangent:
    """Draw the tangent at `x` by differences.

    `beside[i]` is the point where variable i is `steps[i]` more; `inside` is the share of half a band's width by which
    the plan keeps off an edge.
    """
    rows, kept = [], []
    for name, edges in bands.items():
        if name not in here.values or any(name not in p.values for p in beside):
            continue
        for value, sign in ((edges.high, 1.0), (edges.low, -1.0)):
            if value is None:
                continue
            edge = _Edge(name=name, aim=value - sign * inside * edges.half, sign=sign)
            at = edge.gap(here)
            slope = tuple((edge.gap(p) - at) / d for p, d in zip(beside, steps, strict=True))
            unit = max(here.under[name] * edges.half, 1e-9)
            bound = sum(s * v for s, v in zip(slope, x, strict=True)) - at
            rows.append(Row(name=name, coefficients=slope, bound=bound, unit=unit))
            kept.append(edge)
    return Tangent(
        x=tuple(x),
        here=here,
        rows=tuple(rows),
        edges=tuple(kept),
        carb=tuple((p.net_carb - here.net_carb) / d for p, d in zip(beside, steps, strict=True)),
        mass=tuple((p.dough_g - here.dough_g) / d for p, d in zip(beside, steps, strict=True)),
    )
