"""Properties of water, foods and air against CoolProp, `fluids` and the standard atmosphere."""

import fluids.atmosphere as atmosphere
import pytest
from CoolProp.CoolProp import PropsSI

from advisor.models.dough.thermal import (
    LATENT_J_KG,
    Makeup,
    boiling_point_c,
    heat_capacity,
    porosity,
    porous_conductivity,
    pressure_pa,
    solid_conductivity,
    solid_density,
    vapour_pressure_pa,
)

# CoolProp's incompressible foods carry Choi and Okos 1986 as tabulated in the ASHRAE Refrigeration handbook.
FOODS = {"protein": "Protein", "fat": "Fat", "carb": "Carbohydrate", "fibre": "Fiber", "ash": "Ash"}


@pytest.mark.parametrize("temp_c", [20, 40, 60, 80, 95, 100])
def test_vapour_pressure_of_water(temp_c):
    # IAPWS-95 in CoolProp
    known = PropsSI("P", "T", temp_c + 273.15, "Q", 1, "Water")
    assert vapour_pressure_pa(temp_c) == pytest.approx(known, rel=5e-4)


@pytest.mark.parametrize("temp_c", [20, 40, 60, 80, 95])
def test_density_and_heat_capacity_of_water(temp_c):
    # IAPWS-95 in CoolProp; the food table strays by up to 1 % from it
    water = Makeup(water=1)
    at = ("T", temp_c + 273.15, "P", 101325, "Water")
    assert solid_density(water, temp_c) == pytest.approx(PropsSI("D", *at), rel=0.01)
    assert heat_capacity(water, temp_c) == pytest.approx(PropsSI("C", *at), rel=0.005)
    assert solid_conductivity(water, temp_c) == pytest.approx(PropsSI("L", *at), rel=0.03)


def test_heat_of_evaporation():
    # IAPWS-95 in CoolProp
    liquid, vapour = (PropsSI("H", "P", 101325, "Q", q, "Water") for q in (0, 1))
    assert vapour - liquid == pytest.approx(LATENT_J_KG, rel=1e-3)


@pytest.mark.parametrize("temp_c", [5, 25, 80, 120])
@pytest.mark.parametrize("part", sorted(FOODS))
def test_parts_of_food_agree_with_the_handbook_table(part, temp_c):
    # CoolProp incompressible foods, from the handbook
    pure = Makeup(**{part: 1.0})
    at = ("T", temp_c + 273.15, "P", 101325, f"INCOMP::Food{FOODS[part]}")
    assert solid_conductivity(pure, temp_c) == pytest.approx(PropsSI("L", *at), rel=1e-4)
    assert heat_capacity(pure, temp_c) == pytest.approx(PropsSI("C", *at), rel=1e-4)
    assert solid_density(pure, temp_c) == pytest.approx(PropsSI("D", *at), rel=1e-4)


def test_whole_foods_lie_where_the_mixing_rules_put_them():
    # Hand-worked from the table at 20 C: lean meat, water 72.63, protein 19.55, fat 7.14, ash 1.02 %:
    # c = (.7263 x 4176.6 + .1955 x 2031.9 + .0714 x 2011.7 + .0102 x 1128.9) / 1.0034, the sum of the shares
    meat = Makeup(water=0.7263, protein=0.1955, fat=0.0714, ash=0.0102)
    assert heat_capacity(meat, 20) == pytest.approx(3573.7, rel=1e-3)
    # 1.0034/rho = .7263/995.74 + .1955/1319.5 + .0714/917.24 + .0102/2418.2
    assert solid_density(meat, 20) == pytest.approx(1045.6, rel=1e-3)
    # Conductivity of lean meat is measured near 0.46 to 0.50 W/(m K) above freezing (from memory)
    assert 0.45 < solid_conductivity(meat, 20) < 0.51


def test_crumb_conducts_as_measured():
    # Rask 1989, J Food Eng 9:167: cold bread crumb about 0.2 to 0.3, dry crust about 0.05 W/(m K) (secondary)
    crumb = Makeup(water=0.40, protein=0.08, carb=0.50, ash=0.02)
    gas = porosity(crumb, 400)
    assert 0.10 < porous_conductivity(solid_conductivity(crumb, 25), gas) < 0.25
    crust = crumb.dried(0.05)
    assert 0.03 < porous_conductivity(solid_conductivity(crust, 100), porosity(crust, 250)) < 0.08


@pytest.mark.parametrize("altitude_m", [0, 500, 1600, 3000, 5000])
def test_pressure_is_that_of_the_standard_atmosphere(altitude_m):
    # US Standard Atmosphere 1976 in fluids
    assert pressure_pa(altitude_m) == pytest.approx(atmosphere.ATMOSPHERE_1976(altitude_m).P, rel=1e-5)


def test_water_boils_where_coolprop_says():
    for altitude_m in (0, 1600, 3000):
        known = PropsSI("T", "P", pressure_pa(altitude_m), "Q", 0, "Water") - 273.15
        assert boiling_point_c(altitude_m) == pytest.approx(known, abs=0.02)
    assert boiling_point_c(0, 0.95) > boiling_point_c(0, 1.0) + 1


def test_values_outside_validity_are_refused():
    for call in (
        lambda: pressure_pa(20000),
        lambda: vapour_pressure_pa(-5),
        lambda: boiling_point_c(0, 0.1),
        lambda: porosity(Makeup(water=1), 0),
        lambda: Makeup().shares(),
    ):
        with pytest.raises(ValueError):
            call()
