"""Ingredient composition against the government tables it is said to come from, row by row.

composition_tables.csv holds the tables' own figures, g per 100 g (sodium mg, energy kcal), copied by record:
USDA SR28 (NDB numbers), FoodData Central Foundation Foods (FDC ids), AUSNUT 2011-13 (survey ids),
CIQUAL 2020 (food codes), Standard Tables of Food Composition in Japan 2020 (food numbers). An empty cell
means that the table, or the copy read, has no figure. Citations and licences: knowledge/sources.yaml.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import pytest

from advisor.knowledge_base.entry import Entry
from advisor.knowledge_base.ingredient import Ingredient
from advisor.knowledge_base.measured import Acid, ProteinClassEntry
from advisor.knowledge_base.reading import read_entries
from advisor.knowledge_base.texts import Source, Trait

HERE = Path(__file__).resolve().parent
KNOWLEDGE = HERE.parents[1] / "knowledge"
FIELDS = ("water", "protein", "fat", "carbohydrate", "fibre", "ash", "alcohol", "energy_kcal", "sodium_mg")
# Figures were copied, not computed: a thousandth of a gram only allows for how a number is written.
TABLE_TOLERANCE = 0.001

DEPARTURES = {
    ("baking_soda", "ash"): "ashing drives gas and water off; the whole salt is entered",
    ("cream_of_tartar", "carbohydrate"): "the table calls tartrate carbohydrate; entered as acid",
    ("cream_of_tartar", "fibre"): "no fibre in a pure salt",
    ("cream_of_tartar", "ash"): "the potassium is entered with its acid",
    ("sunflower_flour", "fibre"): "the table prints crude fibre; dietary fibre is entered from memory",
}

# Atwater's general factors with fibre at 2 (soluble and insoluble mixed), other polyols at 2.4, erythritol 0,
# allulose 0.4, organic acid 3, ethanol 7 kcal/g. The tables use food-specific factors, which differ by some
# per cent.
ENERGY_SHARE, ENERGY_KCAL = 0.08, 15.0
SPECIFIC = "the table uses a specific factor for this group"
ENERGY_EXCEPTIONS = {
    "lecithin": "phospholipid: the table counts about 7.6 kcal/g of its fat",
    "wheat_bran": f"{SPECIFIC}: bran is counted as poorly digested",
    "oat_bran": f"{SPECIFIC}: bran is counted as poorly digested",
    "rice_bran": f"{SPECIFIC}: bran is counted as poorly digested",
    "cocoa": f"{SPECIFIC}: cocoa is counted as poorly digested",
    "guar": "the table counts the fibre of gums at 4 kcal/g",
    "locust_bean_gum": "the table counts the fibre of gums at 4 kcal/g",
    "baking_powder": "what is left by difference in a powder of salts is not all food carbohydrate",
    "baking_powder_phosphate": "what is left by difference in a powder of salts is not all food carbohydrate",
    "soy_isolate": f"{SPECIFIC}: soy protein at 3.47 kcal/g",
    "chia": "the table counts the fibre of this seed at more than 2 kcal/g",
    "fructose": f"{SPECIFIC}: sugars at 3.68 kcal/g",
    "honey": f"{SPECIFIC}: sugars at 3.68 kcal/g",
    "glucose_syrup": f"{SPECIFIC}: sugars at 3.68 kcal/g",
    "maltitol": "the Japanese table counts maltitol at 2.1 kcal/g",
}


@cache
def ingredients() -> dict[str, Ingredient]:
    files = sorted((KNOWLEDGE / "ingredients").glob("*.yaml"))
    entries = [entry for path in files for entry, _ in read_entries(path, path.name, Ingredient)]
    assert len(entries) == len({entry.id for entry in entries}), "an ingredient id stands twice"
    return {entry.id: entry for entry in entries}


def table_rows() -> list[dict[str, str]]:
    with (HERE / "composition_tables.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def energy_by_general_factors(ingredient: Ingredient) -> float:
    """Energy of an ingredient by the general factors above, kcal per 100 g."""
    c = ingredient.per_100g
    digested = c.carbohydrate_with_fibre - c.fibre - c.polyols - c.erythritol - c.allulose
    sugars_and_starch = 4 * max(digested, 0.0)
    acids_and_alcohol = 3 * c.organic_acid + 7 * c.alcohol
    return (
        4 * c.protein + 9 * c.fat + sugars_and_starch + 2 * c.fibre
        + 2.4 * c.polyols + 0.4 * c.allulose + acids_and_alcohol
    )  # fmt: skip


def strays(ingredient: Ingredient) -> bool:
    """Tell whether the table's energy lies outside the tolerance around the general factors."""
    stated = ingredient.per_100g.energy_kcal
    assert stated is not None
    return abs(energy_by_general_factors(ingredient) - stated) > max(ENERGY_KCAL, ENERGY_SHARE * stated)


