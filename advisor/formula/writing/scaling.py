"""A formula for another pan, another mass of dough, more or fewer slices or loaves: all lines by one factor."""

from __future__ import annotations

from dataclasses import dataclass, replace

from advisor.formula.formula import Formula, Line, Process
from advisor.formula.writing.numerals import kitchen_grams

_WHOLE_WITHIN = 1e-6
BAKE_ALIKE = 0.02
"""A loaf that is heavier or lighter by less, as a share, bakes as before."""


class ScalingFault(ValueError):
    """Raised when a formula does not say what it would be scaled from; the message says what to add."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pan:
    """A tin (length, width, height) or a round pan (diameter as length and width, height), in centimetres."""

    length_cm: float
    width_cm: float
    height_cm: float
    is_round: bool = False

    @property
    def volume_ml(self) -> float:
        """Volume to the rim, mL."""
        return self._process().pan_volume_ml or 0.0

    def _process(self, process: Process | None = None) -> Process:
        return replace(
            process or Process(),
            pan_kind="round" if self.is_round else "tin",
            pan_length_cm=self.length_cm,
            pan_width_cm=self.width_cm,
            pan_height_cm=self.height_cm,
        )

    def put_into(self, process: Process) -> Process:
        """Give a process with this pan."""
        return self._process(process)


def scale_formula(formula: Formula, factor: float) -> Formula:
    """Multiply every ingredient by one factor; process and counts of loaves stay.

    Pieces that do not come out whole lose their count and are said. What has no weight is scaled by taste.

    Raises:
        ScalingFault: the factor is not between 0.001 and 1000.
    """
    if not 0.001 <= factor <= 1000:
        raise ScalingFault(f"a factor of {factor:g} is not between 0.001 and 1000")
    if factor == 1:
        return formula
    lines, said = [], [f"scaled by {factor:.4g}"]
    for line in formula.lines:
        scaled = _scaled(line, factor)
        if line.counted is not None and scaled.counted is None:
            pieces = line.counted * factor
            noun = line.ingredient.countable or line.ingredient.name
            said.append(f"{pieces:.4g} {noun} is no whole number: weigh {kitchen_grams(scaled.grams)} g")
        lines.append(scaled)
    said += (f"{entry.ingredient.name} has no weight and was not scaled" for entry in formula.unweighed)
    return replace(formula, lines=tuple(lines), assumed=(*formula.assumed, *said))


def _scaled(line: Line, factor: float) -> Line:
    counted = None
    if line.counted is not None:
        pieces = line.counted * factor
        whole = round(pieces)
        counted = whole if whole >= 1 and abs(pieces - whole) <= _WHOLE_WITHIN * max(pieces, 1) else None
    before = line.conversion or f"{line.grams:.6g} g"
    return replace(
        line, grams=line.grams * factor, counted=counted, conversion=f"{before}, times {factor:.4g}"
    )


def scale_to_dough(formula: Formula, grams: float) -> Formula:
    """Scale a formula to a mass of dough, g, over all loaves.

    Raises:
        ScalingFault: no mass of dough.
    """
    if grams <= 0 or formula.dough_g <= 0:
        raise ScalingFault("a dough weighs more than nothing")
    factor = grams / formula.dough_g
    return scale_formula(formula, factor)


def scale_to_pan(formula: Formula, pan: Pan) -> Formula:
    """Scale a formula to another pan by volume, so that the dough fills the same share of it.

    Raises:
        ScalingFault: the formula has no pan with three sizes.
    """
    volume = formula.process.pan_volume_ml
    if volume is None:
        raise ScalingFault(
            "the formula names no pan with its sizes: add a line such as 'pan: 25 x 10 x 10 cm'"
        )
    if pan.volume_ml <= 0:
        raise ScalingFault("a pan has a length, a width and a height above 0")
    factor = pan.volume_ml / volume
    scaled = scale_formula(formula, factor)
    return replace(scaled, process=pan.put_into(scaled.process))


def scale_to_slices(formula: Formula, slices: int) -> Formula:
    """Scale a formula to a number of slices of the same weight, in as many loaves as before.

    Raises:
        ScalingFault: the formula does not say how many slices it gives.
    """
    if formula.process.slices is None:
        raise ScalingFault(
            "the formula does not say how many slices it gives: add a line such as 'slices: 16'"
        )
    if slices < 1:
        raise ScalingFault("write a number of slices from 1 on")
    factor = slices / formula.process.slices
    return scale_formula(formula, factor).with_process(slices=slices)


def scale_to_loaves(formula: Formula, loaves: int) -> Formula:
    """Scale a formula to a number of loaves of the same size; a formula that says nothing gives one loaf.

    Raises:
        ScalingFault: fewer loaves than one.
    """
    if loaves < 1:
        raise ScalingFault("write a number of loaves from 1 on")
    scaled = scale_formula(formula, loaves / (formula.process.loaves or 1)).with_process(loaves=loaves)
    if formula.process.loaves is None:
        return replace(scaled, assumed=(*scaled.assumed, "the formula is taken as one loaf"))
    return scaled
