"""A measure as a model gives it: a value with its unit, or no value with a reason."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """One computed number; `value` is `None` outside the model's validity, and `reason` says why."""

    id: str
    value: float | None
    reason: str = ""
    outside: bool = False
    """Whether a model gave a number that lies outside the range in which it means something."""
    parts: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """All measures of one formula, with what had to be assumed to compute them."""

    by_id: Mapping[str, Measure]
    assumed: tuple[str, ...] = ()

    def value(self, name: str) -> float | None:
        """Give the value of a measure, or `None` where there is none."""
        found = self.by_id.get(name)
        return found.value if found else None
