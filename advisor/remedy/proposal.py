"""A proposal: one change, what it does to measures and risks, and what it costs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.remedy.change import Change, ChangeKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """A change that was applied, inferred anew and found to help; best by relief over effort."""

    lever: str
    cause: str
    kind: ChangeKind
    says: str
    because: str
    changes: tuple[Change, ...]
    formula: Formula
    measures: Mapping[str, tuple[float | None, float | None]]
    risk: Mapping[str, tuple[float, float]]
    net_carb_per_slice: tuple[float | None, float | None]
    side_effects: tuple[str, ...]
    relief: float
    effort: float

    @property
    def worth(self) -> float:
        """Relief over effort, by which proposals are ranked."""
        return self.relief / self.effort


@dataclass(frozen=True, slots=True, kw_only=True)
class Declined:
    """A lever that was looked at and not proposed, and why."""

    lever: str
    cause: str
    reason: str
