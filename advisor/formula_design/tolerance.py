"""How far every line and every value of the process may go before a risk reaches the limit, and which error matters.

Each is moved alone, by bisection on the real models: the furthest value looked at that still keeps below the limit is
told, and the nearest that does not, both looked at in full. What a formula risks already counts: where its largest risk
is at the limit or over it, the limit of this is a step above that risk (`tolerance_step`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.change import process_words

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


@dataclass(frozen=True, slots=True, kw_only=True)
class ToleranceAnswer:
    """What `tolerance` gives, the narrowest first."""

    formula: Formula
    look: Examination
    limit: float
    lifted: bool
    """Whether the limit is above that of a check, since the formula is at that already."""
    lines: tuple[Tolerance, ...]
    tools: tuple[Tool, ...]
    matter_most: tuple[Slip, ...]


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


def tolerance_of(examiner: Examiner, formula: Formula, *, risk: float | None = None) -> ToleranceAnswer:
    """Work out the tolerances of a formula; `risk` is the limit (that of a check where it is left out)."""
    from advisor.formula_design.kitchen_errors import errors_that_matter, tools_off

    looker = Looker(examiner, formula, risk)
    lines = sorted((*_amounts(looker), *_process(looker)), key=lambda t: t.room)
    return ToleranceAnswer(
        formula=formula,
        look=looker.base,
        limit=looker.limit,
        lifted=looker.lifted,
        lines=tuple(lines),
        tools=tools_off(looker, lines),
        matter_most=errors_that_matter(looker),
    )


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


def _amounts(looker: Looker) -> Iterator[Tolerance]:
    c = looker.knowledge.coefficient
    for place, line in enumerate(looker.formula.lines):
        if line.grams <= 0:
            continue
        now, at, key = line.grams, at_grams(looker.formula, place), f"line {place}"
        each = line.grams / line.counted if line.counted else None
        fine = max(c("tolerance_fine") * now, 0.1)
        least = now * c("tolerance_least") if len(looker.formula.lines) > 1 else 0.1 * now
        yield Tolerance(
            what=line.ingredient.name, unit="g", field="", now=now, each_g=each,
            down=looker.reach(key, now, least, at, fine),
            up=looker.reach(key, now, now * c("tolerance_most"), at, fine),
        )  # fmt: skip


def process_steps(
    formula: Formula, knowledge: Knowledge
) -> Sequence[tuple[str, str, float, float, float, float]]:
    """Values of the process that can be moved: field, unit, now, the least, the most, and how fine it is found."""
    p, c = formula.process, knowledge.coefficient
    span_c = c("tolerance_span_c")
    least, most = c("tolerance_least_time"), c("tolerance_most_time")
    found: list[tuple[str, str, float, float, float, float]] = []

    def add(field: str, unit: str, now: float | None, low: float, high: float, fine: float) -> None:
        if now is not None and now > 0:
            found.append((field, unit, now, low, high, fine))

    if not p.oven_steps:
        if p.oven_c is not None:
            add("oven_c", "C", p.oven_c, p.oven_c - span_c, p.oven_c + span_c, 2.0)
        if p.bake_min is not None:
            add("bake_min", "min", p.bake_min, least * p.bake_min, most * p.bake_min, 0.02 * p.bake_min)
    if not p.proofs:
        if p.proof_min is not None:
            add("proof_min", "min", p.proof_min, 0.0, most * p.proof_min, 0.03 * p.proof_min)
        if p.proof_c is not None:
            add("proof_c", "C", p.proof_c, max(p.proof_c - 18, 2.0), min(p.proof_c + 17, 50.0), 0.7)
    if p.rest_min is not None and not p.rests:
        add("rest_min", "min", p.rest_min, 0.0, most * p.rest_min, 0.05 * p.rest_min)
    if p.mix_min is not None and not p.mixes:
        add("mix_min", "min", p.mix_min, least * p.mix_min, most * p.mix_min, 0.05 * p.mix_min)
    if p.water_c is not None:
        add("water_c", "C", p.water_c, 4.0, 50.0, 1.0)
    return found


def _process(looker: Looker) -> Iterator[Tolerance]:
    for field, unit, now, low, high, fine in process_steps(looker.formula, looker.knowledge):
        at = at_field(looker.formula, field)
        yield Tolerance(
            what=process_words(field), unit=unit, field=field, now=now,
            down=looker.reach(field, now, low, at, fine), up=looker.reach(field, now, high, at, fine),
        )  # fmt: skip
