"""A linear or mixed-integer programme with slack, solved by HiGHS: the one door to the optimiser for plans."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import highspy

_ROUNDING_GAP = 0.01
"""Whole steps are within a hundredth of the best: the search for the last of it takes longer than all else in a plan.
Without whole numbers the optimum is exact."""
_LONGEST_S = 2.0
"""A plan that takes longer is not worth waiting for; one takes some milliseconds."""


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
    """Solve; `None` where the hard rows leave nothing, or where the time ran out before anything was found."""
    found = _optimum(standard_form(p))
    if found is None:
        return None
    z, objective = found
    n = len(p.now)
    x = tuple(_on_grid(p.now[i] + p.scale[i] * (z[i] - z[n + i]), p.step[i]) for i in range(n))
    soft: Sequence[Row] = [r for r in p.rows if r.unit is not None]
    slack: dict[str, float] = {}
    for row, value in zip(soft, z[len(z) - len(soft) :], strict=True):
        slack[row.name] = max(slack.get(row.name, 0.0), value)
    return Solution(x=x, objective=objective, slack=slack)


def _optimum(form: StandardForm) -> tuple[list[float], float] | None:
    """The best z and its cost; `None` where no z that keeps all limits was found."""
    import highspy

    solver = _silent_solver()
    # One thread: the same plan each time, and processes that are forked from this one have no thread to miss.
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("parallel", "off")
    solver.setOptionValue("time_limit", _LONGEST_S)
    solver.setOptionValue("mip_rel_gap", _ROUNDING_GAP)
    solver.passModel(_model(form))
    solver.run()
    solution = solver.getSolution()
    status = solver.getInfo().primal_solution_status
    if not solution.value_valid or status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return None
    return [float(value) for value in solution.col_value], float(solver.getInfo().objective_function_value)


def _silent_solver() -> highspy.Highs:
    """A solver that prints nothing: the library greets on standard output, past Python's own stream.

    It does so in its constructor, when that turns callbacks on; output is turned off there, and no callback is needed.
    """
    import highspy

    class Silent(highspy.Highs):
        def enableCallbacks(self) -> None:  # noqa: N802  # the library's name
            self.setOptionValue("output_flag", False)

    solver = Silent()  # type: ignore[no-untyped-call]  # the library's constructor has no types
    solver.setOptionValue("output_flag", False)
    return solver


def _model(form: StandardForm) -> highspy.HighsLp:
    import highspy
    import numpy as np

    lines = (*form.a, *form.equal)
    bounds = (*form.b, *form.equal_to)
    lowest = (*([-highspy.kHighsInf] * len(form.b)), *form.equal_to)
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(form.c), len(lines)
    model.col_cost_ = np.array(form.c)
    model.col_lower_, model.col_upper_ = np.array(form.lower), np.array(form.upper)
    model.row_lower_, model.row_upper_ = np.array(lowest), np.array(bounds)
    places = [[i for i, value in enumerate(line) if value] for line in lines]
    matrix = model.a_matrix_
    matrix.format_ = highspy.MatrixFormat.kRowwise
    matrix.num_col_, matrix.num_row_ = len(form.c), len(lines)
    matrix.start_ = np.cumsum([0, *(len(some) for some in places)])
    matrix.index_ = np.array([i for some in places for i in some])
    matrix.value_ = np.array([line[i] for line, some in zip(lines, places, strict=True) for i in some])
    if any(form.whole):
        kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
        model.integrality_ = [kinds[whole] for whole in form.whole]
    return model


def _on_grid(value: float, step: float | None) -> float:
    return value if step is None else round(round(value / step) * step, 6)
