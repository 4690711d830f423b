"""What the unset part of a loaf costs it: at the door, at the probe, at the pull, and as it cools."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.coagulation import Carrier, Setting
from advisor.models.heat.warming import Warming
from advisor.models.loaf.expansion import Rise, free_expansion

if TYPE_CHECKING:
    from advisor.models.heat.conduction import Array


@dataclass(frozen=True, slots=True, kw_only=True)
class SetCourse:
    """Share of the loaf that has set over the bake: minutes (n), share (n), 0..1 and never falling."""

    minutes: tuple[float, ...]
    share: tuple[float, ...]

    def at(self, minute: float) -> float:
        """Share set at a minute of the bake; at the ends of the course its first and last value."""
        import numpy as np

        return float(np.interp(minute, self.minutes, self.share))


def set_course(warming: Warming, setting: Setting) -> SetCourse:
    """Mean over the shells of what each one's highest temperature so far has set.

    Heat-set protein and gelled starch do not come undone as they cool, hence the highest so far.
    """
    import numpy as np

    hottest = np.maximum.accumulate(warming.temp_c, axis=0)
    levels = np.arange(20.0, 121.0)
    set_now = np.interp(hottest, levels, _shares_set(setting.carriers, levels)) @ warming.share
    return SetCourse(minutes=tuple(warming.minutes.tolist()), share=tuple(set_now.tolist()))


def _shares_set(carriers: tuple[Carrier, ...], temp_c: Array) -> Array:
    """Share of the heat-setting carriers that has set at each of many temperatures: `set_share` at once."""
    import numpy as np

    done = np.zeros(temp_c.shape)
    whole = sum(c.weight_g for c in carriers)
    if whole <= 0:
        return done
    for c in carriers:
        way = np.clip((temp_c - c.low_c) / (c.high_c - c.low_c), 0.0, 1.0)
        done += c.weight_g * way * way * (3 - 2 * way)
    return done / whole


def shrinkage(
    lift: Rise, setting: Setting, set_at_pull: float, altitude_m: float, knowledge: Knowledge
) -> float | None:
    """Share of its volume at the set that a loaf loses as it cools (0..1).

    Gas shrinks by heat and by its vapour's condensing, 1 - e(room)/e(set) with e the expansion of moist gas; a set
    crumb stands against it, what has not set follows, and what only firms on cooling follows in part. `None`
    where the volume is unknown.
    """
    hot = free_expansion(setting.set_c, altitude_m, knowledge)
    room = free_expansion(knowledge.coefficient("room_c"), altitude_m, knowledge)
    if lift.set_ml is None or hot is None or room is None:
        return None
    soft = 1 - set_at_pull
    melted = (setting.cool_share or 0.0) * knowledge.coefficient("melted_gives_way_share")
    gives_way = min(soft + (1 - soft) * melted, 1.0)
    return gives_way * (1 - room / hot) * (lift.set_ml - lift.matrix_ml) / lift.set_ml
