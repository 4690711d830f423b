"""Several ingredients in one line or paragraph, one ingredient weighed twice, and lines with numbers that are kept."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor import read_formula
from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.formula.spoken_numbers import with_digits
from advisor.knowledge_base.knowledge import Knowledge

Read = Callable[[str], Formula]


@pytest.fixture
def read(knowledge: Knowledge) -> Read:
    """Read a line below a title and one ingredient that none of them holds."""
    return lambda text: read_formula_text(f"Loaf\n100 g pea protein isolate\n{text}", knowledge)


def _pairs(formula: Formula) -> list[tuple[str, float]]:
    return [(line.ingredient.id, round(line.grams, 1)) for line in formula.lines[1:]]


DRY = [("vital_wheat_gluten", 150.0), ("oat_fibre", 60.0), ("salt", 6.0)]


@pytest.mark.parametrize(
    "text",
    [
        "150g vital wheat gluten 60g oat fibre 6g salt",
        "150 g vital wheat gluten  60 g oat fibre  6 g salt",
        "150 g vital wheat gluten, 60 g oat fibre, 6 g salt",
        "vital wheat gluten 150, oat fibre 60, salt 6",
        "vital wheat gluten 150 g; oat fibre 60 g; salt 6 g",
        "150 g vital wheat gluten / 60 g oat fibre / 6 g salt",
        "150 g vital wheat gluten + 60 g oat fibre plus 6 g salt",
        "dry - 150 g vital wheat gluten, 60 g oat fibre and 6 g salt",
        "The powders: vital wheat gluten 150 g, 60 g oat fibre, salt 6 g",
        "one hundred and fifty grams of vital wheat gluten then sixty grams oat fibre and six grams of salt",
        "so you need 150 grams of vital wheat gluten and 60 of oat fibre and about 6 of salt",
        "150 g vital wheat gluten, sifted, 60 g oat fibre, 6 g salt, fine",
    ],
)
def test_line_of_several_ingredients_gives_each(read: Read, text: str) -> None:
    assert DRY == _pairs(read(text))


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("almond flour 2 cups 224 g", 224),
        ("2 cups almond flour 224 g", 224),
        ("almond flour\t2 cups\t224 g", 224),
        ("almond flour 224 g 40%", 224),
        ("almond flour - 224 g - sifted", 224),
        ("almond 224 g flour", 224),
    ],
)
def test_ingredient_weighed_twice_is_taken_by_its_weight(read: Read, text: str, grams: float) -> None:
    assert [("almond_flour", grams)] == _pairs(read(text))


def test_sum_is_no_second_way_of_weighing(read: Read) -> None:
    assert 214.8 == pytest.approx(sum(grams for _, grams in _pairs(read("200 g water plus 1 tbsp"))), abs=0.2)


def test_sentences_behind_a_list_are_process(read: Read) -> None:
    formula = read("Mine: 4 eggs, 30 g cream cheese, splash of milk. Rest 5 min. Bake at 180 C for 20 min.")
    assert [("whole_egg", 200.0), ("cream_cheese", 30.0)] == _pairs(formula)[:2]
    assert "milk" in _pairs(formula)[2][0]
    assert (5, 20) == (formula.process.rest_min, formula.process.bake_min)


@pytest.mark.parametrize(
    "text",
    [
        "Dry mix (dry = 320 g = 100 %)",
        "Boil 2 l of water for the pot",
        "Boiling pot: 3 litres water, 1 tbsp malt extract, pinch of soda",
        "Run 3 planned: swap lupin for oat fibre 40 g, 210 g water, not baked yet",
        "nutrition per slice: 12 g protein, 3 g carbs",
        "Last time I tried it with 300 g egg white, 40 g whey isolate, half a tsp xanthan gum and binned it",
    ],
)
def test_line_with_numbers_that_is_no_ingredient_is_kept(read: Read, text: str) -> None:
    formula = read(text)
    assert [] == _pairs(formula)
    assert any("line 3" in said for said in formula.warnings)


def test_beating_minutes_without_an_ingredient_are_the_mixing(read: Read) -> None:
    formula = read("Whites, tartar and a third of the powder on high for 8 min")
    assert [] == _pairs(formula)
    assert 8 == formula.process.mix_min


@pytest.mark.parametrize("text", ["85 g per bun", "weight per bun 85 g", "each bun 85 g"])
def test_weight_of_a_piece_is_process(read: Read, text: str) -> None:
    assert 85 == read(text).process.piece_g


@pytest.mark.parametrize(
    "text", ["120 g moonflour", "moonflour 120 g", "150 g gluten, 60 g oat fibre, 9 g moonflour"]
)
def test_amount_of_something_unknown_is_still_asked_back(read: Read, text: str) -> None:
    with pytest.raises(FormulaFault, match="moonflour"):
        read(text)


def test_step_that_names_amounts_again_counts_nothing(read: Read) -> None:
    formula = read("200 g water\n5 g salt\nAdd 200 g water and 5 g salt and stir")
    assert [("water", 200.0), ("salt", 5.0)] == _pairs(formula)


@pytest.mark.parametrize(
    ("words", "digits"),
    [
        ("three hundred and fifty grams", "350 grams"),
        ("two and a half cups", "2.5 cups"),
        ("baked forty five minutes at one eighty", "baked 45 minutes at 180"),
        ("at three fifty for one hour ten", "at 350 for one hour 10 min"),
        ("twelve and a half g", "12.5 g"),
        ("two point five grams", "2.5 grams"),
        ("a thousand and fifty", "1050"),
        ("an hour and a half", "an hour and a half"),
        ("two twenty minute rests", "two 20 minute rests"),
    ],
)
def test_numbers_in_words_become_digits(words: str, digits: str) -> None:
    assert digits == with_digits(words)


@pytest.mark.parametrize(
    "table",
    [
        "1\tvital wheat gluten\t150 g\n2\toat fibre\t60 g\n3\tsalt\t6 g",
        "| | % | g |\n|---|---:|---:|\n| vital wheat gluten | 100 | 150 |\n| oat fibre | 40 | 60 |\n| salt | 4 | 6 |",
        "vital wheat gluten\t150\toat fibre\t60\n\t\tsalt\t6",
        "vital wheat gluten\t150 g\t100%\noat fibre\t60 g\t40%\nsalt\t6 g\t4%",
    ],
)
def test_table_without_a_heading_for_its_names_is_read(read: Read, table: str) -> None:
    assert DRY == _pairs(read(table))


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("100 g each almonds, hazelnuts and gluten; 5 eggs; 75 g olive oil",
         {"almonds_whole": 100, "hazelnut_meal": 100, "vital_wheat_gluten": 100, "whole_egg": 250, "olive_oil": 75}),
        ("75 g olive oil, 9 g each of salt and xanthan gum", {"olive_oil": 75, "salt": 9, "xanthan": 9}),
        ("25 g olive oil plus 30 g for pan and top", {"olive_oil": 25}),
        ("25 g olive oil + 10 g for the tin", {"olive_oil": 25}),
    ],
)  # fmt: skip
def test_one_amount_of_several_and_more_for_the_pan(
    knowledge: Knowledge, line: str, wanted: dict[str, float]
) -> None:
    found = read_formula_text(f"Loaf\n200 g water\n{line}", knowledge).lines[1:]
    assert wanted == {entry.ingredient.id: pytest.approx(entry.grams) for entry in found}


@pytest.mark.parametrize("front", ["Plain loaf. ", "Plain loaf\n"])
def test_list_between_its_title_and_a_sentence_loses_nothing(knowledge: Knowledge, front: str) -> None:
    text = f"{front}flour (strong) 450, wholemeal 50, water 365, salt 9, instant yeast 5. Bake at 220C 35 min"
    formula = read_formula_text(text, knowledge)
    assert "Plain loaf" == formula.name
    assert [450, 50, 365, 9, 5] == [entry.grams for entry in formula.lines]
    assert (220, 35) == (formula.process.oven_c, formula.process.bake_min)


def test_a_formula_in_one_paragraph_lists_its_ingredients_before_it_is_baked(knowledge: Knowledge) -> None:
    text = "Focaccia for the cafe. Rice flour 2 cups less a bit (250 g), tapioca 1 cup (120 g), "
    text += "water 430 g, olive oil 3 Tbsp. "
    read = read_formula_text(f"{text}Beat 3 minutes. Oiled 9 x 13, rise 50 min. 425 F, 30 min.", knowledge)
    assert "Focaccia for the cafe" == read.name
    assert [250, 120, 430, 40] == [int(line.grams) for line in read.lines]
    assert (3, 50, 30) == (read.process.mix_min, read.process.proof_min, read.process.bake_min)


def test_a_formula_in_one_paragraph_that_names_its_tin_is_no_title() -> None:
    formula = read_formula(
        "Almond bread. 250g ground almonds, 20g psyllium husk powder, 2 tsp baking powder, 1 tsp salt, 4 large eggs, "
        "150ml milk, 50g melted butter, 1 tbsp cider vinegar. Whisk eggs, milk, butter and vinegar, stir in the dry, "
        "let it thicken five minutes, spoon into a lined 2lb loaf tin. Bake at 170C for 55 minutes."
    )
    assert 8 == len(formula.lines)
    assert (170, 55) == (formula.process.oven_c, formula.process.bake_min)


def test_a_tins_kilogram_ends_its_sentence_and_is_not_added_to_the_gluten() -> None:
    formula = read_formula(
        "Gluten bread, tin of 1 kg. 180 g wheat gluten, 70 g ground linseed, 6 g salt, 235 g water."
    )
    assert [180, 70, 6, 235] == [line.grams for line in formula.lines]
