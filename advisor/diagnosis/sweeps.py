"""Sweeps: one amount or one value of the process is moved a hundredth at a time, and no risk may jump.

A risk that jumps by more than `sweep_risk_jump` for such a step hangs on a condition that lets go all at once, and an
answer that turns on the last gram is no answer. Each jump names the formula, what was moved, where, and the rules that
fired on one side only: they are where to look. A jump that is real (a foam that falls, a core that never gets there)
stands with its reason in knowledge/known_jumps.yaml.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula

STEP = 0.01
"""A step of an amount or a time: one hundredth of it."""
AT = (0.5, 0.7, 0.85, 1.0, 1.2, 1.5, 2.0)
"""Where a sweep looks, in parts of what is written."""
OVEN_OFF_C, OVEN_STEP_C = (-30.0, -15.0, 0.0, 15.0, 30.0), 1.0
ALTITUDE_M, ALTITUDE_STEP_M = (0.0, 300.0, 600.0, 900.0, 1500.0, 2200.0), 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Swept:
    """One thing that is turned: where to look, in `unit`; a step of `small`, or of a hundredth where there is none."""

    turned: str
    unit: str
    at: tuple[float, ...]
    small: float | None
    make: Callable[[float], Formula]

    def step(self, value: float) -> float:
        """The largest step that counts as small at a value."""
        return self.small if self.small is not None else STEP * value


@dataclass(frozen=True, slots=True, kw_only=True)
class Jump:
    """A risk (0..1) on both sides of one small step, and the rules that fired on one side only."""

    formula: str
    turned: str
    at: str
    symptom: str
    risk: tuple[float, float]
    rules: tuple[str, ...]

    @property
    def size(self) -> float:
        """How far the risk jumps."""
        return abs(self.risk[1] - self.risk[0])

    @property
    def says(self) -> str:
        """The jump in one line."""
        moved = f"{self.symptom} jumps from {self.risk[0]:.2f} to {self.risk[1]:.2f}"
        turned = f"{self.formula}: {self.turned} at {self.at}: {moved}"
        return f"{turned}; only on one side: {', '.join(self.rules) or 'no rule'}"


def jumps(examiner: Examiner, formulas: Mapping[str, Formula]) -> Iterator[Jump]:
    """Sweep every amount, the oven, the times and the altitude of every formula."""
    limit = examiner.knowledge.coefficient("sweep_risk_jump")
    kinks = {(k.formula, k.turned, k.symptom) for k in examiner.knowledge.kinks.values()}
    for name, formula in formulas.items():
        for swept in _sweeps(examiner, formula):
            looked = [(at, _examined(examiner, swept.make(at))) for at in swept.at]
            for (low, before), (high, after) in pairwise(looked):
                jump = narrowed(examiner, name, swept, (low, before), (high, after), limit)
                if jump is not None and (name, swept.turned, jump.symptom) not in kinks:
                    yield jump


_Looked = tuple[float, Examination]


def narrowed(
    examiner: Examiner, name: str, swept: Swept, low: _Looked, high: _Looked, limit: float
) -> Jump | None:
    """Halve towards the steeper side until one small step is left; `None` where the risk moves in small steps."""
    while True:
        jump = _jump(name, swept, low, high)
        if jump.size <= limit:
            return None
        if high[0] - low[0] <= swept.step(low[0]):
            return jump
        middle = (low[0] + high[0]) / 2
        found = (middle, _examined(examiner, swept.make(middle)))
        left, right = _jump(name, swept, low, found), _jump(name, swept, found, high)
        low, high = (low, found) if left.size >= right.size else (found, high)


def _examined(examiner: Examiner, formula: Formula) -> Examination:
    return examiner.examine(formula, after_bake=False, ranked=False)


def _jump(name: str, swept: Swept, low: _Looked, high: _Looked) -> Jump:
    before, after = low[1].diagnosis.risks, high[1].diagnosis.risks
    symptom = max(before, key=lambda s: (abs(after[s].risk - before[s].risk), s))
    fired = [{firing.rule for firing in found.inference.firings} for _, found in (low, high)]
    return Jump(
        formula=name,
        turned=swept.turned,
        at=f"{low[0]:.4g} {swept.unit}",
        symptom=symptom,
        risk=(before[symptom].risk, after[symptom].risk),
        rules=tuple(sorted(fired[0] ^ fired[1])),
    )


def _sweeps(examiner: Examiner, formula: Formula) -> Iterator[Swept]:
    for place, line in enumerate(formula.lines):
        yield _in_parts(line.ingredient.id, line.grams, "g", partial(_with_grams, formula, place))
    bake = examiner.measured(formula).workings.bake
    times = {"proof_min": formula.process.proof_min, "bake_min": bake.pulled_at_min if bake else None}
    for field, minutes in times.items():
        if minutes:
            yield _in_parts(field, minutes, "min", partial(_with_process, formula, field))
    if (oven := formula.process.oven_c) is not None:
        at = tuple(oven + off for off in OVEN_OFF_C)
        yield Swept(
            turned="oven_c",
            unit="C",
            at=at,
            small=OVEN_STEP_C,
            make=partial(_with_process, formula, "oven_c"),
        )
    make = partial(_with_process, formula, "altitude_m")
    yield Swept(turned="altitude_m", unit="m", at=ALTITUDE_M, small=ALTITUDE_STEP_M, make=make)


def _in_parts(turned: str, written: float, unit: str, make: Callable[[float], Formula]) -> Swept:
    return Swept(turned=turned, unit=unit, at=tuple(part * written for part in AT), small=None, make=make)


def _with_grams(formula: Formula, place: int, grams: float) -> Formula:
    lines = list(formula.lines)
    lines[place] = replace(lines[place], grams=grams)
    return formula.with_lines(tuple(lines))


def _with_process(formula: Formula, field: str, value: float) -> Formula:
    return formula.with_process(**{field: value})
