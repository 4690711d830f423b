"""How numbers are put into a baker's words."""

from __future__ import annotations

from advisor.explanation.answer import SaidNumber
from advisor.explanation.blocks import Quantity, Run, Runs, Unit
from advisor.explanation.quantities import runs_of
from advisor.formula.writing.as_text import pieces
from advisor.inference.situation import Judged
from advisor.remedy.change import Change

LIMITS = (
    "Trust these figures more to compare two doughs than to foretell one loaf. How well a dough keeps its gas is "
    "calibrated on known formulas, and much of what is said of loaves of gluten, casein and egg was measured on "
    "wheat and gluten-free bread."
)


def sentence(text: str) -> Runs:
    """A text of the knowledge as runs of words and quantities."""
    return runs_of(text)


def first_sentence(runs: Runs) -> Runs:
    """The first sentence of a text."""
    out: list[Run] = []
    for run in runs:
        if isinstance(run, str) and ". " in run:
            return (*out, run.partition(". ")[0] + ".")
        out.append(run)
    return tuple(out)


_IN_FIELDS = ("C", "min", "cm", "mm")
_QUANTITIES: dict[str, Unit] = {"C": "C", "min": "min", "cm": "cm", "g": "g", "mL": "mL"}


def number_value(said: SaidNumber) -> Runs:
    """A measure with its unit."""
    return measured(said.value, said)


def number_band(said: SaidNumber) -> Runs:
    """The range in which a measure is good."""
    if said.low is None:
        return ("up to ", *_edge(said.high or 0.0, said))
    if said.high is None:
        return (*_edge(said.low, said), " or more")
    if (unit := _QUANTITIES.get(said.unit)) is not None:
        low, high = (round(edge, said.decimals) for edge in (said.low, said.high))
        return (Quantity(value=low, upto=high, unit=unit, decimals=said.decimals),)
    return (f"{number(said.low, said.decimals)} to {number(said.high, said.decimals)}",)


def number_ends(said: SaidNumber) -> Runs:
    """Between which figures a measure lies in 8 of 10 draws; a dash where that was not worked out."""
    if said.ends is None:
        return ("-",)
    low, high = (round(end, said.decimals) for end in said.ends)
    if (unit := _QUANTITIES.get(said.unit)) is not None:
        return (Quantity(value=low, upto=high, unit=unit, decimals=said.decimals),)
    return (f"{number(low, said.decimals)} to {number(high, said.decimals)}",)


def _edge(value: float, said: SaidNumber) -> Runs:
    """An edge of a band: a unit that no kitchen has stands beside the value already."""
    return measured(value, said) if said.unit in _QUANTITIES else (number(value, said.decimals),)


def measured(value: float, said: SaidNumber) -> Runs:
    """A value of a measure."""
    return (quantity_of(value, said.unit, said.decimals),)


def in_kitchen(unit: str) -> bool:
    """Whether a kitchen has the unit."""
    return unit in _QUANTITIES


def quantity_of(value: float, unit: str, decimals: int) -> Quantity | str:
    """A value as a quantity where a kitchen has a unit for it, else as a figure with its unit."""
    if (known := _QUANTITIES.get(unit)) is not None:
        # Rounded first, so that both scales of degrees tell the same number.
        return Quantity(value=round(value, decimals), unit=known, decimals=decimals)
    return f"{number(value, decimals)} {'' if unit == '-' else unit}".rstrip()


def percent(p: float) -> str:
    """A probability in whole per cent, never 0 or 100, since nothing here is certain."""
    return f"{min(max(round(100 * p), 1), 99)} %"


def number(value: float, decimals: int) -> str:
    """A number with its digits; a minus sign only where something is left of it after rounding."""
    text = f"{value:.{decimals}f}"
    return text[1:] if text.startswith("-") and float(text) == 0 else text


def band_text(judged: Judged, decimals: int, unit: str = "") -> str:
    """The range in which a measure is good, with its unit where that is one of a kitchen's own."""
    unit = unit if unit in _IN_FIELDS else ""
    if judged.low is None:
        return f"up to {with_unit(number(judged.high or 0.0, decimals), unit)}"
    if judged.high is None:
        return f"{with_unit(number(judged.low, decimals), unit)} or more"
    return with_unit(f"{number(judged.low, decimals)} to {number(judged.high, decimals)}", unit)


def with_article(noun: str) -> str:
    """A noun with a or an before it."""
    return f"{'an' if noun[:1].lower() in 'aeiou' else 'a'} {noun}"


def grams(value: float) -> str:
    """A weight as a kitchen reads it: tenths only where they can be weighed and matter, below 20 g."""
    weighed = as_weighed(value)
    return f"{weighed:.0f} g" if weighed == round(weighed) else f"{weighed:.1f} g"


def as_weighed(value: float) -> float:
    """Grams as they are printed, so that a difference of two printed weights is the one that a reader works out."""
    whole = abs(value) >= 20 or abs(value - round(value)) < 0.05
    return float(round(value)) if whole else round(value, 1)


def step_between(before: float, after: float, unit: str) -> float:
    """How far an amount moves, in its unit; of weights as far as the printed ones lie apart."""
    return as_weighed(after) - as_weighed(before) if unit == "g" else after - before


def amount(value: float, unit: str, *, difference: bool = False) -> str:
    """An amount with its unit; degrees and minutes as a field, which a renderer writes in the baker's units."""
    return grams(value) if unit == "g" else with_unit(number(value, 0), unit, difference=difference)


def with_unit(said: str, unit: str, *, difference: bool = False) -> str:
    """A number or a range with its unit, as a field where kitchens have different units for it."""
    if unit not in _IN_FIELDS:
        return f"{said} {unit}".strip()
    return f"{{{said} {unit}{' difference' if difference else ''}}}"


def change_text(change: Change) -> str:
    """A change as an instruction: what, how much more or less, from and to."""
    if change.before is None or change.after is None:
        return change.what
    if change.count_before is not None and change.count_after is not None:
        more = change.count_after - change.count_before
        if change.count_after == 0:
            what = change.what if change.count_before == 1 else pieces(change.count_before, change.what)
            return f"leave out the {what} ({grams(change.before)})"
        if change.count_before == 0:
            return f"add {pieces(change.count_after, change.what)} ({grams(change.after)})"
        word = "more" if more > 0 else "fewer"
        plural = pieces(abs(more), change.what).partition(" ")[2]
        said = f"{abs(more)} {word} {plural}: {change.count_after} instead of {change.count_before}"
        return f"{said} ({grams(change.after)} instead of {grams(change.before)})"
    if change.before == 0:
        return f"add {amount(change.after, change.unit)} {change.what}"
    if change.after == 0 and change.unit == "g":
        return f"leave out the {change.what} ({grams(change.before)})"
    step = step_between(change.before, change.after, change.unit)
    moved = f"{'+' if step > 0 else '-'}{amount(abs(step), change.unit, difference=True)}"
    after, before = amount(change.after, change.unit), amount(change.before, change.unit)
    return f"{change.what} {moved}: {after} instead of {before}"
