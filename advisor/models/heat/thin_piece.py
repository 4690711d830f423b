"""A flat piece through its thickness: on a hot plate, turned or not, or with both faces in the oven.

One dimension of the same conduction as a loaf: a flatbread is far wider than it is thick. A plate holds its heat;
the face upon it dries through it as a bare one does.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor.models.dough.thermal import boiling_point_c
from advisor.models.heat.loaf_heat import HeatCoefficients, LoafHeat, OvenCoefficients
from advisor.models.heat.oven import OutsideOvenModel, bare_face, dough_material
from advisor.models.heat.time_steps import Pace

if TYPE_CHECKING:
    from advisor.models.heat.conduction import Array, Face, History

THINNEST_M, THICKEST_M = 0.001, 0.03
"""Below, a piece is one skin without a core; above, its edges count."""
_LAYERS = 14
_PLATE_HEAT = 1e7
"""Heat of a plate, J/(m2 K): one that the dough does not cool."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ThinPiece:
    """A flat dough: thickness in m as it lies there, and for the rest what the oven sees of a loaf."""

    thickness_m: float
    dough: LoafHeat


@dataclass(frozen=True, slots=True, kw_only=True)
class ThinBake:
    """What came of it: coldest point in C at the end and when it had `set_c`, in min; water lost and left over the
    dough's mass and the piece's own; temperatures of both faces, C.
    """

    core_c: float
    core_set_min: float | None
    water_lost_frac: float
    water_left_frac: float
    base_c: float
    top_c: float


def on_griddle(
    piece: ThinPiece,
    oven: OvenCoefficients,
    *,
    plate_c: float,
    sides_min: tuple[float, ...],
    set_c: float,
    heat: HeatCoefficients,
    room_c: float,
) -> ThinBake:
    """Bake on a plate at `plate_c`, one side after the other for so many minutes, turned between them.

    The upper face meets the room's air, C.

    Raises:
        OutsideOvenModel: plate, thickness or times lie outside what the model covers.
    """
    _refuse_thickness(piece)
    if not 110 <= plate_c <= 350:
        raise OutsideOvenModel(f"plate at {plate_c:g} C lies outside 110 to 350 C")
    if not sides_min or not all(0 < minutes <= 30 for minutes in sides_min):
        raise OutsideOvenModel("each side of a flatbread takes more than 0 and at most 30 min")
    from advisor.models.heat.conduction import Face

    top = bare_face(piece.dough, oven, oven.h_still)
    base = Face(convection=0.0, contact=heat.griddle_contact, wall_heat=_PLATE_HEAT, wall_c=plate_c)
    return _through(
        piece, oven, faces=(base, top), air_c=room_c, hottest_c=plate_c, sides_min=sides_min, set_c=set_c
    )


def in_oven(
    piece: ThinPiece,
    oven: OvenCoefficients,
    *,
    oven_c: float,
    minutes: float,
    set_c: float,
    base: Face | None = None,
) -> ThinBake:
    """Bake with both faces in the oven's air, or on `base`.

    Raises:
        OutsideOvenModel: oven, thickness or time lie outside what the model covers.
    """
    _refuse_thickness(piece)
    if not 70 <= oven_c <= 500:
        raise OutsideOvenModel(f"oven at {oven_c:g} C lies outside 70 to 500 C")
    if not 0 < minutes <= 120:
        raise OutsideOvenModel(f"{minutes:g} min lies outside 0 to 120 min")
    air = oven.h_fan if piece.dough.fan else oven.h_still
    bare = bare_face(piece.dough, oven, air)
    faces = (base or bare, bare)
    return _through(
        piece, oven, faces=faces, air_c=oven_c, hottest_c=oven_c, sides_min=(minutes,), set_c=set_c
    )


def _refuse_thickness(piece: ThinPiece) -> None:
    if not THINNEST_M <= piece.thickness_m <= THICKEST_M:
        least, most = 1000 * THINNEST_M, 1000 * THICKEST_M
        raise OutsideOvenModel(f"{1000 * piece.thickness_m:g} mm lies outside {least:g} to {most:g} mm")


def _through(
    piece: ThinPiece,
    oven: OvenCoefficients,
    *,
    faces: tuple[Face, Face],
    air_c: float,
    hottest_c: float,
    sides_min: tuple[float, ...],
    set_c: float,
) -> ThinBake:
    """Follow side after side; what is up comes down, with the heat that it has."""
    import numpy as np

    from advisor.models.heat.conduction import Face, Oven, Section, conduct
    from advisor.models.heat.oven_air import Air

    dough = piece.dough
    boiling_c = boiling_point_c(dough.altitude_m, dough.water_activity)
    material = dough_material(dough, oven, boiling_c, hottest_c=hottest_c)
    base, top = faces
    # A square of the thickness over the diffusivity of dough is some 7 s for a millimetre.
    scale = (piece.thickness_m / 0.01) ** 1.5
    pace = Pace(first_s=0.6 * scale, growth=0.04, later_s=4.0 * scale, later_growth=0.004)
    shut = Face(convection=0.0)
    section = Section(
        half_width_m=0.05, height_m=piece.thickness_m, turned=False, side=shut, base=base, top=top
    )
    heat: Array | None = None
    before_min, dried, set_min = 0.0, 0.0, None
    for minutes in sides_min:
        history = conduct(
            material,
            section,
            start_c=dough.start_c,
            oven=Oven(air=Air(set_c=air_c)),
            until_s=60 * minutes,
            core_target_c=hottest_c,
            limit_s=60 * minutes,
            pace=pace,
            cells=(2, _LAYERS),
            finest=0.4,
            start_heat=heat,
        )
        last = _at_end(history, 60 * minutes)
        core = np.interp(history.heat.min(axis=(1, 2)), material.heat, material.temp_c)
        if set_min is None and core.max() >= set_c:
            set_min = before_min + float(np.interp(set_c, np.maximum.accumulate(core), history.seconds)) / 60
        dried += float(np.interp(60 * minutes, history.seconds, history.dried_kg_m3))
        before_min += minutes
        heat = last[:, ::-1]
    temps = np.interp(last[0], material.heat, material.temp_c)
    gone = float((np.interp(last, material.heat, material.water_gone) * history.cells.weights).sum())
    # What a bare skin lets go below boiling comes out of the same water as what boils off behind it.
    lost = min((gone + dried) / dough.density_kg_m3, dough.water_frac)
    return ThinBake(
        core_c=float(temps.min()),
        core_set_min=set_min,
        water_lost_frac=lost,
        water_left_frac=(dough.water_frac - lost) / (1 - lost),
        base_c=float(temps[0]),
        top_c=float(temps[-1]),
    )


def _at_end(history: History, end_s: float) -> Array:
    """Heat (x, y) at the end, between the last two moments."""
    import numpy as np

    late, early = history.seconds[-1], history.seconds[-2]
    share = (end_s - early) / (late - early)
    return np.asarray(history.heat[-2] * (1 - share) + history.heat[-1] * share)
