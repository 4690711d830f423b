"""Soda against acids: what reacts, what is left, and when its gas comes."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.formula.formula import Formula
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.measured import Acid

SODA_G_PER_MOL = 84.0066
"""NaHCO3, from IUPAC 2021 atomic weights (checked in tests/outside against periodictable)."""
ML_PER_MOL = 24_465.4
"""Ideal gas at 25 C and 101.325 kPa: R T / P with R = 8.314462618 J/(mol K) (CODATA 2018)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChemicalGas:
    """Soda and acid in meq, and CO2 in mL at 25 C and 101.325 kPa by stage, for the whole dough."""

    soda_meq: float
    acid_meq: float
    left_soda_meq: float
    left_acid_meq: float
    mix: float
    bench: float
    early_oven: float
    late_oven: float

    @property
    def total(self) -> float:
        """All chemical CO2, mL."""
        return self.mix + self.bench + self.early_oven + self.late_oven


def _acids_in(formula: Formula, knowledge: Knowledge) -> list[tuple[Acid, float]]:
    """Acids with the soda they can neutralise in meq, the fastest first: they meet the soda first."""
    meq: dict[str, float] = {}
    for line in formula.lines:
        for name, figure in line.ingredient.acids_per_100g.items():
            grams = line.grams * figure.value / 100
            nv = knowledge.acids[name].neutralising_value.value
            meq[name] = meq.get(name, 0.0) + grams * nv / 100 / SODA_G_PER_MOL * 1000
    return sorted(
        ((knowledge.acids[n], v) for n, v in meq.items()), key=lambda a: (-a[0].release_mix, a[0].id)
    )


def chemical_gas(formula: Formula, knowledge: Knowledge) -> ChemicalGas:
    """Share the soda among the acids in order of their speed, and place the gas in time.

    1 meq of soda neutralised gives 1 mmol CO2; NV = parts of NaHCO3 neutralised by 100 parts of acid.
    Soda that meets no acid gives half its CO2 by heat, 2 NaHCO3 -> Na2CO3 + CO2 + H2O, late in the oven.
    A fast acid that is added last reacts in the pan rather than in the bowl.
    """
    soda = sum(
        line.grams * line.ingredient.soda_per_100g.value / 100
        for line in formula.lines
        if line.ingredient.soda_per_100g
    )
    soda_meq = soda / SODA_G_PER_MOL * 1000
    acids = _acids_in(formula, knowledge)
    moved = _moved_by_adding_last(formula, knowledge)
    left, left_acid = soda_meq, 0.0
    mix = bench = early = late = 0.0
    for acid, meq in acids:
        used = min(meq, left)
        left -= used
        left_acid += meq - used
        ml = used * ML_PER_MOL / 1000
        mix += ml * acid.release_mix * (1 - moved)
        bench += ml * (acid.release_bench + acid.release_mix * moved)
        early += ml * acid.release_early_oven
        late += ml * acid.release_late_oven
    thermal = left / 2 * ML_PER_MOL / 1000
    early_share = knowledge.coefficient("soda_heat_early_share")
    return ChemicalGas(
        soda_meq=soda_meq,
        acid_meq=sum(meq for _, meq in acids),
        left_soda_meq=left,
        left_acid_meq=left_acid,
        mix=mix,
        bench=bench,
        early_oven=early + thermal * early_share,
        late_oven=late + thermal * (1 - early_share),
    )


def _moved_by_adding_last(formula: Formula, knowledge: Knowledge) -> float:
    """Share of a fast acid's mixing gas that comes in the pan, where the formula says that it goes in last."""
    last = (formula.process.added_last or "").lower()
    for line in formula.lines:
        if line.ingredient.name.lower() == last and {"acid", "soda", "powder"} & set(line.ingredient.roles):
            return knowledge.coefficient("acid_last_moved_share")
    return 0.0
