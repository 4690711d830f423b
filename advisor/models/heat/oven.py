"""A loaf in the oven: its core, set share, top and water over time.

A tin loaf is a section and two ends that dry; round tins and rolls are bodies of revolution.
The loaf keeps the size that it has when it goes in. Arrays come from `advisor.models.heat.conduction`, which is
imported when a loaf is first baked.
"""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TYPE_CHECKING

from advisor.models.dough.thermal import LATENT_J_KG, boiling_point_c, pressure_pa, vapour_pressure_pa
from advisor.models.heat.bake_curves import BakeCurves, crust_browning
from advisor.models.heat.crumb import tabulate_crumb
from advisor.models.heat.loaf_heat import LoafHeat, OvenCoefficients, Wall
from advisor.models.heat.oven_programme import OvenProgramme, OvenStage
from advisor.models.heat.time_steps import Pace

if TYPE_CHECKING:
    from advisor.models.heat.conduction import Array, Face, History, Material
    from advisor.models.heat.section_grid import Cells

__all__ = [
    "BakeCurves",
    "LoafHeat",
    "OvenCoefficients",
    "OvenProgramme",
    "OvenStage",
    "bake",
    "boiling_point_c",
    "crust_browning",
    "pressure_pa",
    "vapour_pressure_pa",
]

LIMIT_MIN = 180.0
"""No bake is followed further."""
BEYOND_MIN = 9.0
"""A bake is followed so long past the target of its core: most loaves are pulled within that."""
PACE = Pace(first_s=8.0, growth=0.08, later_s=20.0, later_growth=0.006)
"""Steps in time for a loaf 10 cm thick."""
SHELLS = 6
"""Parts of a section that are followed apart, of equal mass."""


class OutsideOvenModel(ValueError):
    """Raised when a piece, a dough or an oven lies outside what the solver covers."""


def _refuse_what_no_oven_does(loaf: LoafHeat) -> None:
    if not 0.01 <= min(loaf.width_m, loaf.height_m) <= max(loaf.width_m, loaf.height_m) <= 0.6:
        raise OutsideOvenModel(f"section {loaf.width_m:g} x {loaf.height_m:g} m lies outside 0.01 to 0.6 m")
    if not 0 <= loaf.start_c < 60:
        raise OutsideOvenModel(f"dough at {loaf.start_c:g} C lies outside 0 to 60 C")
    for oven_c in loaf.heats_c:
        if not 70 <= oven_c <= 320:
            raise OutsideOvenModel(f"oven at {oven_c:g} C lies outside 70 to 320 C")
    if not 50 <= loaf.density_kg_m3 <= 1600:
        raise OutsideOvenModel(f"density {loaf.density_kg_m3:g} kg/m3 lies outside 50 to 1600 kg/m3")


def _faces(loaf: LoafHeat, coefficients: OvenCoefficients) -> tuple[Face, Face, Face]:
    """Side, base and top: bare crust, or dough behind the wall of a pan or tray."""
    from advisor.models.heat.conduction import Face

    air = coefficients.h_fan if loaf.fan else coefficients.h_still
    wall = loaf.wall or Wall(
        emissivity=coefficients.emissivity_shiny,
        contact=coefficients.pan_contact,
        heat=coefficients.pan_heat,
    )
    bare = bare_face(loaf, coefficients, air)
    walled = Face(
        convection=air,
        emissivity=wall.emissivity,
        contact=wall.contact,
        wall_heat=wall.heat,
    )
    base = walled if loaf.programme is None else replace(walled, wall_c=loaf.programme.base_c)
    return (walled if loaf.pan in ("tin", "round") else bare), base, bare


def bare_face(loaf: LoafHeat, coefficients: OvenCoefficients, air: float) -> Face:
    """Bare dough in air that takes `air` W/(m2 K) to it: it is heated by the air and the oven, and dries."""
    from advisor.models.heat.conduction import Face

    # Lewis: mass moves with heat, h / (c_air Le^(2/3)), and per Pa of vapour M_water / (M_air P).
    lewis = air / (1006.0 * 0.865 ** (2 / 3)) * 0.622 / pressure_pa(loaf.altitude_m)
    return Face(
        convection=air,
        emissivity=coefficients.emissivity_crust,
        drying=coefficients.skin_drying * lewis,
        reserve=coefficients.skin_reserve,
    )


