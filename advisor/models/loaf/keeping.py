"""How long a loaf keeps: firming by the day, and days without mould in its bag."""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.formula.formula import Process
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.composition import DoughComposition
from advisor.models.loaf.influences import Influences

_OPEN = ("unwrapped", "uncovered", "unpacked", "without wrap", "without a bag", "open air", "in the air")
LONGEST_DAYS = 14.0
"""No keeping is followed further: two weeks stand for two weeks or more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Firming:
    """Firmness fresh over that of an ordinary fresh loaf (-), how far it rises at the end, and how fast [1/day]."""

    fresh: float
    rise: float
    per_day: float
    power: float

    def after(self, days: float) -> float:
        """Firmness after some days: F0 (1 + R (1 - exp(-(k t)^n))), n near 1 for bread crumb.

        Avrami's form of crystallisation, as Cornford, Axford and Elton 1964 (Cereal Chem 41, 216) put it to bread
        (from memory).
        """
        return self.fresh * (1 + self.rise * -math.expm1(-((self.per_day * days) ** self.power)))

    def days_until(self, times_fresh: float) -> float:
        """Days until the crumb is so many times as firm as fresh; two weeks where it does not come so far."""
        part = (times_fresh - 1) / self.rise if self.rise > 0 else 1.0
        if part >= 1:
            return LONGEST_DAYS
        days = (-math.log1p(-part)) ** (1 / self.power) / self.per_day
        return float(min(days, LONGEST_DAYS))


def firming_of(
    fresh: float,
    dough: DoughComposition,
    water_load: float,
    acting: Influences,
    knowledge: Knowledge,
    kept_c: float | None = None,
    *,
    kept_open: bool = False,
) -> Firming:
    """Firming of a crumb kept at `kept_c` [C] (`None`: a room): its rise by the starch in its solids, against it the
    water it can hold. A loaf kept open dries beside that.
    """
    c = knowledge.coefficient
    solids = max(dough.total - dough.water, 1e-9)
    starchy = dough.starch / solids
    moister = math.log(water_load / c("firm_reference_load"))
    rise = (
        c("firming_rise_of_starch") * starchy + c("firming_rise_of_rest") * (1 - starchy)
    ) * acting.factor("firming")
    return Firming(
        fresh=fresh,
        rise=(rise + (c("firming_rise_of_drying") if kept_open else 0.0))
        * math.exp(-c("firming_water_slows") * moister),
        per_day=c("firming_per_day_usual") * _pace(kept_c, knowledge),
        power=c("firming_power"),
    )


def kept_at_c(process: Process, knowledge: Knowledge) -> float | None:
    """Heat at which a loaf is kept: as stated, or that of the fridge or freezer that is named [C]."""
    if process.stored_c is not None:
        return process.stored_c
    where = (process.stored or "").lower()
    if "freez" in where or "frozen" in where:
        return knowledge.coefficient("freezer_c")
    return knowledge.coefficient("fridge_c") if "fridge" in where or "refrigerat" in where else None


def kept_open(process: Process) -> bool:
    """Whether a loaf is said to be kept unwrapped, so that it dries."""
    return any(word in (process.stored or "").lower() for word in _OPEN)


def _pace(kept_c: float | None, knowledge: Knowledge) -> float:
    """Pace of firming over that in a room: faster the colder, down to just above freezing; slow in the freezer.

    exp(-s (T - T_ref)) down to `firming_fastest_c`, so that time constants fall from 3.7 days at 21 C to 1.8 near
    freezing (Cornford, Axford and Elton 1964, from memory); as ice forms, exp((T - 0) / d) of that.
    """
    if kept_c is None:
        return 1.0
    c = knowledge.coefficient
    chilled = math.exp(-c("firming_per_c") * (max(kept_c, c("firming_fastest_c")) - c("room_c")))
    return float(chilled * math.exp(min(kept_c, 0.0) / c("firming_frozen_scale_c")))


def water_activity(
    dough: DoughComposition, left_sugars_g: float, water_g: float, knowledge: Knowledge
) -> float:
    """Water activity of the crumb (0..1): Raoult's law for what is dissolved, times what starch and protein hold.

    a_w = g n_w / (n_w + sum n_i), moles of water, sugars, polyols, allulose and twice the salt (its two ions).
    Validity: moist crumbs, 0.85 to 0.99. Raoult 1887, from memory; g stands in knowledge/coefficients.yaml.
    """
    if water_g <= 0:
        return 0.0
    dissolved = (
        left_sugars_g / 300.0
        + dough.polyols / 182.2
        + dough.erythritol / 122.1
        + dough.allulose / 180.2
        + 2 * dough.sodium_mg / 1000 / 22.99
    )
    moles = water_g / 18.015
    return knowledge.coefficient("crumb_activity_of_solids") * moles / (moles + dissolved)


def days_without_mould(
    activity: float, ph: float | None, acting: Influences, knowledge: Knowledge, kept_c: float | None = None
) -> float:
    """Days in a bag at `kept_c` [C] (`None`: a room) until mould shows: longer the drier, sourer and cooler.

    ln(t / t_ref) = (a_ref - a_w) / s ln 2 + k (pH_ref - pH) + q (T_room - T) + p u(pH) / u(pH_ref), where
    u = 1 / (1 + 10^(pH - pK)) is the part of a preservative that acts, undissociated. Form after growth models of
    bread moulds (from memory); at most six weeks.
    """
    c = knowledge.coefficient
    sour = c("mould_reference_ph")
    now = sour if ph is None else ph

    def acts(at: float) -> float:
        return float(1 / (1 + 10 ** (at - c("preservative_half_ph"))))

    grown = math.log(2) * (c("mould_reference_activity") - activity) / c("mould_activity_doubles")
    grown += c("mould_acid_helps") * (sour - now) + acting.summed("mould") * acts(now) / acts(sour)
    if kept_c is not None:
        # Above its best heat mould grows no faster.
        grown += c("mould_per_c") * (c("room_c") - min(kept_c, c("mould_best_c")))
    return min(c("mould_days_usual") * math.exp(grown), 3 * LONGEST_DAYS)
