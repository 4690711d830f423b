"""What goes into the engine and what comes out: plain, frozen, engine-free."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

BandState = Literal["low", "in", "high"]
FactKey = tuple[str, str]  # kind and name, for example ("measure", "baked_water_load")


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A measure laid against its band: `excess` and `depth` run from 0 to 1: past the edge, inside it."""

    value: float
    low: float | None
    high: float | None
    state: BandState
    excess: float
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """Everything known of one formula and one bake, as ids and numbers only."""

    measures: Mapping[str, float]
    traits: Mapping[str, float] = field(default_factory=dict)
    """Trait to grams per 100 g dough of the lines that have it."""
    process_numbers: Mapping[str, float] = field(default_factory=dict)
    """Process field name (proof_min, oven_c ...) to value, defaults included."""
    process_words: Mapping[str, str] = field(default_factory=dict)
    """Process field name (pan_kind, pan_material, added_last ...) to word; true and false as "true", "false"."""
    stated: frozenset[str] = frozenset()
    """Names of the process fields that the formula states, as against assumed."""
    symptoms: Mapping[str, bool] = field(default_factory=dict)
    """Symptom to seen (True) or looked for and not there (False)."""
    answers: Mapping[str, str] = field(default_factory=dict)
    """Question id to answer id."""


JudgeBands = Callable[[Mapping[str, float], Mapping[str, float]], Mapping[str, Judged]]
"""(structure weights, measure values) -> judged measures; measures without a band are left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Firing:
    """One rule that fired: the facts it stood on and what followed."""

    rule: str
    phase: str
    premises: tuple[FactKey, ...]
    conclusions: tuple[FactKey, ...]
    excess: float
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspicion:
    """One piece of evidence for or against one cause."""

    cause: str
    rule: str
    evidence: str
    group: str
    excess: float
    depth: float
    share: float = 1.0
    """Share (0..1) of it that may count: below 1 where it rests on something that nobody stated."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Inference:
    """All that followed, in a fixed order (rule id within phase), whichever engine ran."""

    structures: Mapping[str, float]
    """Structure to weight; the weights add up to 1 and at most two are above 0."""
    judged: Mapping[str, Judged]
    firings: tuple[Firing, ...]
    suspicions: tuple[Suspicion, ...]
    states: tuple[str, ...]
    cautions: tuple[str, ...]
    reminders: tuple[tuple[str, str], ...]
    """Rule id and its text."""
    asks: tuple[str, ...]
