"""When the heat of a bake is worked out: closely after loading and after each event, then ever more widely.

The moments hang on the size of the piece and on the events alone, and move smoothly with both, so that what is
read off them does too.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

_LEAST_SHARE = 0.02
"""A last step before an event that is shorter than so much of a first step is left out with the one before."""

_BEND = 0.5
"""Part of a curve's bend that is carried on: all of it would swing where a cell boils dry."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """Lengths of steps, s, and how much longer they get for each second gone by, at first and later."""

    first_s: float
    growth: float
    later_s: float
    later_growth: float

    def for_size(self, thin_m: float) -> Pace:
        """Give the pace for a piece so thick, m, where this one is for 10 cm.

        Heat needs the square of a size; a smaller power keeps small pieces cheap and large ones true.
        """
        size = min(thin_m / 0.10, 1.5) ** 0.75
        return Pace(
            first_s=self.first_s * size,
            growth=self.growth,
            later_s=self.later_s * size,
            later_growth=self.later_growth * min(thin_m / 0.05, 1.0),
        )

    def refined(self, times: float) -> Pace:
        """Give the pace with so many times the steps."""
        return Pace(
            first_s=self.first_s / times,
            growth=self.growth / times,
            later_s=self.later_s / times,
            later_growth=self.later_growth / times,
        )

    def step_after(self, since_s: float) -> float:
        """Length of a step, s, so long after loading or an event."""
        return min(self.first_s + self.growth * since_s, self.later_s + self.later_growth * since_s)


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeStep:
    """A step between two moments, s, and the lengths of those before it since loading or the last event, s."""

    from_s: float
    to_s: float
    before_s: float | None = None
    earlier_s: float | None = None

    @property
    def length_s(self) -> float:
        """How long it is, s."""
        return self.to_s - self.from_s

    @property
    def ratio(self) -> float | None:
        """Its length over that of the one before; `None` for the first after an event."""
        return None if self.before_s is None else self.length_s / self.before_s

    @property
    def differences(self) -> tuple[float, float, float]:
        """The slope at `to_s` of the parabola or cubic through the last moments, 1/s.

        That slope is newest * (what this step adds) - of_last * (what the last one added) - of_earlier * (what the one
        before that added): backward differences for steps of any length, of as many steps as there are, three at most
        (Hairer, Norsett and Wanner 1993, III.5).
        """
        one = self.length_s
        if self.before_s is None:
            return 1 / one, 0.0, 0.0
        two = one + self.before_s
        if self.earlier_s is None:
            # Weights of the two moments before: those of a parabola.
            middle = -two / (one * self.before_s)
            oldest = one / (two * self.before_s)
            return -(middle + oldest), oldest, 0.0
        three = two + self.earlier_s
        middle = -two * three / (one * self.before_s * (three - one))
        older = one * three / (two * self.before_s * self.earlier_s)
        oldest = -one * two / (three * (three - one) * self.earlier_s)
        return -(middle + older + oldest), older + oldest, oldest

    @property
    def carried(self) -> tuple[float, float]:
        """Parts of what the last two steps added that carry a curve on to `to_s`."""
        if self.before_s is None:
            return 0.0, 0.0
        one, last = self.length_s, self.before_s
        if self.earlier_s is None:
            return one / last, 0.0
        bends = _BEND * one * (one + last) / (last + self.earlier_s)
        return one / last + bends / last, -bends / self.earlier_s


class Clock:
    """Gives step after step; one ends at each event, and after it they are short again."""

    def __init__(self, pace: Pace, events_s: tuple[float, ...]) -> None:
        """Start at loading; `events_s` in any order, those that never come among them."""
        self.now_s = 0.0
        self._pace = pace
        self._ahead = sorted({event for event in events_s if 0 < event < inf})
        self._since = 0.0
        self._before: float | None = None
        self._earlier: float | None = None

    def go_on(self) -> TimeStep:
        """Give the next step."""
        start = self.now_s
        until = start + self._pace.step_after(self._since)
        arrives = bool(self._ahead) and self._ahead[0] - until < _LEAST_SHARE * self._pace.first_s
        if arrives:
            until = self._ahead.pop(0)
        step = TimeStep(from_s=start, to_s=until, before_s=self._before, earlier_s=self._earlier)
        self.now_s = until
        if arrives:
            self._since, self._before, self._earlier = 0.0, None, None
        else:
            self._since += step.length_s
            self._before, self._earlier = step.length_s, self._before
        return step
