"""A bun in steam: its surface is at the boiling point at once, it takes heat from what condenses and dries nowhere.

The conduction is that of a loaf in the oven; no front moves inwards, since nothing gets hotter than steam.
"""

from __future__ import annotations

from advisor.models.dough.thermal import boiling_point_c
from advisor.models.heat.bake_curves import BakeCurves
from advisor.models.heat.loaf_heat import HeatCoefficients, LoafHeat, OvenCoefficients
from advisor.models.heat.oven import PACE, OutsideOvenModel, dough_material, read_off


def steam(
    bun: LoafHeat, coefficients: OvenCoefficients, *, minutes: float, set_c: float, heat: HeatCoefficients
) -> BakeCurves:
    """Steam for so many minutes.

    The heat of a bun comes from its own size, dough and start; its oven and its pan count for nothing. A body of
    revolution where `bun.pan` is `rolls` or `round`.

    Raises:
        OutsideOvenModel: size or time lie outside what the model covers.
    """
    if not 0.01 <= min(bun.width_m, bun.height_m) <= max(bun.width_m, bun.height_m) <= 0.3:
        raise OutsideOvenModel(f"bun of {bun.width_m:g} x {bun.height_m:g} m lies outside 0.01 to 0.3 m")
    if not 0 < minutes <= 180:
        raise OutsideOvenModel(f"steaming for {minutes:g} min lies outside 0 to 180 min")
    from advisor.models.heat.conduction import Face, Oven, Section, conduct
    from advisor.models.heat.oven_air import Air

    boiling_c = boiling_point_c(bun.altitude_m, bun.water_activity)
    steam_c = boiling_c - heat.steam_below_boiling_c
    material = dough_material(bun, coefficients, boiling_c, hottest_c=boiling_c)
    face = Face(convection=heat.steam_condensing)
    history = conduct(
        material,
        Section(
            half_width_m=bun.width_m / 2,
            height_m=bun.height_m,
            turned=bun.pan in ("round", "rolls"),
            side=face,
            base=face,
            top=face,
        ),
        start_c=bun.start_c,
        oven=Oven(air=Air(set_c=steam_c)),
        until_s=60 * minutes,
        core_target_c=steam_c,
        limit_s=60 * minutes,
        pace=PACE.for_size(min(bun.width_m, bun.height_m)),
        cells=(10, 18),
    )
    return read_off(history, material, bun.density_kg_m3, set_c, boiling_c)
