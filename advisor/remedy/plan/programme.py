"""A linear or mixed-integer programme with slack, solved by HiGHS: the one door to scipy's optimiser for plans."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

_ROUNDING_GAP = 0.01
"""Whole steps are within a hundredth of the best: the search for the last of it takes longer than all else in a plan.
Without whole numbers the optimum is exact."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """sum a_i x_i <= bound + slack x unit; `unit` is what one unit of slack is worth, `None` for a hard row."""

    name: str
    coefficients: tuple[float, ...]
    bound: float
    unit: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Programme:
    """Minimise sum w_i |x_i - now_i| / scale_i + penalty x slack, within bounds and rows.

    `step` holds for each variable the grid it must lie on (`None`: any value); x = step x a whole number.
    """

    now: tuple[float, ...]
    scale: tuple[float, ...]
    weight: tuple[float, ...]
    lowest: tuple[float, ...]
    highest: tuple[float, ...]
    step: tuple[float | None, ...]
    rows: tuple[Row, ...]
    penalty: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """Where the programme has its optimum: variables, objective, and the slack of each soft row by name."""

    x: tuple[float, ...]
    objective: float
    slack: dict[str, float]

    @property
    def unmet(self) -> tuple[str, ...]:
        """Soft rows that could not be met."""
        return tuple(name for name, value in self.slack.items() if value > 1e-6)


@dataclass(frozen=True, slots=True, kw_only=True)
class StandardForm:
    """minimise c z, A z <= b, lower <= z <= upper, z whole where `whole`; z = (up, down, whole numbers, slack)."""

    c: tuple[float, ...]
    a: tuple[tuple[float, ...], ...]
    b: tuple[float, ...]
    equal: tuple[tuple[float, ...], ...]
    equal_to: tuple[float, ...]
    lower: tuple[float, ...]
    upper: tuple[float, ...]
    whole: tuple[bool, ...]


def standard_form(p: Programme) -> StandardForm:
    """Write a programme in matrices: x = now + up - down, each over its scale; whole numbers tie x to its grid."""
    n = len(p.now)
    gridded = [i for i in range(n) if p.step[i] is not None]
    soft = [r for r in p.rows if r.unit is not None]
    width = 2 * n + len(gridded) + len(soft)
    a, b = [], []
    for row in p.rows:
        line = [0.0] * width
        for i, value in enumerate(row.coefficients):
            line[i], line[n + i] = value * p.scale[i], -value * p.scale[i]
        if row.unit is not None:
            line[2 * n + len(gridded) + soft.index(row)] = -row.unit
        # Rows are of very unlike size: each is brought to about one, or the solver's tolerance means nothing.
        size = max((abs(v) for v in line), default=0.0) or 1.0
        a.append(tuple(v / size for v in line))
        b.append((row.bound - sum(v * m for v, m in zip(row.coefficients, p.now, strict=True))) / size)
    equal, equal_to = [], []
    for place, i in enumerate(gridded):
        line = [0.0] * width
        step = p.step[i] or 1.0
        line[i], line[n + i], line[2 * n + place] = p.scale[i] / step, -p.scale[i] / step, -1.0
        equal.append(tuple(line))
        equal_to.append(-p.now[i] / step)
    ups = [max(p.highest[i] - p.now[i], 0.0) / p.scale[i] for i in range(n)]
    downs = [max(p.now[i] - p.lowest[i], 0.0) / p.scale[i] for i in range(n)]
    most = [p.highest[i] / (p.step[i] or 1.0) + 1 for i in gridded]
    return StandardForm(
        c=(*p.weight, *p.weight, *([0.0] * len(gridded)), *([p.penalty] * len(soft))),
        a=tuple(a),
        b=tuple(b),
        equal=tuple(equal),
        equal_to=tuple(equal_to),
        lower=(0.0,) * width,
        upper=(*ups, *downs, *most, *([float("inf")] * len(soft))),
        whole=(*([False] * (2 * n)), *([True] * len(gridded)), *([False] * len(soft))),
    )


def solve_programme(p: Programme) -> Solution | None:
    """Solve; `None` where the hard rows leave nothing. HiGHS through scipy.optimize.milp."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    form = standard_form(p)
    limits = []
    if form.a:
        limits.append(LinearConstraint(np.array(form.a), -np.inf, np.array(form.b)))
    if form.equal:
        limits.append(
            LinearConstraint(np.array(form.equal), np.array(form.equal_to), np.array(form.equal_to))
        )
    result = milp(
        np.array(form.c),
        constraints=limits,
        bounds=Bounds(np.array(form.lower), np.array(form.upper)),
        integrality=np.array(form.whole, dtype=int),
        options={"time_limit": 2.0, "mip_rel_gap": _ROUNDING_GAP},
    )
    if result.x is None:
        return None
    n = len(p.now)
    x = tuple(
        _on_grid(p.now[i] + p.scale[i] * float(result.x[i] - result.x[n + i]), p.step[i]) for i in range(n)
    )
    soft: Sequence[Row] = [r for r in p.rows if r.unit is not None]
    tail = result.x[len(result.x) - len(soft) :] if soft else []
    slack: dict[str, float] = {}
    for row, value in zip(soft, tail, strict=True):
        slack[row.name] = max(slack.get(row.name, 0.0), float(value))
    return Solution(x=x, objective=float(result.fun), slack=slack)


def _on_grid(value: float, step: float | None) -> float:
    return value if step is None else round(round(value / step) * step, 6)
