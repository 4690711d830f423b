"""What stands about a loaf in the oven over time: its air, vapour let in or kept in, a lid, foil laid over."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.models.heat.oven_air import Air
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

    @property
    def hottest_c(self) -> float:
        """Highest temperature that the dial stands at, C."""
        return self.air.hottest_c

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
