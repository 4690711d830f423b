"""Bands as linear inequalities: ratios of linear forms multiplied out, the few others re-linearised.

A measure r = N / D with linear N and D lies under an edge where N - edge x D <= 0, which is linear in the grams and
exact. The gradient is taken by differences, which for a linear form is exact for any step; for what is no ratio
(gas, volume) D is the dough's mass or one, and the plan is made again from where it came to.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from advisor.diagnosis.examining import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.inference.bands import Edges
from advisor.models.measuring import Ground, lay_ground, measure
from advisor.remedy.programme import Row

_DENOMINATORS: Mapping[str, Callable[[Ground], float]] = {
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
    ground = lay_ground(formula, knowledge)
    work = measure(ground, weights, knowledge, with_bake=False, warmed_like=before.workings.warming)
    values = {n: v for n in PLANNED if (v := work.measures.value(n)) is not None}
    under = {n: of(ground) for n, of in _DENOMINATORS.items()} | dict.fromkeys(_PER_DOUGH, ground.dough.total)
    return Point(
        values=values,
        under={n: under.get(n, 1.0) for n in values},
        net_carb=work.measures.value("net_carb_per_slice") or 0.0,
        dough_g=ground.dough.total,
    )


def rows_at(
    here: Point,
    beside: Sequence[Point],
    steps: Sequence[float],
    x: Sequence[float],
    bands: Mapping[str, Edges],
    inside: float,
) -> list[Row]:
    """A soft row for each edge of each band, linear about the point `x`.

    `beside[i]` is the point where variable i is `steps[i]` more; `inside` is the share of half a band's width by which
    the plan keeps off an edge.
    """
    rows = []
    for name, edges in bands.items():
        if name not in here.values or any(name not in p.values for p in beside):
            continue
        for edge, sign in ((edges.high, 1.0), (edges.low, -1.0)):
            if edge is None:
                continue
            aim = edge - sign * inside * edges.half

            def gap(p: Point, aim: float = aim, sign: float = sign, name: str = name) -> float:
                return sign * p.under[name] * (p.values[name] - aim)

            at = gap(here)
            slope = tuple((gap(p) - at) / d for p, d in zip(beside, steps, strict=True))
            unit = max(here.under[name] * edges.half, 1e-9)
            bound = sum(s * v for s, v in zip(slope, x, strict=True)) - at
            rows.append(Row(name=name, coefficients=slope, bound=bound, unit=unit))
    return rows


def linear_row(
    name: str, values: Sequence[float], at: float, steps: Sequence[float], x: Sequence[float], most: float
) -> Row:
    """A hard row: a quantity, `at` here and `values[i]` beside, is to stay at or under `most`."""
    slope = tuple((v - at) / d for v, d in zip(values, steps, strict=True))
    return Row(
        name=name, coefficients=slope, bound=most - at + sum(s * v for s, v in zip(slope, x, strict=True))
    )
