"""Ingredient composition against a second table: another country's, or another survey's, analysis of the same food.

second_tables.csv holds, for each ingredient, the figures of a table other than the one that its entry comes from,
g per 100 g, copied by record: USDA SR28 (NDB numbers), FoodData Central Foundation Foods (FDC ids, without water
and ash), AUSNUT 2011-13 (survey ids), CIQUAL 2020 (food codes), Standard Tables of Food Composition in Japan 2020
(food numbers). `carbohydrate` is by difference, fibre included; for AUSNUT and CIQUAL, which print it without
fibre, it was worked out as 100 - water - protein - fat - ash - alcohol. An empty cell means no figure. Rows of
CIQUAL that repeat USDA's own figures are no second analysis and were left out. Sodium and energy are not compared:
what is salted differs by recipe, and energy is worked out, not analysed.

Two analyses of one food differ by variety, year and method. TOLERANCES says how far without a word; each figure
beyond stands in the column `differs` with the reason, `water fat: reason; fibre: reason`. Most reasons are common
knowledge of the trade about the two foods and no finding of the tables themselves.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from advisor.knowledge_base.knowledge import Knowledge

HERE = Path(__file__).resolve().parent
TOLERANCES = {
    # g per 100 g, and share of the larger figure: whichever is wider
    "water": (1.5, 0.10),
    "protein": (1.5, 0.10),
    "fat": (1.5, 0.10),
    "carbohydrate": (2.0, 0.10),
    "fibre": (2.0, 0.20),
    "ash": (0.5, 0.25),
}


def rows() -> list[dict[str, str]]:
    with (HERE / "second_tables.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def explained(row: dict[str, str]) -> dict[str, str]:
    """Field to the reason for its difference."""
    out: dict[str, str] = {}
    for part in row["differs"].split("; ") if row["differs"] else ():
        fields, _, reason = part.partition(": ")
        out |= dict.fromkeys(fields.split(), reason)
    return out


def beyond(row: dict[str, str], knowledge: Knowledge) -> dict[str, tuple[float, float]]:
    """Fields that lie outside their tolerance, with the second table's figure and ours."""
    composition = knowledge.ingredients[row["ingredient"]].per_100g
    out = {}
    for field, (grams, share) in TOLERANCES.items():
        if not row[field]:
            continue
        other = float(row[field])
        own = (
            composition.carbohydrate_with_fibre
            if field == "carbohydrate"
            else float(getattr(composition, field))
        )
        if abs(own - other) > max(grams, share * max(own, other)):
            out[field] = (other, own)
    return out


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["ingredient"])
def test_a_second_table_agrees_or_the_difference_is_explained(
    row: dict[str, str], knowledge: Knowledge
) -> None:
    """An explanation that is no longer needed fails too."""
    assert set(explained(row)) == set(beyond(row, knowledge)), beyond(row, knowledge)


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["ingredient"])
def test_the_second_table_is_another_than_the_first(row: dict[str, str], knowledge: Knowledge) -> None:
    assert row["data_set"] != knowledge.ingredients[row["ingredient"]].per_100g.data_set
    assert row["data_set"] in knowledge.sources
    assert row["record"]


def test_every_explanation_is_a_sentence_on_known_fields() -> None:
    for row in rows():
        for field, reason in explained(row).items():
            assert field in TOLERANCES, (row["ingredient"], field)
            assert len(reason) >= 15, (row["ingredient"], field)


def test_enough_ingredients_have_a_second_table() -> None:
    compared = [row["ingredient"] for row in rows()]
    assert len(compared) == len(set(compared))
    assert len(compared) >= 60


def test_most_figures_agree_without_a_word(knowledge: Knowledge) -> None:
    figures = sum(bool(row[field]) for row in rows() for field in TOLERANCES)
    apart = sum(len(beyond(row, knowledge)) for row in rows())
    assert apart / figures < 0.3, f"{apart} of {figures}"


def test_nobody_is_off_by_half_in_what_the_dough_is_built_of(knowledge: Knowledge) -> None:
    """Protein of the ingredients that carry a loaf: within a quarter, whatever the reason for a difference."""
    carriers = ("vital_wheat_gluten", "whole_egg", "egg_white", "egg_yolk", "egg_white_powder", "whole_egg_powder",
                "skim_milk_powder", "whole_milk", "mozzarella_part_skim", "cheddar", "bread_flour")  # fmt: skip
    by_name = {row["ingredient"]: row for row in rows()}
    for name in carriers:
        expected = float(by_name[name]["protein"])
        assert expected == pytest.approx(knowledge.ingredients[name].per_100g.protein, rel=0.25), name
