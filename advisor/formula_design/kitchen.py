"""A kitchen by its constants, and what a bake in it would measure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import exp, log

from advisor.diagnosis.kitchen_shifts import is_powder
from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough_state import dough_state_of
from advisor.models.measuring import Workings, measure

Constants = Mapping[str, float]
"""Constant of knowledge/kitchen_constants.yaml to its value: degrees, or the logarithm of a factor; 0 is usual."""
PROBED_AT = (0.45, 0.75)
"""Shares of the time in the oven at which the core is probed beside the pull."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What is measured on a bake, or would be; `None` where it was not."""

    core_early_c: float | None = None
    """Core at the first of `PROBED_AT`, C."""
    core_late_c: float | None = None
    """Core at the second, C."""
    core_c: float | None = None
    """Core at the pull, C."""
    loss: float | None = None
    """Weight lost in the oven, g for each gram of dough."""
    log_volume: float | None = None
    """Natural logarithm of the loaf's volume, or of its height in the same tin; only differences count."""


SEEN = ("core_early_c", "core_late_c", "core_c", "loss", "log_volume")


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What a baker wants to know of a bake beforehand."""

    done_min: float | None
    loss: float | None
    log_volume: float | None


OUTCOME = ("done_min", "loss", "log_volume")


def in_kitchen(formula: Formula, knowledge: Knowledge, constants: Constants) -> tuple[Formula, Knowledge]:
    """Give the formula and the knowledge as a kitchen with these constants has them."""
    factors: dict[str, float] = {}
    for name, value in constants.items():
        for coefficient in knowledge.kitchen_constants[name].coefficients:
            factors[coefficient] = factors.get(coefficient, 1.0) * exp(value)
    coefficients = {
        name: entry.model_copy(update={"value": entry.value * factors[name]}) if name in factors else entry
        for name, entry in knowledge.coefficients.items()
    }
    offset = constants.get("oven_offset", 0.0)
    if offset:
        formula = formula.with_process(oven_offset_c=(formula.process.oven_offset_c or 0.0) + offset)
    vigour = exp(constants.get("yeast_vigour", 0.0))
    if vigour != 1.0:
        formula = formula.with_lines(
            tuple(replace(x, grams=x.grams * vigour) if is_powder(x) else x for x in formula.lines)
        )
    return formula, replace(knowledge, coefficients=coefficients)


def baked_in(formula: Formula, knowledge: Knowledge, constants: Constants) -> Workings:
    """Bake a formula in a kitchen."""
    here, known = in_kitchen(formula, knowledge, constants)
    return measure(dough_state_of(here, known), known)


def seen_of(work: Workings) -> Seen:
    """Read what would be measured on a bake."""
    bake = work.bake
    if bake is None:
        return Seen()
    early, late = (bake.curves.core_at(share * bake.pulled_at_min) for share in PROBED_AT)
    return Seen(
        core_early_c=early,
        core_late_c=late,
        core_c=bake.core_at_pull_c,
        loss=bake.bake_loss,
        log_volume=_log_volume(work),
    )


def outcome_of(work: Workings) -> Outcome:
    """Read what a baker wants to know."""
    bake = work.bake
    return Outcome(
        done_min=bake.core_done_min if bake else None,
        loss=bake.bake_loss if bake else None,
        log_volume=_log_volume(work),
    )


def _log_volume(work: Workings) -> float | None:
    lost = (work.measures.value("cooling_shrinkage_pct") or 0.0) / 100
    volume = work.rise.set_ml
    return None if volume is None or volume <= 0 or lost >= 1 else log(volume * (1 - lost))
