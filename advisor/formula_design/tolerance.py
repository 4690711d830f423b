"""How far every line and every value of the process may go before a risk reaches the limit, and which error matters.

Each is moved alone, by bisection on the real models: the furthest value looked at that still keeps below the limit is
told, and the nearest that does not, both looked at in full. What a formula risks already counts: where its largest risk
is at the limit or over it, the limit of this is a step above that risk (`tolerance_step`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from advisor.diagnosis.pipeline import Examination, Examiner
from advisor.formula.formula import Formula
from advisor.formula_design.kitchen_errors import errors_that_matter, tools_off
from advisor.formula_design.one_moved import Looker, Slip, Tolerance, Tool, at_field, at_grams
from advisor.knowledge_base.knowledge import Knowledge
from advisor.remedy.change import process_words


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


def tolerance_of(examiner: Examiner, formula: Formula, *, risk: float | None = None) -> ToleranceAnswer:
    """Work out the tolerances of a formula; `risk` is the limit (that of a check where it is left out)."""
    looker = Looker(examiner, formula, risk)
    lines = sorted((*_amounts(looker), *_process(looker)), key=lambda t: t.room)
    return ToleranceAnswer(
        formula=formula,
        look=looker.base,
        limit=looker.limit,
        lifted=looker.lifted,
        lines=tuple(lines),
        tools=tools_off(looker, lines),
        matter_most=errors_that_matter(looker, lines),
    )


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
