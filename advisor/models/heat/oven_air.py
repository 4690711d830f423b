"""The air of an oven over time: loaded, looked into, started from cold, turned up or down."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """The door opened at a moment, s from loading, and how far the air fell by it, K."""

    at_s: float
    drop_k: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """The dial turned at a moment, s from loading, by so many K; the air follows with one time constant, s."""

    at_s: float
    by_k: float
    lag_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """Oven temperature at loading, C, what loading took off it, K, and what comes later.

    All that was lost comes back with one time constant, s. `cold_c` is the temperature of an oven that is lit
    as the loaf goes in; it nears its own with `warming_s`, and loading takes nothing off it.
    """

    set_c: float
    drop_k: float = 0.0
    recovery_s: float = 1.0
    openings: tuple[Opening, ...] = ()
    turns: tuple[Turn, ...] = ()
    cold_c: float | None = None
    warming_s: float = 1.0

    @property
    def moments(self) -> tuple[float, ...]:
        """When something happens to the air after loading, s."""
        return (*(opening.at_s for opening in self.openings), *(turn.at_s for turn in self.turns))

    def at(self, now_s: float) -> float:
        """Air at a moment, C; an opening counts behind its own moment, as a step up to it knows nothing of it.

        T = set - drop exp(-t / recovery), or set - (set - cold) exp(-t / warming), less drop exp(-s / recovery)
        for each opening s ago, and with by (1 - exp(-s / lag)) for each turn of the dial s ago.
        """
        if self.cold_c is None:
            air_c = self.set_c - self.drop_k * math.exp(-now_s / self.recovery_s)
        else:
            air_c = self.set_c - (self.set_c - self.cold_c) * math.exp(-now_s / self.warming_s)
        for opening in self.openings:
            if now_s > opening.at_s:
                air_c -= opening.drop_k * math.exp(-(now_s - opening.at_s) / self.recovery_s)
        for turn in self.turns:
            if now_s > turn.at_s:
                air_c -= turn.by_k * math.expm1(-(now_s - turn.at_s) / turn.lag_s)
        return air_c
