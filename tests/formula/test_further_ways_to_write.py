"""Ingredients as other trades and countries write them: shorthand rows, heats behind '@', spoons of the north."""

from __future__ import annotations

import pytest

from advisor.formula.reading import read_formula_text
from advisor.knowledge_base.knowledge import Knowledge


@pytest.mark.parametrize(
    ("lines", "wanted"),
    [
        ("VWG 210 / WPI 35 / OF 75 / XG 2\nH2O 255 @ 30", {"vital_wheat_gluten": 210, "oat_fibre": 75, "water": 255}),
        ("WG 250, bamboo 60, potato fibre 15, EWP 20", {"vital_wheat_gluten": 250, "bamboo_fibre": 60}),
        ("200 g gluten\n2 msk butter\n1 krm salt\n1,5 tsk sugar", {"butter": 28.4, "salt": 1.29}),
        ("200 g gluten\n1 packet baking powder", {"baking_powder": 16}),
        ("200 g gluten\n30 g vanilla casein\n40 g casein, spray-dried", {"casein_powder": 70}),
        ("100 bread flour\n30 medium rye", {"bread_flour": 100, "rye_flour": 30}),
        ("100 g rye flour\n200 g water\nAdd 200 g rye flour, 20 g salt and 5 g sugar.", {"rye_flour": 300, "salt": 20}),
        ("200 g rye flour\nof which prefermented 40 g\n150 g water", {"rye_flour": 200, "water": 150}),
        ("200 g gluten\n1 zakje bakpoeder (16 gr baking powder)", {"baking_powder": 16}),
        ("200 g gluten\n50 g magere kwark (low fat quark)\n2 ovos / eggs", {"quark": 50, "whole_egg": 100}),
        ("200 g gluten\n50 g sunflower seeds (plus 1 tbsp for sprinkling)", {"sunflower_seeds": 50}),
        ("200 g gluten\n150 g oat fibre... no, oat bran!", {"oat_bran": 150, "oat_fibre": 0}),
        ("[Sat 09:14] Ann: 170 gluten 50 pea protein 40 oat fibre", {"vital_wheat_gluten": 170, "oat_fibre": 40}),
    ],
)  # fmt: skip
def test_amounts(knowledge: Knowledge, lines: str, wanted: dict[str, float]) -> None:
    formula = read_formula_text(f"title: Canteen loaf\n{lines}", knowledge)
    found = {name: sum(line.grams for line in formula.lines if line.ingredient.id == name) for name in wanted}
    assert pytest.approx(wanted, rel=0.03) == found


@pytest.mark.parametrize(
    ("line", "celsius"),
    [
        ("water 400 @ 22", 22),
        ("1 1/8 cup warm water, 100-110", 40.6),
        ("240 g water (warm like 38C)", 38),
        ("1 cup water warm (about 105)", 40.6),
        ("200 g warm water", None),
        ("warm water 200", None),
    ],
)
def test_heat_of_the_water(knowledge: Knowledge, line: str, celsius: float | None) -> None:
    formula = read_formula_text(f"Canteen loaf\n200 g gluten\n{line}", knowledge)
    assert (pytest.approx(celsius, abs=0.1) if celsius else None) == formula.process.water_c
    assert 2 == len(formula.lines)


def test_rows_of_the_process_below_a_table(knowledge: Knowledge) -> None:
    rows = "Ingredient\t%\tg\nGluten\t80\t160\nOat fibre\t20\t40\nWater\t90\t180\n"
    process = read_formula_text(f"Canteen\n{rows}Core\t97 °C\nFloor time\t15 min", knowledge).process
    assert (97, 15) == (process.target_core_c, process.rest_min)


@pytest.mark.parametrize(
    ("method", "field", "wanted"),
    [
        ("Bake at 180 C for 40 min. In the old oven I did 190.", "oven_c", 180),
        ("Slice it 1 cm thick.", "thickness_cm", None),
        ("Cut thin, 1/4 in.", "thickness_cm", None),
        ("Boil: 3 litres water, 1 tbsp bicarb. 45 seconds each side.", "griddle_side_min", None),
        ("roll 2 mm\n300° 4 min\ncold 60 min in fridge 5°", "oven_c", 300),
        ("Tin: 900 g, greased", "pan_kind", "tin"),
        ("200 graden, 45 min bake", "bake_min", 45),
    ],
)
def test_method(knowledge: Knowledge, method: str, field: str, wanted: float | str | None) -> None:
    formula = read_formula_text(f"Canteen loaf\n200 g gluten\n150 g water\n{method}", knowledge)
    found = getattr(formula.process, field)
    assert (pytest.approx(wanted) if isinstance(wanted, float | int) else wanted) == found


def test_names_with_the_kind_in_front(knowledge: Knowledge) -> None:
    formula = read_formula_text("Canteen\nFlour strong 16 kg\nWPC 80 - 40 g\nWater 9.6 kg", knowledge)
    assert [16000, 40, 9600] == [line.grams for line in formula.lines]
