"""What the models take where the formula is silent, each said in words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from advisor.formula.formula import Formula, PanKind
from advisor.formula.piece_words import SEVERAL
from advisor.formula.process.steps import DOUGH_FREEZES_C, Rise
from advisor.knowledge_base.kind_entries import Kind
from advisor.knowledge_base.knowledge import Knowledge
from advisor.models.dough.dough_temperature import dough_temperature_c, water_for_dough_c
from advisor.models.dough.kind_of_bake import ChosenKind, kind_of_bake, opening_of

_SHAPES: dict[PanKind, str] = {
    "tin": "a tin {width} wide",
    "round": "a round tin",
    "rolls": "baked as single pieces, from the name",
    "flat": "baked flat, from the name",
    "free_standing": "baked without a tin",
}
_FEWEST_PIECES = 6
"""Of a yeasted dough without a word of a tin: so many are no loaves."""
_PIECES = re.compile(rf"\b{SEVERAL}\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class ProcessWithDefaults:
    """The process with every gap filled; `assumed` holds field name to the sentence that says so."""

    slices: int
    loaves: int
    pan_kind: PanKind
    mix_min: float
    water_c: float
    rest_min: float
    proof_min: float
    proof_c: float
    oven_c: float
    oven_fan: bool
    bake_min: float | None
    target_core_c: float
    altitude_m: float
    assumed: dict[str, str]
    chosen: ChosenKind | None = None
    thickness_cm: float | None = None
    griddle_c: float | None = None
    griddle_side_min: float | None = None
    earlier: tuple[tuple[float, float], ...] = ()
    """Rises before the last one, after each of which the dough is knocked back: minutes and degrees C."""
    frozen_days: float = 0.0
    """Days that the dough lies frozen before it rises."""
    sheet: bool = False
    """Whether the dough fills a tray whole and is cut afterwards."""

    @property
    def stood_min(self) -> float:
        """Minutes from the end of mixing to the oven."""
        return self.rest_min + sum(minutes for minutes, _ in self.earlier) + self.proof_min

    @property
    def kind(self) -> str:
        """Id of the kind of bake; empty where the knowledge has no kinds."""
        return self.chosen.kind.id if self.chosen else ""

    @property
    def pieces(self) -> int:
        """Loaves baked; where rolls or flat breads are made, each slice is a piece of its own."""
        return (
            self.slices * self.loaves
            if self.pan_kind in ("rolls", "flat") and not self.sheet
            else self.loaves
        )


def fill_defaults(formula: Formula, knowledge: Knowledge) -> ProcessWithDefaults:
    """Fill the gaps of a process with the stated defaults of knowledge/coefficients.yaml."""
    p, c = formula.process, knowledge.coefficient
    assumed: dict[str, str] = {}

    def take(name: str, given: float | None, default: float, sentence: str) -> float:
        if given is not None:
            return given
        assumed[name] = sentence
        return default

    yeasted = any(line.ingredient.yeast_rate for line in formula.lines)
    # A dough that has rested has had part of its hour's rise.
    proof_default = (
        max(c("assumed_proof_min") - (p.rest_min or 0.0), c("assumed_panning_min")) if yeasted else 0.0
    )
    rises = tuple(r for r in p.rises if not _is_frozen(r))
    last = rises[-1] if rises else Rise()
    frozen_last = bool(p.rises) and _is_frozen(p.rises[-1])
    proof_min = last.minutes if frozen_last else p.proof_min
    if proof_min is None and last.until == "overnight":
        proof_min = c("overnight_min")
        assumed["proof_min"] = f"overnight is {proof_min / 60:.0f} hours"
    if proof_min is None:
        proof_min = proof_default
        if yeasted:
            assumed["proof_min"] = f"proof {{{proof_default:.0f} min}}"
    warm = c("assumed_yeast_water_c") if yeasted else c("room_c")
    mix_min = take("mix_min", p.mix_min, c("assumed_mix_min"), f"mixed {{{c('assumed_mix_min'):.0f} min}}")
    water_c, said = _water_for_wanted(formula, mix_min, knowledge)
    if said:
        assumed["dough_wanted_c"] = said
    if water_c is None:
        water_c = warm
        if any("water" in line.ingredient.roles for line in formula.lines):
            hot = any(
                "hot_liquid" in line.traits and "water" in line.ingredient.roles for line in formula.lines
            )
            but = ", though it is written as hot: state its temperature where the whole dough is hot"
            assumed["water_c"] = f"water at {{{warm:.0f} C}}" + (but if hot else "")
    proof_c = last.celsius if frozen_last else p.proof_c
    if proof_c is None and last.place == "fridge":
        proof_c = c("fridge_c")
        assumed["proof_c"] = f"the fridge at {{{proof_c:.0f} C}}"
    as_before = [r.celsius for r in rises[:-1] if r.celsius is not None and r.celsius >= c("room_c")]
    if proof_c is None and yeasted and as_before:
        proof_c = as_before[-1]
        assumed["proof_c"] = f"the last rise at {{{proof_c:.0f} C}}, as the one before it"
    if proof_c is None:
        proof_c = c("assumed_proof_c") if yeasted else c("room_c")
        if proof_min > 0:
            assumed["proof_c"] = f"proof at {{{proof_c:.0f} C}}"
    chosen = kind_of_bake(formula, knowledge)
    kind = chosen.kind if chosen else None
    shape = (kind.shape if kind else None) or _shape_by_words(formula, knowledge)
    pan: PanKind = p.pan_kind or shape
    if p.pan_kind is None:
        assumed["pan_kind"] = _SHAPES[pan].format(width=f"{{{c('assumed_tin_width_cm'):.0f} cm}}")
    sheet = pan == "flat" and bool(p.pan_length_cm and p.pan_width_cm) and p.pieces is None
    thickness_cm = p.thickness_cm or (p.pan_height_cm if pan == "flat" else None)
    if thickness_cm is None and not sheet and kind and kind.thickness_cm:
        thickness_cm = kind.thickness_cm.value
        assumed["thickness_cm"] = f"{{{10 * thickness_cm:.0f} mm}} thick"
    griddle_c, side_min = _griddle(formula, kind, assumed)
    counted = p.slices or (p.pieces if pan in ("rolls", "flat") else None) or _by_weight(formula, pan)
    loaves = p.loaves or 1
    if p.pan_cups is not None:
        # Each cup is a piece of its own: the tin is full unless the formula counts what it makes.
        slices, loaves = 1, p.slices or p.loaves or p.pan_cups
        if p.slices is None and p.loaves is None:
            assumed["slices"] = f"{loaves} pieces, one a cup"
    elif pan in ("rolls", "flat") and counted is None and p.loaves is not None:
        # Eight rolls are eight pieces, not eight batches of the usual number.
        slices, loaves = p.loaves, 1
    else:
        slices = int(take("slices", counted, c("assumed_slices"), f"{c('assumed_slices'):.0f} slices"))
    if griddle_c is not None or p.steam_min is not None:
        oven_c = p.oven_c or c("assumed_oven_c")
    else:
        oven_c = take("oven_c", p.oven_c, c("assumed_oven_c"), f"oven at {{{c('assumed_oven_c'):.0f} C}}")
    if p.oven_offset_c:
        assumed["oven_offset_c"] = (
            f"{{{oven_c + p.oven_offset_c:.0f} C}} in the oven, {{{oven_c:.0f} C}} on its dial"
        )
    if p.opened_at_min is not None and p.opened_for_s is None:
        assumed["opened_for_s"] = f"the door open for {c('opened_for_s'):.0f} s"
    return ProcessWithDefaults(
        slices=max(slices, 1),
        loaves=loaves,
        pan_kind=pan,
        mix_min=mix_min,
        water_c=water_c,
        rest_min=p.rest_min or 0.0,
        proof_min=proof_min,
        proof_c=proof_c,
        oven_c=oven_c,
        oven_fan=bool(p.oven_fan),
        bake_min=p.bake_min,
        target_core_c=take(
            "target_core_c",
            p.target_core_c,
            c("target_core_c"),
            f"baked to a core of {{{c('target_core_c'):.0f} C}}",
        ),
        altitude_m=p.altitude_m or 0.0,
        assumed=assumed,
        chosen=chosen,
        thickness_cm=thickness_cm,
        griddle_c=griddle_c,
        griddle_side_min=side_min,
        earlier=_earlier(rises[:-1], proof_c, knowledge) if yeasted else (),
        frozen_days=sum(r.minutes or 0.0 for r in p.rises if _is_frozen(r)) / 1440,
        sheet=sheet,
    )


def _earlier(rises: Sequence[Rise], last_c: float, knowledge: Knowledge) -> tuple[tuple[float, float], ...]:
    """Minutes and heat of rises before the last one; what is not said is as usual, the heat as in the last."""
    c = knowledge.coefficient
    out = []
    for step in rises:
        usual = c("overnight_min") if step.until == "overnight" else c("assumed_proof_min")
        heat = c("fridge_c") if step.place == "fridge" else last_c
        out.append(
            (
                usual if step.minutes is None else step.minutes,
                heat if step.celsius is None else step.celsius,
            )
        )
    return tuple(out)


def _is_frozen(step: Rise) -> bool:
    return step.celsius is not None and step.celsius < DOUGH_FREEZES_C


def _shape_by_words(formula: Formula, knowledge: Knowledge) -> PanKind:
    """Single pieces by what the title or the opening calls them, or by how many a yeasted dough is cut into.

    A dough patted to a thickness stands free.
    """
    cut = (formula.process.pieces or 0) >= _FEWEST_PIECES and any(
        "yeast" in x.ingredient.roles for x in formula.lines
    )
    if cut or _PIECES.search(opening_of(formula, knowledge)):
        return "rolls"
    return "tin" if formula.process.thickness_cm is None else "free_standing"


def _griddle(
    formula: Formula, kind: Kind | None, assumed: dict[str, str]
) -> tuple[float | None, float | None]:
    """Heat of the plate [C] and minutes a side, where the dough is baked on one."""
    p = formula.process
    stated = p.griddle_c is not None or p.griddle_side_min is not None
    if kind is None or kind.griddle_c is None or kind.griddle_side_min is None:
        return p.griddle_c, p.griddle_side_min
    longest = (kind.griddle_side_min.range or (0.0, kind.griddle_side_min.value))[1]
    steps = [s.minutes for s in p.oven_steps if s.minutes] or ([p.bake_min] if p.bake_min else [])
    # Two minutes and no oven are a hot pan: the longest of them is a side's.
    in_a_pan = p.oven_c is None and bool(steps) and max(steps) <= 2 * longest
    if not stated and not in_a_pan and (p.oven_c is not None or p.bake_min is not None):
        return None, None
    plate, side = p.griddle_c, p.griddle_side_min
    if side is None and in_a_pan:
        side = max(steps) / 2 if max(steps) > longest else max(steps)
    if plate is None:
        plate = kind.griddle_c.value
        assumed["griddle_c"] = f"a plate at {{{plate:.0f} C}}"
    if side is None:
        side = kind.griddle_side_min.value
        assumed["griddle_side_min"] = f"{{{side:.1f} min}} a side"
    return plate, side


def _by_weight(formula: Formula, pan: PanKind) -> int | None:
    """How many pieces of the stated weight the dough gives."""
    weight = formula.process.piece_g
    if pan not in ("rolls", "flat") or not weight:
        return None
    return max(round(formula.dough_g / weight), 1)


def _water_for_wanted(formula: Formula, mix_min: float, knowledge: Knowledge) -> tuple[float | None, str]:
    """Water temperature stated, or that for a wanted dough temperature, with the sentence that says so [C]."""
    p, c = formula.process, knowledge.coefficient
    if p.dough_wanted_c is None:
        return p.water_c, ""
    needed = water_for_dough_c(formula, p.dough_wanted_c, mix_min, knowledge)
    if needed is None:
        return p.water_c, f"no water that could bring the dough to {{{p.dough_wanted_c:.0f} C}}"
    if p.water_c is not None:
        return (
            p.water_c,
            f"for a dough at {{{p.dough_wanted_c:.0f} C}} the water would be at {{{needed:.0f} C}}",
        )
    held = min(max(needed, c("coldest_water_c")), c("hottest_water_c"))
    if abs(held - needed) > 0.5:
        reached = dough_temperature_c(formula, held, mix_min, knowledge)
        return (
            held,
            f"water at {{{held:.0f} C}}, which brings the dough to {{{reached:.0f} C}}, "
            f"no nearer to {{{p.dough_wanted_c:.0f} C}}",
        )
    return needed, f"water at {{{needed:.0f} C}}, for a dough at {{{p.dough_wanted_c:.0f} C}}"
