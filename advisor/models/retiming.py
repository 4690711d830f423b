"""Minutes in the oven for another size of loaf, by the heat models: an old time is never kept for another pan."""

from __future__ import annotations

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.shapes import shape
from advisor.models.measuring import dough_state_of, measure

_CLOCKS = ("core_done_min", "crisp_min", "core_set_min")
"""What a bake waits for, the first that its model knows: a core that is done, a crisp sheet, a crumb that is set."""
_ROUNDS = 6
_SAME_MIN = 0.25


@shape
class Retimed:
    """A bake timed for another size."""

    was_min: float
    """Minutes that the formula states."""
    now_min: float
    """Minutes that leave the loaf as far past done as it was, in proportion."""
    done_was_min: float
    """When it is done in its own size, min."""
    done_now_min: float
    """When it is done in the new size, min."""
    crust_was: float | None
    """How brown its crust gets, 1 being usual; null where no model tells."""
    crust_now: float | None
    """How brown it gets in the new size and time."""


def retimed(before: Formula, after: Formula, knowledge: Knowledge) -> Retimed | None:
    """Time the bake of `after` as that of `before` is timed: pulled at the same multiple of when it is done.

    `None` where the formula states no minutes, or where no model follows both bakes. Of several oven steps the last
    is made longer or shorter, and when the loaf is done is worked out anew with it.
    """
    was = before.process.bake_min
    if was is None or was <= 0:
        return None
    first = measure(dough_state_of(before, knowledge), knowledge).measures
    clock = next((name for name in _CLOCKS if first.value(name)), None)
    if clock is None:
        return None
    done_was = first.value(clock) or 0.0
    # A bake that is pulled before it is done may end before the core gets there: look far enough ahead.
    minutes = was * max((after.dough_g / max(before.dough_g, 1e-9)) ** (2 / 3), 1.0)
    for _ in range(_ROUNDS):
        second = measure(dough_state_of(after.with_process(bake_min=minutes), knowledge), knowledge).measures
        done_now = second.value(clock)
        if done_now is None:
            minutes *= 1.5
            continue
        better = done_now * was / done_was
        if abs(better - minutes) < _SAME_MIN:
            return Retimed(
                was_min=was,
                now_min=better,
                done_was_min=done_was,
                done_now_min=done_now,
                crust_was=first.value("crust_browning"),
                crust_now=second.value("crust_browning"),
            )
        minutes = better
    return None