def _shells(temps: Array, minutes: Array, weights: Array, set_c: float) -> tuple[Array, Array]:
    """Mean temperature (time, shell) of parts of equal mass in the order in which they set, and their shares.

    Cells are ordered by when they pass `set_c`, then by how hot they are at the last; one that lies across two
    shells belongs to each with its share, so that all shells weigh the same whatever the grid.
    """
    import numpy as np

    cells = temps.reshape(len(temps), -1)
    after = np.clip((cells < set_c).sum(axis=0), 1, len(cells) - 1)
    low, high = (np.take_along_axis(cells, index[None, :], axis=0)[0] for index in (after - 1, after))
    # Within its step a cell passes as it warms; one that never sets comes after all others.
    part = np.clip((set_c - low) / np.maximum(high - low, 1e-9), 0.0, 1.0)
    passing = minutes[after - 1] + part * (minutes[after] - minutes[after - 1])
    order = np.lexsort((-cells[-1], passing))
    upto = np.cumsum(weights.ravel()[order])
    upto /= upto[-1]
    edges = np.linspace(0.0, 1.0, SHELLS + 1)[:, None]
    within = np.diff(np.minimum(upto, edges), axis=0)  # mass of the cells so far that lies in each shell
    members = np.diff(within, axis=1, prepend=0.0)
    shares = members.sum(axis=1)
    return _by_row(cells[:, order], members.T) / shares, shares


def _coldest(temps: Array, cells: Cells, boiling_c: float) -> Array:
    """Temperature of the coldest point of the section (time), C, wherever between the cells it lies."""
    import numpy as np

    from advisor.models.heat.section_grid import read_closer

    # Behind the boiling front a cubic would swing below the plateau: there the coldest cell counts.
    lowest = temps.min(axis=(1, 2))
    between = read_closer(cells).along_middle(np.minimum(temps, boiling_c)).min(axis=1)
    return np.asarray(between + np.maximum(lowest - boiling_c, 0.0))


def _by_row(values: Array, weights: Array) -> Array:
    """Sum each moment's row by weights, digit for digit the same however many rows there are, as no product is."""
    import numpy as np

    return np.asarray(np.einsum("tc,c...->t...", values, weights))


def dough_material(
    loaf: LoafHeat, coefficients: OvenCoefficients, boiling_c: float, *, hottest_c: float
) -> Material:
    """Tables of the dough as a conductor up to `hottest_c`, with the pressure of vapour over its bare skin."""
    import numpy as np

    from advisor.models.heat.conduction import tabulate

    table = tabulate_crumb(
        loaf.makeup,
        loaf.density_kg_m3,
        boiling_c=boiling_c,
        air_pa=pressure_pa(loaf.altitude_m) / loaf.water_activity,
        hottest_c=max(hottest_c, boiling_c) + 5,
        vapour_share=coefficients.vapour_share,
        vapour_cap=coefficients.vapour_cap,
        front_width_c=coefficients.front_width_c,
        dry_residue=coefficients.dry_residue,
    )

    def skin_pressure(temp_c: float) -> float:
        # Past boiling the front inside gives the vapour, and the skin has dried.
        fade = min(max((boiling_c + 10 - temp_c) / 10, 0.0), 1.0)
        return fade * loaf.water_activity * vapour_pressure_pa(min(temp_c, boiling_c)) if fade else 0.0

    return tabulate(
        table.temp_c,
        table.volumetric_heat,
        table.conductivity,
        table.water_gone,
        LATENT_J_KG,
        np.array([skin_pressure(temp_c) for temp_c in table.temp_c.tolist()]),
    )


def _off_the_ends(gone: Array, cells: Cells, length_m: float) -> Array:
    """Water that two ends lose beside the section (time), kg/m3 of loaf.

    An end dries as the sides do half way up; what is gone there already, by top and base, is not lost again.
    """
    import numpy as np

    middle = cells.dy.size // 2
    side_kg_m2 = (gone[:, :, middle - 1] + gone[:, :, middle]) / 2 @ cells.dx
    most = np.maximum(gone.max(), 1e-9)
    left = 1 - _by_row(gone.reshape(len(gone), -1), cells.weights.ravel()) / most
    return np.asarray(2 / length_m * side_kg_m2 * left)


