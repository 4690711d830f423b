"""What a formula can be made better towards: a measure or an amount that is to fall or rise, and how it is told."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from advisor.diagnosis.pipeline import Examination
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.likeness import nearest
from advisor.remedy.constraints import per_slice

Value = Callable[[Examination], float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Aim:
    """An aim: its name and other words for it, what it is measured by, and the sign of better (1: more)."""

    id: str
    words: tuple[str, ...]
    says: str
    unit: str
    better: int
    value: Value
    decimals: int = 1

    def gain(self, before: float, after: float) -> float:
        """By which share of what it was it is better (-)."""
        return self.better * (after - before) / max(abs(before), 1e-9)


def _measure(name: str) -> Value:
    return lambda look: look.workings.measures.value(name)


AIMS: Mapping[str, Aim] = {
    aim.id: aim
    for aim in (
        Aim(
            id="softer", words=("soft", "more tender", "tender"), says="firmness, times a white tin loaf", unit="",
            better=-1, value=_measure("crumb_firmness"), decimals=2,
        ),
        Aim(
            id="taller", words=("tall", "higher", "lighter", "more volume"), says="volume for each g of dough",
            unit="mL/g", better=1, value=_measure("specific_volume"), decimals=2,
        ),
        Aim(
            id="less-carbohydrate", words=("less carbohydrate", "less carb", "fewer carbs", "lower carb", "low carb"),
            says="net carbohydrate a slice", unit="g", better=-1, value=lambda look: per_slice(look).net_carb,
            decimals=2,
        ),
        Aim(
            id="more-protein", words=("more protein", "higher protein"), says="protein a slice", unit="g", better=1,
            value=lambda look: per_slice(look).protein,
        ),
        Aim(
            id="cheaper", words=("cheap", "less cost", "lower cost"), says="cost a slice", unit="", better=-1,
            value=lambda look: per_slice(look).cost, decimals=3,
        ),
        Aim(
            id="safer", words=("less risk", "lower risk", "surer"), says="the largest risk", unit="%", better=-1,
            value=lambda look: 100 * max((r.risk for r in look.diagnosis.risks.values()), default=0.0),
        ),
    )
}  # fmt: skip
"""Every aim by its name."""


def aim_named(text: str) -> Aim:
    """The aim that a baker's word names.

    Raises:
        InputFault: none is called so.
    """
    said = " ".join(text.lower().replace("_", " ").replace("-", " ").split())
    names = {w: aim for aim in AIMS.values() for w in (aim.id.replace("-", " "), *aim.words)}
    if said in names:
        return names[said]
    near = nearest(said, list(names), 1)
    hint = f"did you mean '{names[near[0]].id}'? " if near else ""
    raise InputFault(f"advisor: no aim '{text[:40]}'; {hint}there are: {', '.join(AIMS)}")


def measured(aim: Aim, look: Examination, knowledge: Knowledge) -> float:
    """The value that an aim is measured by.

    Raises:
        InputFault: this formula has none, with what to do.
    """
    value = aim.value(look)
    if value is not None:
        return value
    if aim.id == "cheaper":
        raise InputFault(
            "advisor: --aim cheaper: no ingredient of this formula has a price; put prices into your own ingredients"
        )
    raise InputFault(
        f"advisor: --aim {aim.id}: {aim.says} cannot be worked out for '{look.formula.name[:40]}'"
    )
