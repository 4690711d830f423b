"""What the films between bubbles are made of: shares of gluten, egg, melted cheese, gum and starch, by amounts.

A film is made by what there is enough of. Gluten makes one where its threads meet, which is a matter of how much of it
stands in the dough's water; what gluten does not hold is shared by egg, cheese, gum and starch as each nears the
amount that makes a film. All is smooth in every amount: a trace of gluten does not make a kneaded dough.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough_state import DoughState


@dataclass(frozen=True, slots=True, kw_only=True)
class Films:
    """Shares of the films by structure (sum 1), and how full gluten and egg films are against a usual one (0..)."""

    shares: Mapping[str, float]
    gluten_fill: float
    egg_fill: float
    watered: float
    """What water does to the rise (-): less where protein, starch and gum compete for it, more as a batter eases."""
    mixed: float = 1.0
    """What mixing short of its best or past it leaves of the rise (0..1)."""

    @property
    def gluten(self) -> float:
        """Share of the films that is gluten's, with egg or without (0..1)."""
        return self.shares["kneaded_gluten"] + self.shares["gluten_egg"]

    @property
    def weak(self) -> float:
        """Share of the films that only starch and gum make (0..1)."""
        return self.shares["starch_gel"] + self.shares["gum_bound"]


def hill(amount: float, half: float, power: float) -> float:
    """Share (0..1) that rises with an amount, one half at `half`: x^n / (1 + x^n). Hill 1910, J Physiol 40, iv."""
    if amount <= 0:
        return 0.0
    x: float = (amount / half) ** power
    return x / (1 + x)


def films_of(dough_state: DoughState, knowledge: Knowledge) -> Films:
    """Share out the films of a dough by what it holds.

    Gluten's part is a Hill function of its concentration in its own water [g/g], since a network needs its threads to
    meet; egg beside it makes a batter of the two where both are plenty. The rest is shared in proportion to the
    square of each amount over the one that makes a film. Form: percolation (Stauffer and Aharony 1994, from
    memory); the amounts are calibrated on the good formulas of tests/models/test_specific_volume.py.
    """
    c = knowledge.coefficient
    values, frame = dough_state.values, dough_state.frame
    gluten = frame.by_class.get("gluten", 0.0)
    egg = frame.by_class.get("egg_white", 0.0) + frame.by_class.get("yolk", 0.0)
    whole = gluten + dough_state.water.available
    kneaded = hill(gluten / whole if whole > 0 else 0.0, c("film_gluten_half"), c("film_gluten_power"))
    of_dry = values["gluten_pct_of_dry"] or 0.0
    both = hill(values["egg_beside_gluten"] or 0.0, c("film_egg_beside_gluten_half"), 8)
    both *= hill(of_dry, c("film_gluten_plenty_pct"), 8)
    rest = {
        "egg_set": (_set_white_and_yolk(dough_state, egg, knowledge) / c("film_egg_pct")) ** 2,
        "cheese_bound": (100 * frame.melting_casein / dough_state.dough.total / c("film_cheese_pct")) ** 2,
        "gum_bound": ((values["gum_load"] or 0.0) / c("film_gum_load")) ** 2,
        "starch_gel": ((values["starch_pct"] or 0.0) / c("film_starch_pct")) ** 2,
    }
    summed = sum(rest.values())
    loose = 1 - kneaded
    others = {n: loose * v / summed for n, v in rest.items()} if summed > 0 else {"egg_set": loose}
    plenty = of_dry / (of_dry + c("film_gluten_fills_pct")) / (1 + (of_dry / c("film_gluten_tough_pct")) ** 2)
    load = values["baked_water_load"]
    egg_pct = 100 * egg / dough_state.dough.total
    watered = 1.0 if load is None else hill(load, c("film_starved_load"), c("film_starved_power"))
    hydration = values["mixing_hydration"]
    if hydration is not None and hydration > 0:
        eased = min(hydration, c("film_weak_eased")) / c("film_weak_eases_at")
        watered *= eased ** (c("film_weak_eases") * others.get("starch_gel", 0.0))
        watered *= (hydration / c("film_kneaded_eases_at")) ** (
            c("film_kneaded_eases") * kneaded * (1 - both)
        )
    return Films(
        shares={
            "kneaded_gluten": kneaded * (1 - both),
            "gluten_egg": kneaded * both,
            **dict.fromkeys(rest, 0.0),
        }
        | others,
        gluten_fill=plenty,
        watered=watered,
        mixed=_mixed(dough_state, knowledge) ** (kneaded * (1 - both)),
        egg_fill=1 - math.exp(-egg_pct / c("film_egg_fills_pct")),
    )


def _mixed(dough_state: DoughState, knowledge: Knowledge) -> float:
    """What mixing leaves of a kneaded dough's rise: exp(-c ln^2(t / t_best)), the hours that it stands counted in part.

    A bell on a logarithmic scale, since loaf volume against mixing time rises steeply and falls slowly (form from
    memory of mixing curves; the width is our judgement).
    """
    c, process = knowledge.coefficient, dough_state.with_defaults
    worked = process.mix_min + c("mix_by_standing") * process.stood_min
    return math.exp(-c("mix_width") * math.log(max(worked, 1.0) / c("mix_best_min")) ** 2)


def _set_white_and_yolk(dough_state: DoughState, egg_g: float, knowledge: Knowledge) -> float:
    """Egg protein, with whey that gels as egg does, in % of the dough."""
    whey = dough_state.frame.by_class.get("whey", 0.0) * knowledge.coefficient("film_whey_as_egg")
    return 100 * (egg_g + whey) / dough_state.dough.total
