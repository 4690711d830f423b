"""What one kitchen's own bakes have taught: how far its causes, changes, oven and powder differ from the general case.

The shifts are few, bounded where they are made, and leave again without a trace: an examiner without them is as it was.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import log

from advisor.formula.formula import Formula, Line
from advisor.knowledge_base.graph_entries import Cause
from advisor.knowledge_base.knowledge import Knowledge


@dataclass(frozen=True, slots=True, kw_only=True)
class KitchenShifts:
    """Factors on odds by id of cause and lever, oven offset [C], strength left in the powder (0..1); what is said."""

    base_rates: Mapping[str, float] = field(default_factory=dict)
    efficacy: Mapping[str, float] = field(default_factory=dict)
    oven_offset_c: float | None = None
    powder_strength: float | None = None
    says: tuple[str, ...] = ()

    def causes_here(self, causes: Mapping[str, Cause]) -> dict[str, Cause]:
        """Give the causes with the base rates of this kitchen."""
        return {
            name: cause.model_copy(update={"base_rate": shifted(cause.base_rate, self.base_rates[name])})
            if name in self.base_rates
            else cause
            for name, cause in causes.items()
        }

    def efficacy_here(self, lever: str, efficacy: float) -> float:
        """Give a change's efficacy (0..1) as this kitchen knows it."""
        return shifted(efficacy, self.efficacy.get(lever, 1.0))

    def formula_here(self, formula: Formula, knowledge: Knowledge) -> Formula:
        """Give a formula with the oven and the powder of this kitchen, where it says nothing of them itself.

        A powder's strength is put as the age that goes with it: strength = exp(-age / `powder_age_months`).
        """
        said: list[str] = []
        process = formula.process
        if self.oven_offset_c is not None and process.oven_offset_c is None:
            process = replace(process, oven_offset_c=self.oven_offset_c)
        lines = formula.lines
        if self.powder_strength is not None and any(is_powder(line) for line in lines):
            age = -log(self.powder_strength) * knowledge.coefficient("powder_age_months")
            lines = tuple(
                replace(line, age_months=age) if is_powder(line) and not line.age_months else line
                for line in lines
            )
            said.append(
                f"baking powder at {100 * self.powder_strength:.0f} % of its strength, as learnt here"
            )
        if process is formula.process and lines is formula.lines:
            return formula
        return replace(
            formula, process=process, lines=lines, assumed=tuple(dict.fromkeys((*formula.assumed, *said)))
        )


def is_powder(line: Line) -> bool:
    """Tell whether a line is a chemical leavening that can lose its strength."""
    return line.ingredient.soda_per_100g is not None


def shifted(probability: float, factor: float) -> float:
    """Give a probability (0..1) with its odds multiplied."""
    if factor == 1.0:
        return probability
    grown = probability * factor
    return grown / (grown + 1.0 - probability)
