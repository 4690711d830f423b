"""How much of what carries the loaf has set at a temperature: by class of protein, with starch, and what firms cold.

A class sets over a range of temperatures, not at one (knowledge/protein_classes.yaml): its share rises as a smooth
step from the lower end to the upper. Casein, cheese and gelatine melt instead and firm only as the loaf cools.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.composition import DoughComposition
from advisor.models.dough.proteins import Framework


@dataclass(frozen=True, slots=True, kw_only=True)
class Carrier:
    """Something that sets by heat between two temperatures [C]; it counts for `weight_g` grams of protein."""

    name: str
    weight_g: float
    low_c: float
    high_c: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What carries the loaf: what sets by heat, and the grams that firm only on cooling."""

    carriers: tuple[Carrier, ...]
    cool_setting_g: float
    carries_from: float
    """Share of the heat-setting carriers at which a crumb carries itself (0..1)."""

    otherwise_c: float
    """Temperature taken as set where nothing in the dough sets by heat [C]."""

    @property
    def cool_share(self) -> float | None:
        """Part of all that carries which firms only as the loaf cools (0..1); `None` where nothing carries."""
        hot = sum(c.weight_g for c in self.carriers)
        whole = hot + self.cool_setting_g
        return self.cool_setting_g / whole if whole > 0 else None

    @property
    def set_c(self) -> float:
        """Temperature at which the crumb carries itself [C], by bisection; smooth in every amount."""
        return _set_c(self.carriers, self.carries_from) if self.carriers else self.otherwise_c


@lru_cache(maxsize=64)  # each look at a dough asks several times
def _set_c(carriers: tuple[Carrier, ...], carries_from: float) -> float:
    low = min(c.low_c for c in carriers)
    high = max(c.high_c for c in carriers)
    while high - low > 1e-4:
        middle = (low + high) / 2
        low, high = (middle, high) if set_share(carriers, middle) < carries_from else (low, middle)
    return (low + high) / 2


def set_share(carriers: Sequence[Carrier], temp_c: float) -> float:
    """Weighted share set of all carriers: s^2 (3 - 2 s) with s the way through each one's range (0..1)."""
    whole = sum(c.weight_g for c in carriers)
    if whole <= 0:
        return 0.0
    done = 0.0
    for c in carriers:
        way = min(max((temp_c - c.low_c) / (c.high_c - c.low_c), 0.0), 1.0)
        done += c.weight_g * way * way * (3 - 2 * way)
    return done / whole


def setting_of(frame: Framework, dough: DoughComposition, knowledge: Knowledge) -> Setting:
    """List what sets: protein by class at the share of it that heat sets, starch at a part of its weight.

    Starch gelatinises between about 62 and 80 C in a moist dough (handbook range, from memory), and the later the more
    sugar there is in the water (Spies and Hoseney 1982, Cereal Chem 59, 128, from memory).
    """
    c = knowledge.coefficient
    carriers = []
    sweet = dough.sugars + dough.polyols + dough.erythritol + dough.allulose
    sweet_pct = 100 * sweet / dough.water if dough.water > 0 else 0.0
    later = c("starch_sets_later_by_sugar") * sweet_pct / (1 + sweet_pct / c("starch_sugar_scale_pct"))
    for name, grams in frame.by_class.items():
        entry = knowledge.protein_classes[name]
        if entry.sets_c is not None and grams * entry.sets_share > 0:
            low, high = entry.sets_c
            carriers.append(
                Carrier(name=entry.name, weight_g=grams * entry.sets_share, low_c=low, high_c=high)
            )
    if dough.starch > 0:
        carriers.append(
            Carrier(
                name="starch",
                weight_g=dough.starch * c("starch_carries"),
                low_c=c("starch_sets_from_c") + later,
                high_c=c("starch_sets_to_c") + later,
            )
        )
    return Setting(
        carriers=tuple(carriers),
        cool_setting_g=frame.by_class.get("collagen", 0.0) + frame.melting_casein,
        carries_from=c("carries_from_share"),
        otherwise_c=c("core_set_c"),
    )
