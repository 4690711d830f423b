"""Molar masses and what follows from them against `molmass` 2026.1.8 (elements after IUPAC)."""

from __future__ import annotations

import molmass
import pytest

from advisor.models.dough.composition import salt_in_water
from advisor.models.dough.thermal import GAS_CONSTANT, WATER_KG_MOL
from advisor.models.leavening.fermentation import HEXOSE_G_PER_MOL
from advisor.models.leavening.neutralisation import ML_PER_MOL, SODA_G_PER_MOL


def mass(formula: str) -> float:
    return molmass.Formula(formula).mass


@pytest.mark.parametrize(
    ("formula", "ours"),
    [("NaHCO3", SODA_G_PER_MOL), ("C6H12O6", HEXOSE_G_PER_MOL), ("H2O", WATER_KG_MOL * 1000)],
)
def test_molar_masses(formula, ours):
    assert mass(formula) == pytest.approx(ours, rel=5e-5)


def test_gas_at_25_c_and_one_atmosphere():
    # R T / P, R of CODATA 2018
    assert 8.314462618 == GAS_CONSTANT
    assert 8.314462618 * 298.15 / 101325 * 1e6 == pytest.approx(ML_PER_MOL, rel=1e-5)


def test_carbon_dioxide_of_glucose():
    # C6H12O6 -> 2 C2H5OH + 2 CO2: 271.6 mL a gram at 25 C
    assert mass("C6H12O6") == pytest.approx(2 * mass("C2H6O") + 2 * mass("CO2"), rel=1e-6)
    assert pytest.approx(271.6, abs=0.1) == 2 * ML_PER_MOL / HEXOSE_G_PER_MOL


def test_salt_is_sodium_times_its_molar_ratio(knowledge):
    from advisor.formula.reading import read_formula_text

    formula = read_formula_text("100 g water\n2 g salt", knowledge)
    sodium = sum(x.grams * x.ingredient.per_100g.sodium_mg / 1e5 for x in formula.lines)
    water = sum(x.grams * x.ingredient.per_100g.water / 100 for x in formula.lines)
    assert 100 * sodium * mass("NaCl") / mass("Na") / water == pytest.approx(salt_in_water(formula), rel=1e-4)
