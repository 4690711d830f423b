"""Each check of an ingredient's figures, on the smallest knowledge that breaks it."""

from __future__ import annotations

import pytest
from spoiling import Kitchen

FEW = "knowledge/ingredients/few.yaml"
FLOUR = (
    "- id: flour\n  name: flour\n  family: flours\n  roles: [flour]\n"
    "  per_100g: {{data_set: handbook, record: page 9, basis: by_difference, water: 12, protein: 10, fat: 1, "
    "carbohydrate: 76, fibre: 3, ash: 1, sodium_mg: {sodium}, grade: published, sources: [handbook]{note}}}\n"
    "{more}"
)


def findings(kitchen: Kitchen, check: str, *, sodium: int = 2, note: str = "", more: str = "") -> list[str]:
    kitchen.add(FEW, FLOUR.format(sodium=sodium, note=note, more=more))
    return [line.partition(f" {check} ")[2] for line in kitchen.lines(check)]


def weights(**grams: float) -> str:
    rows = "".join(f"    {name}: {{grams: {g}, grade: practice}}\n" for name, g in grams.items())
    return f"  weights:\n{rows}"


def test_a_sound_entry_is_silent(kitchen: Kitchen) -> None:
    kitchen.add(FEW, FLOUR.format(sodium=2, note="", more=weights(large=50, large_uk=60)))
    assert () == kitchen.findings()


def test_a_measure_that_nobody_knows(kitchen: Kitchen) -> None:
    found = findings(kitchen, "reference", more=weights(larg=50))
    assert ["flour: no household measure 'larg'; did you mean 'large'?"] == found


def test_spoons_that_do_not_make_a_cup(kitchen: Kitchen) -> None:
    kitchen.add("knowledge/units.yaml", "- {id: cup, names: [cup], millilitres: 237, grade: practice}")
    kitchen.add("knowledge/units.yaml", "- {id: tbsp, names: [tbsp], millilitres: 15, grade: practice}")
    found = findings(kitchen, "weights", more=weights(cup=120, tbsp=12))
    assert ["flour: 16 tbsp weigh 192 g and a cup 120 g"] == [line.partition(";")[0] for line in found]


def test_a_note_may_say_why_a_spoon_differs(kitchen: Kitchen) -> None:
    kitchen.add("knowledge/units.yaml", "- {id: cup, names: [cup], millilitres: 237, grade: practice}")
    kitchen.add("knowledge/units.yaml", "- {id: tbsp, names: [tbsp], millilitres: 15, grade: practice}")
    more = weights(cup=120) + "    tbsp: {grams: 12, grade: practice, note: ground, which differs}\n"
    more = more.replace("note: ground, which differs", "note: 'ground, which differs'")
    assert [] == findings(kitchen, "weights", more=more)


@pytest.mark.parametrize(("note", "count"), [("", 1), (", note: ash was lost in ashing", 0)])
def test_sodium_beyond_all_ash(kitchen: Kitchen, note: str, count: int) -> None:
    found = findings(kitchen, "parts", sodium=2000, note=note)
    assert count == len(found)
    assert all(line.startswith("flour: sodium 2.00 g is more than all ash, 1 g") for line in found)


def test_more_water_given_than_there_is(kitchen: Kitchen) -> None:
    found = findings(kitchen, "range", more="  gives_water: {value: 1.2, grade: practice}\n")
    assert ["flour: gives_water 1.2 is a share from 0 to 1"] == found


def test_more_sugar_for_yeast_than_carbohydrate(kitchen: Kitchen) -> None:
    found = findings(kitchen, "range", more="  fermentable_sugars: {value: 80, grade: practice}\n")
    assert ["flour: fermentable_sugars 80 g, where carbohydrate without fibre is 73.0 g"] == found


def test_prices_are_the_users(kitchen: Kitchen) -> None:
    found = findings(kitchen, "price", more="  price_per_kg: 2\n")
    assert ["flour: prices stand in the user's own file: leave price_per_kg out"] == found
