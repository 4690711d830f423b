"""Small rules and situations for these tests, written as a baker would read them."""

from __future__ import annotations

import sys
from collections.abc import Mapping

import yaml

from advisor.inference.situation import Judged
from advisor.knowledge_base.rule_entries import Rule

ENGINES = ["durable", "clips"] if sys.version_info < (3, 13) else ["clips"]
"""The engines that run on this interpreter."""


def rules(text: str) -> list[Rule]:
    """Read rules from YAML; the sentence and the grade are filled in."""
    filled = [{"because": "so it is", "grade": "demo", **raw} for raw in yaml.safe_load(text)]
    return [Rule.model_validate(raw) for raw in filled]


def judge_between_three_and_seven(
    _: Mapping[str, float], values: Mapping[str, float]
) -> Mapping[str, Judged]:
    """Judge every measure against a band from 3 to 7: half a width is 2, a quarter 1."""
    return {name: judged(value) for name, value in values.items()}


def judged(value: float, low: float | None = 3.0, high: float | None = 7.0) -> Judged:
    """Lay one value against a band with half a width of 2."""
    inside = min([value - low] if low is not None else [], default=9.0)
    inside = min(inside, high - value) if high is not None else inside
    state = "in" if inside >= 0 else "low" if low is not None and value < low else "high"
    return Judged(
        value=value,
        low=low,
        high=high,
        state=state,  # type: ignore[arg-type]
        excess=min(1.0, max(0.0, -inside / 2)),
        depth=min(1.0, max(0.0, inside)),
    )