@pytest.mark.parametrize("row", table_rows(), ids=lambda row: row["ingredient"])
def test_an_entry_repeats_its_table(row: dict[str, str]) -> None:
    composition = ingredients()[row["ingredient"]].per_100g
    assert (row["data_set"], row["record"]) == (composition.data_set, composition.record)
    assert row["carbohydrate_is"] == composition.basis
    for field in FIELDS:
        if not row[field]:
            continue
        expected, found = float(row[field]), getattr(composition, field)
        if (row["ingredient"], field) in DEPARTURES:
            assert found is None or abs(expected - found) > TABLE_TOLERANCE, f"{field} no longer departs"
        elif row["ingredient"] == "cream_of_tartar" and field == "energy_kcal":
            assert found is None, "the table's energy goes with its carbohydrate, which is not taken over"
        else:
            assert expected == pytest.approx(found, abs=TABLE_TOLERANCE), field


def test_every_entry_that_names_a_table_is_compared() -> None:
    named = {i.id for i in ingredients().values() if i.per_100g.data_set != "from-memory"}
    compared = {row["ingredient"] for row in table_rows()}
    assert named == compared
    assert len(compared) >= 60


@pytest.mark.parametrize(
    "row",
    [row for row in table_rows() if row["carbohydrate_by_difference"]],
    ids=lambda row: row["ingredient"],
)
def test_available_carbohydrate_with_fibre_is_carbohydrate_by_difference(row: dict[str, str]) -> None:
    """AUSNUT and CIQUAL print carbohydrate without fibre; gums and acids not analysed may be 3 g."""
    found = ingredients()[row["ingredient"]].per_100g.carbohydrate_with_fibre
    assert float(row["carbohydrate_by_difference"]) == pytest.approx(found, abs=3.0)


@pytest.mark.parametrize("ingredient", ingredients().values(), ids=lambda i: i.id)
def test_proximates_close(ingredient: Ingredient) -> None:
    assert 95 <= ingredient.per_100g.closure <= 102


@pytest.mark.parametrize("ingredient", ingredients().values(), ids=lambda i: i.id)
def test_a_part_is_not_above_its_whole(ingredient: Ingredient) -> None:
    composition = ingredient.per_100g
    whole = composition.carbohydrate_with_fibre + 0.15  # rounding of fibre and carbohydrate in the tables
    for part in ("fibre", "sugars", "starch", "polyols", "erythritol", "allulose"):
        assert getattr(composition, part) <= whole, part


@pytest.mark.parametrize(
    "ingredient",
    [i for i in ingredients().values() if i.per_100g.energy_kcal is not None],
    ids=lambda i: i.id,
)
def test_energy_is_near_the_general_factors_unless_listed(ingredient: Ingredient) -> None:
    """An exception that is no longer needed fails too."""
    found = (energy_by_general_factors(ingredient), ingredient.per_100g.energy_kcal)
    assert (ingredient.id in ENERGY_EXCEPTIONS) == strays(ingredient), found


def test_every_energy_exception_is_an_ingredient_with_energy() -> None:
    assert all(ingredients()[name].per_100g.energy_kcal is not None for name in ENERGY_EXCEPTIONS)


def test_no_name_belongs_to_two_ingredients() -> None:
    owners: dict[str, str] = {}
    for ingredient in ingredients().values():
        for name in (ingredient.name, *ingredient.also):
            assert name.lower() not in owners, f"'{name}': {owners.get(name.lower())} and {ingredient.id}"
            owners[name.lower()] = ingredient.id


def test_what_an_ingredient_refers_to_exists() -> None:
    def ids(file: str, model: type[Entry], key: str = "id") -> set[str]:
        return {getattr(entry, key) for entry, _ in read_entries(KNOWLEDGE / file, file, model)}

    traits, acids = ids("traits.yaml", Trait), ids("acids.yaml", Acid)
    classes, sources = ids("protein_classes.yaml", ProteinClassEntry), ids("sources.yaml", Source, "key")
    for ingredient in ingredients().values():
        assert set(ingredient.traits) <= traits, ingredient.id
        assert set(ingredient.acids_per_100g) <= acids, ingredient.id
        assert set(ingredient.protein_classes) <= classes, ingredient.id
        assert {ingredient.per_100g.data_set, *ingredient.per_100g.sources} <= sources, ingredient.id
        assert ingredient.solids_like is None or ingredient.solids_like in ingredients(), ingredient.id
