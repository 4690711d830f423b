"""A quantity in the units that a baker uses: degrees, grams, spoons and cups are chosen here and nowhere else."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Literal

from advisor.explanation.blocks import Emphasis, Quantity, Runs
from advisor.explanation.quantities import runs_of
from advisor.explanation.wording import number, percent
from advisor.formula.writing.numerals import kitchen_grams

Units = Literal["metric", "us", "uk"]
F_PER_C, F_AT_0_C = 1.8, 32.0
"""The definition of the Fahrenheit scale against Celsius."""
CM_PER_INCH = 2.54
"""International inch, exact."""
G_PER_OUNCE, OUNCES_PER_POUND = 28.349523, 16
"""International avoirdupois pound of 453.59237 g."""
_OVEN_FROM_C, _OVEN_STEP_C, _OVEN_STEP_F = 100.0, 5.0, 5.0
"""A round oven heat in C is written as a round one in F: nobody sets a dial to 347 F."""
_WHOLE_C_OFF_F = 0.91
"""A heat told in whole C lies up to half a degree C from what it was: 350 F, kept as 177 C, is no 351 F."""
_FINE_BELOW_IN, _FINE, _COARSE = 1.0, 16, 4
"""Parts of an inch that a rule shows: sixteenths below an inch, quarters above."""
_SPOONS_ML: Mapping[Units, tuple[float, float]] = {
    "metric": (5.0, 15.0),
    "us": (4.93, 14.79),
    "uk": (5.0, 15.0),
}
"""A teaspoon and a tablespoon, mL: knowledge/units.yaml has them with their sources."""
_CUP_ML: Mapping[Units, float] = {"metric": 250.0, "us": 236.59}
"""A cup, mL; British kitchens weigh."""
_FRACTIONS = {0.25: "1/4", 1 / 3: "1/3", 0.5: "1/2", 2 / 3: "2/3", 0.75: "3/4"}
_MOST_SPOONS = 8
"""More tablespoons than this nobody counts."""
_FITS = 0.12
"""A spoon or cup that lies further off than this share is not named."""


def quantity_text(q: Quantity, units: Units = "metric") -> str:
    """Write one quantity; weights are always in grams, with spoons, cups or pieces beside them where they are known."""
    if q.unit == "share":
        return percent(q.value) if q.upto is None else f"{percent(q.value)} to {percent(q.upto)}"
    number, unit = _in_units(q, q.value, units)
    if q.upto is not None:
        number = f"{number} to {_in_units(q, q.upto, units)[0]}"
    written = f"{number} {unit}"
    kitchen = household(q, units)
    return f"{written} ({kitchen})" if kitchen else written


def _in_units(q: Quantity, value: float, units: Units) -> tuple[str, str]:
    match q.unit:
        case "C" if units == "us":
            return number(_fahrenheit(q, value), q.decimals or 0), "F"
        case "cm" if units == "us":
            return _inches(value), "in"
        case "cm" if value < 1 and (q.upto or 0) < 1:
            return f"{round(10 * value, 1):g}", "mm"
        case "g":
            return (kitchen_grams(value) if q.decimals is None else number(value, q.decimals)), "g"
        case "cm":
            return f"{round(value, 1):g}", "cm"
        case _:
            return number(value, q.decimals or 0), q.unit


def _fahrenheit(q: Quantity, value: float) -> float:
    if q.difference:
        return value * F_PER_C
    exact = value * F_PER_C + F_AT_0_C
    dial = _OVEN_STEP_F * round(exact / _OVEN_STEP_F)
    near = value % _OVEN_STEP_C == 0 or abs(dial - exact) <= _WHOLE_C_OFF_F
    return dial if value >= _OVEN_FROM_C and near else exact


def _inches(cm: float) -> str:
    value = cm / CM_PER_INCH
    parts = _FINE if value < _FINE_BELOW_IN else _COARSE
    whole, rest = divmod(max(round(parts * value), 1), parts)
    said = f"{Fraction(rest, parts)}" if rest else ""
    return " ".join(part for part in (str(whole) if whole else "", said) if part)


def _ounces(grams: float) -> str:
    """A weight of an ounce and more in halves of an ounce, in pounds from one on."""
    halves = round(2 * grams / G_PER_OUNCE)
    if halves < 2 or grams <= 0:
        return ""
    pounds, rest = divmod(halves, 2 * OUNCES_PER_POUND)
    ounces = " ".join(
        part for part in (str(rest // 2) if rest // 2 else "", "1/2" if rest % 2 else "") if part
    )
    return " ".join(
        part for part in (f"{pounds} lb" if pounds else "", f"{ounces} oz" if ounces else "") if part
    )


def household(q: Quantity, units: Units) -> str:
    """A weight in pieces, spoons, cups or ounces ("about 1/3 cup"); empty where none fits or none is known."""
    if q.unit != "g" or q.upto is not None or q.value <= 0:
        return ""
    if q.ounces and units == "us":
        return _ounces(q.value)
    if q.pieces is not None:
        count = round(q.value / q.pieces.each_g)
        near = count and abs(count * q.pieces.each_g - q.value) <= _FITS * q.value
        return f"{count} {q.pieces.one if count == 1 else q.pieces.many}" if near else ""
    return f"about {said}" if q.g_per_ml and (said := _in_spoons(q.value / q.g_per_ml, units)) else ""


def _in_spoons(ml: float, units: Units) -> str:
    tsp, tbsp = _SPOONS_ML[units]
    cup = _CUP_ML.get(units)
    if cup and ml >= 0.22 * cup and (said := _counted(ml / cup, _FRACTIONS, "cup", "cups")):
        return said
    if tbsp * 0.9 <= ml <= tbsp * _MOST_SPOONS:
        return _counted(ml / tbsp, {0.5: "1/2"}, "tbsp", "tbsp")
    if ml < tbsp:
        return _counted(ml / tsp, {0.25: "1/4", 0.5: "1/2", 0.75: "3/4"}, "tsp", "tsp")
    return ""


def _counted(amount: float, fractions: Mapping[float, str], one: str, many: str) -> str:
    """A count with the nearest fraction; empty where that is too far off to be of use."""
    parts = {0.0: "", 1.0: ""} | dict(fractions)
    rest = min(parts, key=lambda part: abs(amount % 1 - part))
    whole = int(amount) + (1 if rest == 1.0 else 0)
    value = whole + (0.0 if rest == 1.0 else rest)
    if value <= 0 or abs(value - amount) > _FITS * amount:
        return ""
    said = " ".join(part for part in (str(whole) if whole else "", parts[rest]) if part)
    return f"{said} {many if value > 1 else one}"


def runs_text(runs: Runs, units: Units = "metric") -> str:
    """Runs as plain text."""
    out = ""
    for run in runs:
        match run:
            case Quantity():
                out += quantity_text(run, units)
            case Emphasis():
                out += runs_text(run.runs, units)
            case _:
                out += run
    return out


def in_metric(document: object) -> object:
    """A JSON document whose texts carry their quantities in metric units."""
    match document:
        case str():
            return said(document)
        case dict():
            return {key: in_metric(value) for key, value in document.items()}
        case list() | tuple():
            return [in_metric(value) for value in document]
    return document


def said(text: str, units: Units = "metric") -> str:
    """A text of the knowledge with its quantities in the baker's units."""
    return runs_text(runs_of(text), units)
