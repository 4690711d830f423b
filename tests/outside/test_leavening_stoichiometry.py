"""Neutralising values and soda equivalents against hand-balanced equations.

Molar masses come from the abridged standard atomic weights (IUPAC; from memory). Acid + n NaHCO3 -> salt +
n CO2 + n H2O with n acid hydrogens that a dough near pH 7 uses; NV = 100 n M(NaHCO3) / M(acid).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.measured import Acid
from advisor.knowledge_base.reading import read_entries

KNOWLEDGE = Path(__file__).resolve().parents[2] / "knowledge"
WEIGHT = {"H": 1.008, "C": 12.011, "N": 14.007, "O": 15.999, "Na": 22.990, "K": 39.098}


def molar_mass(**atoms: int) -> float:
    """Molar mass of a formula, g/mol."""
    return sum(WEIGHT[element] * count for element, count in atoms.items())


SODA = molar_mass(Na=1, H=1, C=1, O=3)
CO2 = molar_mass(C=1, O=2)
# acid: (molar mass, acid hydrogens)
ACIDS = {
    "acetic_acid": (molar_mass(C=2, H=4, O=2), 1),
    "lactic_acid": (molar_mass(C=3, H=6, O=3), 1),
    "citric_acid": (molar_mass(C=6, H=8, O=7), 3),
    "tartaric_acid": (molar_mass(C=4, H=6, O=6), 2),
    "malic_acid": (molar_mass(C=4, H=6, O=5), 2),
    "fumaric_acid": (molar_mass(C=4, H=4, O=4), 2),
    "adipic_acid": (molar_mass(C=6, H=10, O=4), 2),
    "ascorbic_acid": (molar_mass(C=6, H=8, O=6), 1),
    "glucono_delta_lactone": (molar_mass(C=6, H=10, O=6), 1),
    "cream_of_tartar": (molar_mass(K=1, H=5, C=4, O=6), 1),
}


def acids() -> dict[str, Acid]:
    return {entry.id: entry for entry, _ in read_entries(KNOWLEDGE / "acids.yaml", "acids.yaml", Acid)}


def leavening() -> dict[str, Ingredient]:
    files = [KNOWLEDGE / "ingredients" / name for name in ("leavening.yaml", "gluten_and_flours.yaml")]
    return {entry.id: entry for path in files for entry, _ in read_entries(path, path.name, Ingredient)}


@pytest.mark.parametrize("name", ACIDS)
def test_neutralising_value_follows_from_the_equation(name: str) -> None:
    mass, hydrogens = ACIDS[name]
    expected = 100 * hydrogens * SODA / mass
    # Published values are rounded to whole numbers: within 1 %.
    assert expected == pytest.approx(acids()[name].neutralising_value.value, rel=0.01)


@pytest.mark.parametrize(
    ("name", "mass"),
    [
        ("baking_soda", SODA),
        ("potassium_bicarbonate", molar_mass(K=1, H=1, C=1, O=3)),
        ("ammonium_bicarbonate", molar_mass(N=1, H=5, C=1, O=3)),
    ],
)
def test_soda_equivalent_gives_the_same_carbon_dioxide(name: str, mass: float) -> None:
    soda = leavening()[name].soda_per_100g
    assert soda is not None
    assert 100 * SODA / mass == pytest.approx(soda.value, rel=0.002)


@pytest.mark.parametrize(
    "name",
    [
        "baking_powder",
        "baking_powder_phosphate",
        "baking_powder_tartrate",
        "self_raising_flour",
        "ammonium_bicarbonate",
    ],
)
def test_a_powder_balances_its_own_soda(name: str) -> None:
    powder, values = leavening()[name], acids()
    assert powder.soda_per_100g is not None
    neutralised = sum(
        grams.value * values[acid].neutralising_value.value / 100
        for acid, grams in powder.acids_per_100g.items()
    )
    assert powder.soda_per_100g.value == pytest.approx(neutralised, rel=0.01)


@pytest.mark.parametrize("name", ["baking_powder", "baking_powder_phosphate", "baking_powder_tartrate"])
def test_a_powder_is_not_weaker_than_the_rule_asks(name: str) -> None:
    """Food and Drug Regulations (Canada) B.03.002: baking powder gives at least 10 % of its weight as CO2."""
    soda = leavening()[name].soda_per_100g
    assert soda is not None
    assert soda.value * CO2 / SODA >= 10
    assert soda.range is not None
    assert soda.range[0] * CO2 / SODA == pytest.approx(10, abs=0.1)


def test_self_raising_flour_gives_what_the_rule_asks() -> None:
    """21 CFR 137.180: at least 0.5 % of carbon dioxide."""
    soda = leavening()["self_raising_flour"].soda_per_100g
    assert soda is not None
    assert soda.value * CO2 / SODA == pytest.approx(0.5, abs=0.01)
