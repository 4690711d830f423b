"""The crosslinking enzyme: dose on the protein it can link, and how long it works before the oven ends it."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.cardinal import cardinal_rate
from advisor.models.dough.proteins import Framework


@dataclass(frozen=True, slots=True, kw_only=True)
class Crosslinking:
    """Units per gram of reactive protein, and that dose times relative activity added up over minutes."""

    u_per_g: float
    exposure: float


def crosslinking(
    frame: Framework, stages: tuple[tuple[float, float], ...], knowledge: Knowledge
) -> Crosslinking | None:
    """Exposure = dose x sum of minutes x activity(T) over stages of (minutes, degrees C) [U min/g].

    Activity by the cardinal model about 50 C, ended by 70 C. Source: Yokoyama, Nio, Kikuchi 2004, Appl. Microbiol.
    Biotechnol. 64, 447 (from memory). `None` where there is no enzyme or nothing for it to link.
    """
    if frame.enzyme_units <= 0 or frame.reactive <= 0:
        return None
    c = knowledge.coefficient
    dose = frame.enzyme_units / frame.reactive
    corners = (c("crosslinker_min_c"), c("crosslinker_optimum_c"), c("crosslinker_max_c"))
    return Crosslinking(
        u_per_g=dose, exposure=dose * sum(minutes * cardinal_rate(t, *corners) for minutes, t in stages)
    )
