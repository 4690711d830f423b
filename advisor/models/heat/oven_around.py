"""What stands about a loaf in the oven over time: its air, vapour let in or kept in, a lid, foil laid over."""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.models.dough.thermal import pressure_pa
from advisor.models.heat.loaf_heat import LoafHeat, OvenCoefficients
from advisor.models.heat.oven_air import Air, Opening, Turn
from advisor.models.heat.oven_programme import OvenProgramme, OvenStage
from advisor.models.heat.skin import Around


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """From `from_s` until `until_s`: vapour about the skin, Pa, and the shares of heat that still come (0..1)."""

    from_s: float
    until_s: float
    vapour_pa: float = 0.0
    convection: float = 1.0
    radiation: float = 1.0
    top_radiation: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Oven:
    """The air, and what covers the loaf meanwhile; of two covers at once each takes its share."""

    air: Air
    covers: tuple[Cover, ...] = ()

    @property
    def moments(self) -> tuple[float, ...]:
        """When something happens after loading, s."""
        ends = [end for cover in self.covers for end in (cover.from_s, cover.until_s)]
        return (*self.air.moments, *ends)

    def around(self, now_s: float) -> Around:
        """What the skin meets at a moment, s from loading; a cover counts behind its own moment, as an opening does."""
        vapour, convection, radiation, top = 0.0, 1.0, 1.0, 1.0
        for cover in self.covers:
            if cover.from_s < now_s <= cover.until_s:
                vapour = max(vapour, cover.vapour_pa)
                convection *= cover.convection
                radiation *= cover.radiation
                top *= cover.top_radiation
        return Around(
            air_c=self.air.at(now_s),
            vapour_pa=vapour,
            convection=convection,
            radiation=radiation,
            top_radiation=top,
        )


def oven_about(loaf: LoafHeat, coefficients: OvenCoefficients) -> Oven:
    """What stands about the loaf: a door open for s takes drop (1 - exp(-s / falls)) off the air."""
    openings: tuple[Opening, ...] = ()
    if loaf.opened_at_min is not None and loaf.opened_for_s > 0:
        fallen = 1 - math.exp(-loaf.opened_for_s / coefficients.door_falls_s)
        openings = (Opening(at_s=loaf.opened_at_min * 60, drop_k=coefficients.door_drop_c * fallen),)
    programme = loaf.programme or OvenProgramme(stages=(OvenStage(from_min=0.0, air_c=loaf.oven_c),))
    at_loading = programme.stages[0].air_c if programme.preheat_c is None else programme.preheat_c
    air = Air(
        set_c=at_loading,
        drop_k=coefficients.door_drop_c,
        recovery_s=coefficients.door_recovery_min * 60,
        openings=openings,
        turns=_turns(programme, at_loading, coefficients),
        cold_c=loaf.cold_c,
        warming_s=coefficients.warming_min * 60,
    )
    return Oven(air=air, covers=_covers(loaf, programme, coefficients))


def _turns(programme: OvenProgramme, at_loading_c: float, coefficients: OvenCoefficients) -> tuple[Turn, ...]:
    turns, before = [], at_loading_c
    for stage in programme.stages:
        if stage.air_c != before:
            up = stage.air_c > before
            lag = coefficients.door_recovery_min if up else coefficients.cooling_min
            turns.append(Turn(at_s=stage.from_min * 60, by_k=stage.air_c - before, lag_s=lag * 60))
        before = stage.air_c
    return tuple(turns)


def _covers(loaf: LoafHeat, programme: OvenProgramme, coefficients: OvenCoefficients) -> tuple[Cover, ...]:
    """Lid, steam and foil. Steam let in leaves with time; under a lid the loaf makes its own and keeps it."""
    air_pa, covers = pressure_pa(loaf.altitude_m), []
    ends = [stage.from_min for stage in programme.stages[1:]] + [math.inf]
    for stage, end_min in zip(programme.stages, ends, strict=True):
        if stage.lid:
            covers.append(
                Cover(
                    from_s=stage.from_min * 60,
                    until_s=end_min * 60,
                    vapour_pa=coefficients.lid_vapour * air_pa,
                    convection=coefficients.lid_convection,
                    radiation=coefficients.lid_radiation,
                )
            )
        if stage.steam:
            lasts = min(end_min - stage.from_min, coefficients.steam_min)
            covers.append(
                Cover(
                    from_s=stage.from_min * 60,
                    until_s=(stage.from_min + lasts) * 60,
                    vapour_pa=coefficients.steam_vapour * air_pa,
                )
            )
    if loaf.tented_at_min is not None:
        tented_s = loaf.tented_at_min * 60
        covers.append(Cover(from_s=tented_s, until_s=math.inf, top_radiation=coefficients.tent_radiation))
    return tuple(covers)
