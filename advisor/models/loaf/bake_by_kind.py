"""The bake of pieces that are no loaf: on a plate, thin in the oven, dried, in steam; read off as measures.

A model that refuses a piece leaves its measures without a number, with its own reason.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from advisor.knowledge_base.kind_entries import Kind
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.thermal import GAS_CONSTANT
from advisor.models.dough_state import DoughState
from advisor.models.heat.dried import dry
from advisor.models.heat.loaf_heat import HeatCoefficients, LoafHeat, OvenCoefficients, pan_wall
from advisor.models.heat.oven import OutsideOvenModel
from advisor.models.heat.piece_shape import piece_shape
from advisor.models.heat.steamed import steam
from advisor.models.heat.thin_piece import THICKEST_M, ThinBake, ThinPiece, in_oven, on_griddle
from advisor.models.loaf.bake import oven_programme
from advisor.models.loaf.expansion import Rise

_OWED = ("core_set_min", "core_at_pull_c", "water_left_pct")
Values = dict[str, float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class KindBake:
    """Measures that the bake gives, and for those that it owes and does not give, why."""

    values: Mapping[str, float | None] = field(default_factory=dict)
    reasons: Mapping[str, str] = field(default_factory=dict)


def kind_of(dough_state: DoughState) -> Kind | None:
    """The kind of a dough, where it is not baked as a loaf."""
    chosen = dough_state.with_defaults.chosen
    return None if chosen is None or chosen.kind.heat == "loaf" else chosen.kind


def is_steamed(dough_state: DoughState) -> bool:
    """Whether a dough is cooked in steam, which dries and browns nothing."""
    kind = kind_of(dough_state)
    return kind is not None and kind.heat == "steamed"


def bakes_as_loaf(dough_state: DoughState, lift: Rise) -> bool:
    """Whether the model of a loaf follows the bake: also of a flat piece that lies too thick for the thin one."""
    kind = kind_of(dough_state)
    if kind is None:
        return True
    if kind.heat != "thin" or dough_state.with_defaults.griddle_c is not None:
        return False
    try:
        return thickness_m(dough_state, lift) > THICKEST_M
    except OutsideOvenModel:
        return False


def bake_of_kind(dough_state: DoughState, lift: Rise, into_c: float, knowledge: Knowledge) -> KindBake:
    """Bake one piece of a kind that is no loaf, from `into_c`; it is as thick as it was rolled and has risen."""
    kind = kind_of(dough_state)
    if kind is None or dough_state.dough.total <= 0 or bakes_as_loaf(dough_state, lift):
        return KindBake()
    try:
        match kind.heat:
            case "steamed":
                return KindBake(values=_steamed(dough_state, lift, into_c, knowledge))
            case "dried":
                return KindBake(values=_dried(dough_state, lift, into_c, knowledge))
            case _:
                return KindBake(values=_thin(dough_state, lift, into_c, knowledge))
    except OutsideOvenModel as outside:
        return KindBake(reasons=dict.fromkeys(_OWED, str(outside)))


def _volume_ml(lift: Rise) -> float:
    """Mean of proofed and set volume; where the set is not known, the proofed one."""
    return lift.proofed_ml if lift.set_ml is None else (lift.proofed_ml + lift.set_ml) / 2


def _heat_problem(dough_state: DoughState, lift: Rise, into_c: float, knowledge: Knowledge) -> LoafHeat:
    dough, given = dough_state.dough, dough_state.with_defaults
    p, volume = dough_state.formula.process, _volume_ml(lift) / given.pieces
    shape = piece_shape(dough_state.formula, given, volume, knowledge)
    return LoafHeat(
        width_m=shape.section_width_cm / 100,
        height_m=shape.height_cm / 100,
        water_frac=dough.water / dough.total,
        protein_frac=dough.protein / dough.total,
        fat_frac=dough.fat / dough.total,
        carb_frac=max(dough.carbohydrate - dough.fibre, 0.0) / dough.total,
        fibre_frac=dough.fibre / dough.total,
        ash_frac=dough.ash / dough.total,
        density_kg_m3=dough.total / given.pieces / volume * 1000,
        start_c=into_c,
        oven_c=given.oven_c + (p.oven_offset_c or 0.0),
        fan=given.oven_fan,
        pan=given.pan_kind,
        wall=pan_wall(p.pan_material, knowledge.coefficient),
        altitude_m=given.altitude_m,
        programme=oven_programme(dough_state.formula, given),
    )


def thickness_m(dough_state: DoughState, lift: Rise) -> float:
    """Thickness in the oven, m: as rolled, grown with the dough; of a sheet that fills its tray, volume over area."""
    given, p = dough_state.with_defaults, dough_state.formula.process
    if given.thickness_cm is not None:
        return given.thickness_cm / 100 * max(_volume_ml(lift) / lift.mixed_ml, 1.0)
    if given.sheet and p.pan_length_cm and p.pan_width_cm:
        return _volume_ml(lift) / given.pieces / (p.pan_length_cm * p.pan_width_cm) / 100
    raise OutsideOvenModel("how thick it lies is not stated")


def _minutes(dough_state: DoughState) -> float:
    if (minutes := dough_state.with_defaults.bake_min) is None:
        raise OutsideOvenModel("how long it bakes is not stated")
    return minutes


def _thin(dough_state: DoughState, lift: Rise, into_c: float, knowledge: Knowledge) -> Values:
    given, c = dough_state.with_defaults, knowledge.coefficient
    problem = _heat_problem(dough_state, lift, into_c, knowledge)
    thick = thickness_m(dough_state, lift)
    piece = ThinPiece(thickness_m=thick, dough=replace(problem, height_m=thick))
    oven, heat, set_c = OvenCoefficients.read(c), HeatCoefficients.read(c), dough_state.setting.set_c
    if given.griddle_c is not None and given.griddle_side_min is not None:
        baked = on_griddle(
            piece,
            oven,
            plate_c=given.griddle_c,
            sides_min=(given.griddle_side_min, given.griddle_side_min),
            set_c=set_c,
            heat=heat,
            room_c=c("room_c"),
        )
    else:
        baked = in_oven(piece, oven, oven_c=problem.oven_c, minutes=_minutes(dough_state), set_c=set_c)
    return _read_thin(baked, heat)


def _read_thin(baked: ThinBake, heat: HeatCoefficients) -> Values:
    return {
        "core_set_min": baked.core_set_min,
        "core_at_pull_c": baked.core_c,
        "bake_loss_pct": 100 * baked.water_lost_frac,
        "water_left_pct": 100 * baked.water_left_frac,
        "pliable_margin_pct": 100 * (baked.water_left_frac - heat.pliable_water),
    }


def _dried(dough_state: DoughState, lift: Rise, into_c: float, knowledge: Knowledge) -> Values:
    heat = HeatCoefficients.read(knowledge.coefficient)
    problem = _heat_problem(dough_state, lift, into_c, knowledge)
    # What lies on a tray dries by its upper face; turned, or on a rack, by both: the tray is the rule.
    course = dry(
        problem,
        OvenCoefficients.read(knowledge.coefficient),
        thickness_m=thickness_m(dough_state, lift),
        heat=heat,
        faces=round(knowledge.coefficient("cracker_faces")),
    )
    minutes = _minutes(dough_state)
    left = course.water_at(minutes)
    solids = 1 - problem.water_frac
    crisp = course.crisp_min
    return {
        "water_left_pct": 100 * left / (1 + left),
        "bake_loss_pct": 100 * (problem.water_frac - left * solids),
        "crisp_min": crisp,
        "crisp_margin_min": None if crisp is None else minutes - crisp,
        "toasting_min": _toasting_min(minutes, crisp, problem.oven_c, knowledge),
    }


def _toasting_min(minutes: float, crisp_min: float | None, oven_c: float, knowledge: Knowledge) -> float:
    """Minutes at `toasting_reference_c` worth the time beyond dry: a dry piece is as hot as the oven [min].

    Arrhenius with the energy of crust browning (`crust_browning_kj_mol`: Zanoni, Peri and Bruno 1995).
    """
    if crisp_min is None or minutes <= crisp_min:
        return 0.0
    c = knowledge.coefficient
    per_k = 1 / (c("toasting_reference_c") + 273.15) - 1 / (oven_c + 273.15)
    return (minutes - crisp_min) * math.exp(1000 * c("crust_browning_kj_mol") / GAS_CONSTANT * per_k)


def _steamed(dough_state: DoughState, lift: Rise, into_c: float, knowledge: Knowledge) -> Values:
    p, c = dough_state.formula.process, knowledge.coefficient
    # "Bring the water to a boil, 12 min" is the bun's time too; the shorter one is of warming it up again.
    told = [m for m in (p.steam_min, p.boil_min) if m is not None]
    minutes = max(told) if told else _minutes(dough_state)
    curves = steam(
        _heat_problem(dough_state, lift, into_c, knowledge),
        OvenCoefficients.read(c),
        minutes=minutes,
        set_c=dough_state.setting.set_c,
        heat=HeatCoefficients.read(c),
    )
    return {
        "core_set_min": curves.core_reaches(dough_state.setting.set_c),
        "core_at_pull_c": curves.core_at(minutes),
    }
