"""Gas to volume: solubility, moist gas, what is kept."""

from __future__ import annotations

import pytest

from advisor.formula.reading import read_formula_text
from advisor.models.dough.composition import dough_composition
from advisor.models.dough.thermal import pressure_pa
from advisor.models.loaf.expansion import dissolved_capacity_ml, free_expansion, matrix_volume_ml


def test_a_litre_of_water_holds_about_seven_tenths_of_a_litre_of_gas_at_27_c(knowledge):
    """Handbook solubility of CO2 under one atmosphere: about 0.7 L a litre near 27 C (from memory)."""
    assert 700 == pytest.approx(dissolved_capacity_ml(1000, 27, 101_325, knowledge), rel=0.10)


def test_hot_water_and_high_places_hold_less(knowledge):
    at = [dissolved_capacity_ml(1000, t, 101_325, knowledge) for t in (5, 27, 60, 90)]
    assert at == sorted(at, reverse=True)
    assert at[3] < 0.2 * at[1]
    assert dissolved_capacity_ml(1000, 27, pressure_pa(2500), knowledge) < at[1]
    assert 2 * at[1] == pytest.approx(dissolved_capacity_ml(2000, 27, 101_325, knowledge))


@pytest.mark.parametrize(
    ("t_c", "vapour_pa"),
    # saturation pressures of water from steam tables
    [(27, 3567), (60, 19_946), (80, 47_414)],
)
def test_moist_gas_swells_by_heat_and_vapour(t_c, vapour_pa, knowledge):
    """(T / 298.15) x P / (P - a p): at 80 C a bubble is more than twice its size at 25 C dry."""
    activity = knowledge.coefficient("dough_water_activity")
    expected = (t_c + 273.15) / 298.15 * 101_325 / (101_325 - activity * vapour_pa)
    assert expected == pytest.approx(free_expansion(t_c, 0, knowledge), rel=2e-3)


def test_near_boiling_steam_drives_and_there_is_no_number(knowledge):
    assert free_expansion(99, 0, knowledge) is None
    assert free_expansion(92, 0, knowledge) is not None
    assert free_expansion(92, 3000, knowledge) is None


def test_a_dough_without_gas_has_the_volume_of_its_parts(knowledge):
    """Choi and Okos 1986 at 25 C: water 0.997, fat 0.917 g/mL; by hand for 300 g water and 100 g oil."""
    dough = dough_composition(read_formula_text("300 g water\n100 g olive oil", knowledge))
    assert 300 / 0.997 + 100 / 0.917 == pytest.approx(matrix_volume_ml(dough, knowledge), rel=5e-3)