def read_off(
    history: History,
    material: Material,
    density_kg_m3: float,
    set_c: float,
    boiling_c: float,
    *,
    length_m: float | None = None,
) -> BakeCurves:
    """Turn snapshots of heat into curves, which nobody may write to: they are shared by all who ask the cache.

    `length_m` is that of a loaf with two ends; without it the section is all there is.
    """
    import numpy as np

    # One pass through the table reads both columns: the one as real part, the other as imaginary part.
    both = np.interp(history.heat, material.heat, material.temp_c + 1j * material.water_gone)
    temps, gone = both.real, both.imag
    # A cell counts in part while it is within 1.5 K of the set, so that the share does not move in stairs.
    setting = np.clip((temps - set_c) / 3.0 + 0.5, 0.0, 1.0)
    minutes, weights = history.seconds / 60, history.cells.weights.ravel()

    def over_section(values: Array) -> Array:
        return _by_row(values.reshape(len(values), -1), weights)

    lost = over_section(gone) + history.dried_kg_m3
    if length_m is not None:
        lost = lost + _off_the_ends(gone, history.cells, length_m)
    shell_c, shell_share = _shells(temps, minutes, weights, set_c)
    curves = BakeCurves(
        minutes=minutes,
        core_c=np.maximum.accumulate(_coldest(temps, history.cells, boiling_c)),
        mean_c=over_section(temps),
        shell_c=shell_c,
        shell_share=shell_share,
        set_share=np.maximum.accumulate(np.minimum(over_section(setting), 1.0)),
        surface_top_c=history.top_c,
        water_lost_frac=lost / density_kg_m3,
        set_c=set_c,
        boiling_c=boiling_c,
        heat_taken_j_m3=history.taken_j_m3,
        heat_held_j_m3=over_section(history.heat) - over_section(history.heat[:1]),
    )
    for field in fields(BakeCurves):
        if isinstance(curve := getattr(curves, field.name), np.ndarray):
            curve.flags.writeable = False
    return curves


def bake(
    loaf: LoafHeat,
    coefficients: OvenCoefficients,
    until_min: float,
    set_c: float,
    *,
    target_c: float = 96.0,
    refine: float = 1.0,
) -> BakeCurves:
    """Heat a loaf for `until_min` minutes, and on until nine past its core has `target_c`, for 180 at most.

    The target counts as met 2.5 K below the boiling point where that is lower. `refine` multiplies the cells
    in each direction and the steps in time, for tests of convergence.

    Raises:
        ValueError: size, temperatures, density or altitude lie outside what the model covers.
    """
    _refuse_what_no_oven_does(loaf)
    from advisor.models.heat.conduction import Section, conduct
    from advisor.models.heat.oven_around import oven_about

    boiling_c = boiling_point_c(loaf.altitude_m, loaf.water_activity)
    material = dough_material(loaf, coefficients, boiling_c, hottest_c=max(loaf.heats_c))
    side, base, top = _faces(loaf, coefficients)
    oven = oven_about(loaf, coefficients)
    pace = PACE.for_size(min(loaf.width_m, loaf.height_m)).refined(refine)
    history = conduct(
        material,
        Section(
            half_width_m=loaf.width_m / 2,
            height_m=loaf.height_m,
            turned=loaf.pan in ("round", "rolls"),
            side=side,
            base=base,
            top=top,
        ),
        start_c=loaf.start_c,
        oven=oven,
        until_s=min(until_min, LIMIT_MIN) * 60,
        core_target_c=min(target_c, boiling_c - 2.5),
        beyond_s=BEYOND_MIN * 60,
        limit_s=LIMIT_MIN * 60,
        pace=pace,
        cells=(round(10 * refine), round(18 * refine)),
        finest=0.22,
    )
    length_m = None if loaf.pan in ("round", "rolls") else loaf.length_m
    return read_off(history, material, loaf.density_kg_m3, set_c, boiling_c, length_m=length_m)
