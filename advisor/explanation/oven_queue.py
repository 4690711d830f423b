"""Who waits for the oven: batches mixed one after another, pieces shaped by one pair of hands, loads baked in turn."""

from __future__ import annotations

from dataclasses import dataclass, replace

from advisor.knowledge_base.shapes import shape


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """How long each step takes, min; `every_min` is from the start of one mix to the start of the next."""

    mix_min: float
    rest_min: float
    shape_min: float
    proof_min: float
    bake_min: float
    reload_min: float
    every_min: float


@shape
class OvenLoad:
    """One load of the oven; minutes are counted from the start of the first mix."""

    number: int
    """1 for the first."""
    loaves: int
    """Loaves, or lots of pieces that the formula calls a loaf, in it."""
    batches: tuple[int, ...]
    """From which batches they come."""
    in_min: float
    """When it goes in."""
    out_min: float
    """When it comes out."""
    longest_wait_min: float
    """How long the one that was ready first has waited."""


def queue(batches: tuple[int, ...], loads: int, steps: Steps) -> tuple[OvenLoad, ...]:
    """Lay out the loads; `batches` holds the loaves of each, and every load but the last takes as many as fit.

    A load goes in when the oven is free and its last loaf is ready.
    """
    ready = _ready(batches, steps)
    whole = len(ready)
    room = -(-whole // loads)
    out: list[OvenLoad] = []
    free = 0.0
    for start in range(0, whole, room):
        mine = ready[start : start + room]
        enters = max(free, max(at for _, at in mine))
        leaves = enters + steps.bake_min
        out.append(
            OvenLoad(
                number=len(out) + 1,
                loaves=len(mine),
                batches=tuple(dict.fromkeys(batch for batch, _ in mine)),
                in_min=enters,
                out_min=leaves,
                longest_wait_min=enters - min(at for _, at in mine),
            )
        )
        free = leaves + steps.reload_min
    return tuple(out)


def _ready(batches: tuple[int, ...], steps: Steps) -> list[tuple[int, float]]:
    """Batch and minute of every loaf that has had its proof, in the order in which they were shaped."""
    out: list[tuple[int, float]] = []
    hands = 0.0
    for number, loaves in enumerate(batches, 1):
        hands = max(hands, (number - 1) * steps.every_min + steps.mix_min + steps.rest_min)
        for _ in range(loaves):
            hands += steps.shape_min
            out.append((number, hands + steps.proof_min))
    return out


def longest_wait(loads: tuple[OvenLoad, ...]) -> float:
    """The longest wait of all, min."""
    return max(load.longest_wait_min for load in loads)


def even_sizes(loaves: int, batches: int) -> tuple[int, ...]:
    """Loaves of each batch, as even as they come, the larger ones first."""
    each, over = divmod(loaves, batches)
    return (each + 1,) * over + (each,) * (batches - over)


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """A way to lay out a day: batches, minutes from mix to mix, and the longest wait for the oven, min."""

    batches: int
    every_min: float
    wait_min: float


def better_day(batches: tuple[int, ...], loads: int, steps: Steps) -> Day:
    """The layout that waits least: the batches as they are or one a load, mixed as often as the oven takes one."""
    loaves = sum(batches)
    ways = []
    for sizes in dict.fromkeys((batches, even_sizes(loaves, min(loads, loaves)))):
        taken = len(queue(sizes, loads, steps))
        every = max((steps.bake_min + steps.reload_min) * taken / len(sizes), steps.every_min)
        for one in dict.fromkeys((steps.every_min, every)):
            wait = longest_wait(queue(sizes, loads, replace(steps, every_min=one)))
            ways.append(Day(batches=len(sizes), every_min=one, wait_min=wait))
    return min(ways, key=lambda day: round(day.wait_min))
