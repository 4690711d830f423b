"""Lightness of crust and crumb on the CIE L* scale (0 black, 100 white)."""

from __future__ import annotations

import math

from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.thermal import GAS_CONSTANT
from advisor.models.heat.bake_curves import BakeCurves
from advisor.models.loaf.influences import Influences


def browning_dose(curves: BakeCurves, until_min: float, knowledge: Knowledge) -> float:
    """Integral over the bake of the rate at which a crust browns (-): k = k0 exp(-E / R T) at the top's surface.

    First order to a burnt end, k0 42 000 per s and E 64.15 kJ/mol for dried wheat crumb between 140 and 250 C: Zanoni,
    Peri and Bruno 1995, Lebensm Wiss Technol 28, 604 (abstract). Below 140 C the same law is carried on.
    """
    c = knowledge.coefficient
    k0, energy = 60 * c("crust_browning_per_s"), 1000 * c("crust_browning_kj_mol") / GAS_CONSTANT
    minutes, surface = curves.minutes.tolist(), curves.surface_top_c.tolist()
    rates = [k0 * math.exp(-energy / (t + 273.15)) for t in surface]
    dose = 0.0
    for n in range(len(minutes) - 1):
        span = min(minutes[n + 1], until_min) - minutes[n]
        if span <= 0:
            break
        way = span / (minutes[n + 1] - minutes[n])
        dose += span * (rates[n] + (rates[n] + way * (rates[n + 1] - rates[n]))) / 2
    return dose


def crust_readiness(ph: float | None, acting: Influences, knowledge: Knowledge) -> float:
    """How fast a crust browns for what is in it, over that of dried wheat crumb (-): sugars, protein, pH."""
    c = knowledge.coefficient
    alkaline = 0.0 if ph is None else c("crust_alkali_browns") * (ph - c("crust_reference_ph"))
    return c("crust_readiness_usual") * acting.factor("crust") * math.exp(alkaline)


def crust_lightness(
    dose: float, readiness: float, ph: float | None, acting: Influences, knowledge: Knowledge
) -> float:
    """L* of the top crust: from that of dough to that of a burnt crust, first order in dose x readiness.

    What darkens the crumb darkens the crust before it browns, and less the browner it is.
    """
    c = knowledge.coefficient
    dough = min(
        crumb_lightness(ph, acting, knowledge) + c("crust_dough_lightness") - c("crumb_lightness_white"), 95.0
    )
    burnt = c("crust_burnt_lightness")
    return burnt + (dough - burnt) * math.exp(-dose * readiness)


def crumb_lightness(ph: float | None, acting: Influences, knowledge: Knowledge) -> float:
    """L* of the crumb: that of white wheat moved by what is in it, ever less the nearer to the darkest there is.

    An alkaline crumb (`ph` past 7) is darker.
    """
    c = knowledge.coefficient
    white, darkest = c("crumb_lightness_white"), c("crumb_lightness_darkest")
    moved = acting.summed("crumb_light") - c("crumb_alkali_darkens") * max((ph or 7.0) - 7.0, 0.0)
    return min(darkest + (white - darkest) * math.exp(moved / (white - darkest)), 95.0)
