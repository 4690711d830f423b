"""The air of an oven over time: loaded, looked into, started from cold."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """The door opened at a moment, s from loading, and how far the air fell by it, K."""

    at_s: float
    drop_k: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """Oven temperature, C, what loading took off it, K, and later openings.

    All that was lost comes back with one time constant, s. `cold_c` is the temperature of an oven that is lit
    as the loaf goes in; it nears its own with `warming_s`, and loading takes nothing off it.
    """

    set_c: float
    drop_k: float = 0.0
    recovery_s: float = 1.0
    openings: tuple[Opening, ...] = ()
    cold_c: float | None = None
    warming_s: float = 1.0

    def at(self, now_s: float, step_s: float) -> float:
        """Air at a moment, C; what an opening takes is its mean over a step about that moment.

        T = set - drop exp(-t / recovery), or set - (set - cold) exp(-t / warming), less drop exp(-s / recovery)
        for each opening s ago. The mean keeps the heat lost the same wherever between two steps a door opens.
        """
        if self.cold_c is None:
            below = self.drop_k * math.exp(-now_s / self.recovery_s)
        else:
            below = (self.set_c - self.cold_c) * math.exp(-now_s / self.warming_s)
        for opening in self.openings:
            until = now_s + step_s / 2 - opening.at_s
            if until > 0:
                since = max(until - step_s, 0.0)
                kept = math.exp(-since / self.recovery_s) - math.exp(-until / self.recovery_s)
                below += opening.drop_k * kept * self.recovery_s / step_s
        return self.set_c - below
