"""A formula with one thing moved alone: how it looks then, and how far that thing may go."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge

At = Callable[[float], Formula]
"""The formula with one thing at a value."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """How far one thing may go one way: `kept` is still good, `lost` is not (`None`: nothing was found to go wrong).

    `symptom` reaches the limit at `lost`, with the risk beside it (0..1); where a number falls far out of its band or a
    verdict cannot be given, `symptom` is empty and `why` says so.
    """

    kept: float
    kept_risk: float
    lost: float | None = None
    lost_risk: float = 0.0
    symptom: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """One line or value: what it is now, and how far it may go down and up, in its unit."""

    what: str
    unit: str
    field: str
    """Field of the process; empty for an ingredient."""
    now: float
    down: Reach
    up: Reach
    each_g: float | None = None
    """Grams of a piece, where it is counted."""

    @property
    def room(self) -> float:
        """The nearer of both ends, as a share of what it is now; infinite where neither end was found."""
        ends = [abs(r.kept - self.now) for r in (self.down, self.up) if r.lost is not None]
        return min(ends, default=float("inf")) / self.now if self.now else float("inf")


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """An error of a kitchen: what is off, by how much, and the symptom whose risk rises most (before, after)."""

    what: str
    unit: str
    off: float
    symptom: str
    risk: tuple[float, float]
    over: bool
    """Whether a risk is at the limit then, that was below it."""

    @property
    def rise(self) -> float:
        """By how much that risk rises."""
        return self.risk[1] - self.risk[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """What a tool that is off does: the worst it does to a line or to the bake."""

    name: str
    says: str
    worst: Slip | None
    over: tuple[str, ...]
    """Names of what a risk reaches its limit by."""


class Looker:
    """Looks at a formula moved in one thing, and says whether it is still good."""

    def __init__(self, examiner: Examiner, formula: Formula, risk: float | None = None) -> None:
        self.examiner, self.formula = examiner, formula
        self.knowledge: Knowledge = examiner.knowledge
        c = self.knowledge.coefficient
        self.base = examiner.examine(formula, after_bake=False)
        told = c("risk_limit") if risk is None else risk
        worst = _worst(self.base)[1]
        self.lifted = worst >= told
        self.limit = min(worst + c("tolerance_step"), 1.0) if self.lifted else told
        self._gone = len(self.base.far_out), sum(g.decides for g in self.base.not_judged)
        self._met: dict[tuple[str, float], Examination] = {}

    def look(self, key: str, value: float, at: At) -> Examination:
        """Look at it there, once."""
        place = (key, round(value, 4))
        if place not in self._met:
            self._met[place] = self.examiner.examine(at(value), after_bake=False, ranked=False)
        return self._met[place]

    def bad(self, found: Examination) -> tuple[str, str] | None:
        """The symptom that is over the limit, or why else it is not good; `None` where it is."""
        symptom, risk = _worst(found)
        if risk >= self.limit:
            return symptom, ""
        far, gaps = len(found.far_out), sum(g.decides for g in found.not_judged)
        if far > self._gone[0]:
            new = next((m for m in found.far_out if m not in self.base.far_out), found.far_out[0])
            return "", f"{self.knowledge.measures[new].name} far out"
        return ("", "can no longer be judged") if gaps > self._gone[1] else None

    def reach(self, key: str, now: float, end: float, at: At, fine: float) -> Reach:
        """Go towards `end` by halving, until the two sides are within `fine` of each other."""
        kept, lost = now, None
        kept_risk = _worst(self.base)[1]
        found = self.look(key, end, at)
        why = self.bad(found)
        if why is None:
            return Reach(kept=end, kept_risk=_worst(found)[1])
        lost, lost_risk, said = end, _worst(found)[1], why
        while abs(lost - kept) > fine:
            middle = (lost + kept) / 2
            found = self.look(key, middle, at)
            if (why := self.bad(found)) is None:
                kept, kept_risk = middle, _worst(found)[1]
            else:
                lost, lost_risk, said = middle, _worst(found)[1], why
        return Reach(
            kept=kept, kept_risk=kept_risk, lost=lost, lost_risk=lost_risk, symptom=said[0], why=said[1]
        )


def _worst(found: Examination) -> tuple[str, float]:
    risks = found.diagnosis.risks
    name = max(risks, key=lambda s: (risks[s].risk, s))
    return name, risks[name].risk


def at_grams(formula: Formula, place: int) -> At:
    """A formula with one of its lines at other grams."""

    def at(value: float) -> Formula:
        line = replace(formula.lines[place], grams=value, counted=None)
        lines = tuple(line if n == place else x for n, x in enumerate(formula.lines))
        return formula.with_lines(tuple(x for x in lines if x.grams > 0))

    return at


def at_field(formula: Formula, field: str) -> At:
    """A formula with one value of its process elsewhere."""
    return lambda value: formula.with_process(**{field: value})
