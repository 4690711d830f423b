"""Energy and mass of a packet's panel, by the factors of each law."""

from __future__ import annotations

from dataclasses import replace

import pytest

from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.own_entry import OwnIngredient
from advisor.knowledge_base.own_making import make_ingredient
from advisor.models.dough.panel_balance import Balance, energy_span, panel_balance

US = {
    "per_g": 100, "calories": 600, "total_fat": 50, "sodium_mg": 20, "total_carbohydrate": 20,
    "dietary_fiber": 10, "total_sugars": 4, "protein": 20,
}  # fmt: skip
EU = {
    "energy_kcal": 590, "fat": 50, "carbohydrate": 10, "sugars": 4, "fibre": 10, "protein": 20, "salt": 0.05,
}  # fmt: skip


def balance(
    knowledge: Knowledge, like: str = "almond_flour", water: float | None = None, **panel: object
) -> tuple[Balance, Balance]:
    own = OwnIngredient.model_validate({"name": "test flour", "like": like, "water": water, **panel})
    sibling = knowledge.ingredients[like]
    made = make_ingredient(own, sibling).ingredient.per_100g
    energy, mass = panel_balance(own.figures, made, sibling, knowledge, water_told=water is not None)
    assert ("energy", "mass") == (energy.about, mass.about)
    return energy, mass


@pytest.mark.parametrize("panel", [{"us_panel": US}, {"eu_panel": EU}], ids=["us", "eu"])
def test_a_sound_panel_agrees_with_itself(knowledge: Knowledge, panel: dict[str, object]) -> None:
    energy, mass = balance(knowledge, **panel)
    assert energy.holds, energy.says
    assert mass.holds, mass.says


def test_factors_are_those_of_the_law(knowledge: Knowledge) -> None:
    """21 CFR 101.9(c)(1): 4-4-9; Regulation (EU) No 1169/2011, Annex XIV: fibre at 2 kcal/g, polyols at 2.4."""
    us = OwnIngredient.model_validate({"name": "x", "like": "almond_flour", "us_panel": US})
    made = make_ingredient(us, knowledge.ingredients["almond_flour"]).ingredient.per_100g
    assert (4 * 20 + 9 * 50 + 4 * 10, 4 * 20 + 9 * 50 + 4 * 20) == energy_span(us.figures, made, knowledge)
    sweet = EU | {"polyols": 8, "erythritol": 5}
    eu = OwnIngredient.model_validate({"name": "x", "like": "almond_flour", "eu_panel": sweet})
    expected = 4 * 20 + 9 * 50 + 4 * (10 - 8) + 2.4 * (8 - 5) + 0 * 5 + 2 * 10  # erythritol counts nothing
    assert pytest.approx((expected, expected)) == energy_span(eu.figures, made, knowledge)


@pytest.mark.parametrize(
    "panel",
    [
        {"us_panel": US | {"calories": 480}},
        {"us_panel": US | {"calories": 720}},
        {"eu_panel": EU | {"energy_kcal": 480}},
        {"us_panel": US | {"total_fat": 5}},
    ],
)
def test_energy_that_its_parts_do_not_give_is_found(knowledge: Knowledge, panel: dict[str, object]) -> None:
    energy, _ = balance(knowledge, **panel)
    assert not energy.holds
    assert "a figure is wrong" in energy.says


def test_serving_figures_taken_for_100_g_are_found_by_their_mass(knowledge: Knowledge) -> None:
    """All figures of a serving of 30 g agree with each other, so that only the mass can tell."""
    serving = {key: 0.3 * value for key, value in US.items()} | {"per_g": 100}
    energy, mass = balance(knowledge, us_panel=serving)
    assert energy.holds
    assert not mass.holds
    assert "is per_g the weight that the figures are for?" in mass.says


def test_figures_of_100_g_taken_for_a_serving_are_found_by_their_mass(knowledge: Knowledge) -> None:
    _, mass = balance(knowledge, us_panel=US | {"per_g": 30})
    assert not mass.holds
    assert "300.0 g per 100 g" in mass.says


def test_water_that_is_told_settles_what_the_sibling_does_not_know(knowledge: Knowledge) -> None:
    wet = {key: value / 2 for key, value in US.items()} | {"per_g": 100}
    assert not balance(knowledge, us_panel=wet)[1].holds
    assert balance(knowledge, us_panel=wet, water=52)[1].holds
    assert not balance(knowledge, us_panel=wet, water=20)[1].holds


def test_a_small_serving_is_forgiven_its_rounding(knowledge: Knowledge) -> None:
    """7 g of psyllium husk: 25 kcal, 6 g of carbohydrate, 6 g of fibre; a gram either way is 14 g per 100 g."""
    husk = {
        "per_g": 7, "calories": 25, "total_fat": 0, "sodium_mg": 5, "total_carbohydrate": 6,
        "dietary_fiber": 6, "protein": 0,
    }  # fmt: skip
    energy, mass = balance(knowledge, like="psyllium_husk", us_panel=husk)
    assert energy.holds, energy.says
    assert mass.holds, mass.says
    assert not balance(knowledge, like="psyllium_husk", us_panel=husk | {"calories": 90})[0].holds


def test_every_shipped_record_passes_as_if_it_stood_on_a_packet(knowledge: Knowledge) -> None:
    """The checks must not refuse what tables say of real food; those that differ are known to the other tests."""
    refused = []
    for name, entry in knowledge.ingredients.items():
        c = entry.per_100g
        if c.energy_kcal is None or c.alcohol or set(entry.roles) & {"soda", "powder", "acid"}:
            continue
        panel = {
            "per_g": 100, "calories": c.energy_kcal, "total_fat": c.fat, "sodium_mg": c.sodium_mg,
            "total_carbohydrate": c.carbohydrate, "dietary_fiber": c.fibre, "total_sugars": c.sugars,
            "sugar_alcohol": c.polyols + c.erythritol, "erythritol": c.erythritol, "allulose": c.allulose,
            "protein": c.protein,
        }  # fmt: skip
        if c.basis == "available":
            panel["total_carbohydrate"] = c.carbohydrate_with_fibre
        panel["total_sugars"] = min(c.sugars, panel["total_carbohydrate"])
        energy, mass = balance(knowledge, like=name, us_panel=panel)
        refused += [f"{name}: {b.says}" for b in (energy, mass) if not b.holds]
    assert sorted(SPECIFIC) == sorted(line.partition(":")[0] for line in refused), refused


SPECIFIC = {
    "lecithin": "phospholipid counts about 7.6 kcal/g of its fat",
    "oat_bran": "bran is counted as poorly digested",
    "cocoa": "cocoa is counted as poorly digested",
    "soy_isolate": "soy protein counts 3.47 kcal/g",
}
"""Records whose energy follows a specific factor."""


def test_eu_energy_must_agree_between_its_two_units() -> None:
    with pytest.raises(ValueError, match="is 406 kcal, energy_kcal says 590"):
        OwnIngredient.model_validate({"name": "x", "like": "y", "eu_panel": EU | {"energy_kj": 1700}})


def test_only_the_parts_of_the_panel_are_read(knowledge: Knowledge) -> None:
    own = OwnIngredient.model_validate({"name": "x", "like": "almond_flour", "us_panel": US})
    made = make_ingredient(own, knowledge.ingredients["almond_flour"]).ingredient.per_100g
    twice = replace(own.figures, sugars=20.0)
    assert energy_span(own.figures, made, knowledge) == energy_span(twice, made, knowledge)
