"""One ingredient line: amount, name, note, weight in brackets, and how its grams come about."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula

Read = Callable[..., Formula]


@pytest.mark.parametrize(
    ("text", "ingredient", "grams"),
    [
        ("150 g vital wheat gluten", "vital_wheat_gluten", 150),
        ("150g Vital-Wheat Gluten", "vital_wheat_gluten", 150),
        ("gluten 150 g", "vital_wheat_gluten", 150),
        ("gluten: 150 g", "vital_wheat_gluten", 150),
        ("gluten, 150 g", "vital_wheat_gluten", 150),
        ("gluten\t150\tg", "vital_wheat_gluten", 150),
        ("- 150 g gluten", "vital_wheat_gluten", 150),
        ("1. 150 g gluten", "vital_wheat_gluten", 150),
        ("• 150 g gluten # from the tub", "vital_wheat_gluten", 150),
        ("1/2 cup ground flaxseed (56 g)", "ground_flaxseed", 56),
        ("flaxseed, ground 40 g", "ground_flaxseed", 40),
        ("40 g flaxseed, finely ground", "ground_flaxseed", 40),
        ("40 g flax seed", "whole_flaxseed", 40),
        ("1,5 kg water", "water", 1500),
        ("0,500 kg water", "water", 500),
        ("½ cup almond flour", "almond_flour", 48),
        ("1 ½ cups almond flour", "almond_flour", 144),
        ("1½ cups almond flour", "almond_flour", 144),
        ("1 1/2 cups almond flour", "almond_flour", 144),
        ("1-1/2 cups almond flour", "almond_flour", 144),
        ("half a cup of almond flour", "almond_flour", 48),
        ("100-120 g water", "water", 110),
        ("100 to 120 g water", "water", 110),
        ("100 g - 120 g water", "water", 110),
        ("1 tbsp + 1 tsp cider vinegar", "cider_vinegar", 19.9),
        ("cider vinegar 1 tbsp + 1 tsp", "cider_vinegar", 19.9),
        ("1 lb 4 oz almond flour", "almond_flour", 566.99),
        ("2 x 7 g yeast", "instant_yeast", 14),
        ("2 packets yeast", "instant_yeast", 14),
        ("2 packets yeast (8 g each)", "instant_yeast", 16),
        ("2 packets yeast (15 g)", "instant_yeast", 15),
        ("1 (8 oz) package cream cheese, softened", "cream_cheese", 226.796),
        ("1 tub (200 g) cream cheese", "cream_cheese", 200),
        ("1 stick butter, melted", "butter", 113),
        ("8 fl oz water", "water", 237),
        ("8 oz water (227 g)", "water", 227),
        ("200 g 2% milk", "semi_skimmed_milk", 200),
        ("2% milk 200 g", "semi_skimmed_milk", 200),
        ("half and half 200 g", "half_and_half", 200),
        ("~20 g olive oil", "olive_oil", 20),
        ("1 T olive oil", "olive_oil", 13.5),
        ("1 t salt", "salt", 6),
        ("60 g greek yogurt", "greek_yoghurt", 60),
        ("200 g mozzarella, pre-shredded", "bagged_grated_mozzarella", 200),
        ("2 medium courgettes", "courgette", 392),
        ("1 cup (240 ml) milk", "whole_milk", 240 * 244 / 236.5882365),
    ],
)
def test_line_gives_ingredient_and_grams(read: Read, text: str, ingredient: str, grams: float) -> None:
    (line,) = read(text).lines
    assert ingredient == line.ingredient.id
    assert grams == pytest.approx(line.grams, rel=1e-4)


@pytest.mark.parametrize(
    ("text", "ingredient", "counted", "grams"),
    [
        ("6 large eggs", "whole_egg", 6, 300),
        ("6 eggs", "whole_egg", 6, 300),
        ("eggs: 6", "whole_egg", 6, 300),
        ("eggs 6 large", "whole_egg", 6, 300),
        ("4x eggs", "whole_egg", 4, 200),
        ("a dozen eggs", "whole_egg", 12, 600),
        ("4 medium eggs, beaten", "whole_egg", 4, 176),
        ("4 large egg whites", "egg_white", 4, 132),
        ("3 egg whites", "egg_white", 3, 99),
        ("2 yolks", "egg_yolk", 2, 34),
        ("6 eggs (312 g)", "whole_egg", 6, 312),
        ("6 (52 g) eggs", "whole_egg", 6, 312),
        ("300 g eggs", "whole_egg", None, 300),
        ("1.5 eggs", "whole_egg", None, 75),
    ],
)
def test_eggs_are_counted(read: Read, text: str, ingredient: str, counted: int | None, grams: float) -> None:
    (line,) = read(text).lines
    assert (ingredient, counted) == (line.ingredient.id, line.counted)
    assert grams == pytest.approx(line.grams)


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("water 200", "'200' has no unit"),
        ("3 egg whites", "taken as large, 33 g each"),
        ("100-120 g water", "at its middle, 110"),
        ("~20 g olive oil", "taken as 20"),
        ("1 cup almond flour", "a cup is 236.6 mL"),
        ("pinch of xanthan", "'pinch' is taken as one"),
        ("200 g warm water", "no temperature"),
        ("60 g butter, from the corner shop", "note 'from the corner shop' is not used"),
    ],
)
def test_what_is_assumed_is_said(read: Read, text: str, part: str) -> None:
    formula = read(text)
    assert any(part in said for said in formula.assumed), formula.assumed
    assert () == formula.warnings


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("6 large eggs (400 g)", "would weigh 300 g; the bracket says 400 g"),
        ("100 g eggs, yolks only", "note 'yolks only' is not used"),
        ("60 g Greek yoghurt 10%", "whatever its percentage"),
    ],
)
def test_doubts_are_warnings(read: Read, text: str, part: str) -> None:
    assert any(part in said for said in read(text).warnings)


@pytest.mark.parametrize(
    ("text", "traits"),
    [
        ("60 g butter, melted", ("melted",)),
        ("60 g melted butter", ("melted",)),
        ("200 g boiling water", ("hot_liquid",)),
        ("12 oz low-moisture mozzarella, grated", ()),
        ("12 oz low-moisture mozzarella, grated from the block", ()),
        ("12 oz low-moisture mozzarella, from a bag", ("coated",)),
        ("60 g almond flour, coarsely ground", ("coarse",)),
        ("60 g almond flour, very finely ground", ()),
        ("5 g coarse salt", ()),
    ],
)
def test_states_set_traits(read: Read, text: str, traits: tuple[str, ...]) -> None:
    assert traits == read(text).lines[0].traits


def test_region_sets_the_cup(read: Read) -> None:
    (line,) = read("1 cup water", region="metric").lines
    assert 237 * 250 / 236.5882365 == pytest.approx(line.grams)


def test_percentages_are_of_the_base(read: Read) -> None:
    formula = read("base: 500 g\ngluten 100%\nwater 65%\n2% salt")
    assert [500, 325, 10] == [line.grams for line in formula.lines]


@pytest.mark.parametrize("liquid", ["water", "milk", "olive oil", "cider vinegar"])
def test_an_ounce_of_a_thin_liquid_is_a_weight_and_that_is_said(read: Read, liquid: str) -> None:
    formula = read(f"150 g gluten\n8 oz {liquid}")
    assert 226.8 == pytest.approx(formula.lines[1].grams, abs=0.1)
    assert any("taken as a weight" in said for said in formula.assumed)


def test_grade_is_that_of_the_weight_used(read: Read) -> None:
    formula = read("150 g gluten\n1 cup almond flour\nwater 20")
    assert ["published", "memory", "practice"] == [line.grade for line in formula.lines]


@pytest.mark.parametrize(
    ("text", "column", "what", "do"),
    [
        ("-5 g salt", 1, "below zero", "above 0"),
        ("salt -5 g", 6, "dash or a minus", "without it"),
        ("0 g salt", 1, "no amount", "leave the line out"),
        ("1,500 kg water", 1, "1500 or 1", "1500 or 1.500"),
        ("1.500,5 g water", 1, "two marks", "one decimal point"),
        ("1/0 cup water", 1, "divides by nothing", "above 0"),
        ("120-100 g water", 1, "does not rise", "smaller"),
        ("60 kg water", 1, "not between 0 and 50 kg", "one batch"),
        ("99999999999 g water", 1, "no number", "grams"),
        ("100 g vital wheat zorb", 7, "no ingredient is called", "vital wheat gluten"),
        ("200 g salt and gluten", 7, "no ingredient is called", "its own line"),
        ("200 g almond flour, gluten", 21, "another ingredient", "one ingredient a line"),
        ("2 courgettes", 1, "count or grams", "2 medium courgette"),
        ("300 eggs", 1, "count or grams", "300 g"),
        ("1 cup psyllium", 1, "no weight of a cup", "grams"),
        ("100 ml psyllium", 1, "no weight of a ml", "grams"),
        ("1 can milk", 1, "no weight of one 'can'", "in brackets"),
        ("water 65%", 7, "share of a base", "base: 500 g"),
        ("5gluten", 2, "no unit that is known", "space before the name"),
        ("water 12 g 13 g", 1, "two amounts", "keep one"),
        ("100 g (56 g water", 7, "bracket", "both brackets"),
    ],
)
def test_unclear_line_is_a_problem_with_a_way_out(
    read: Read, text: str, column: int, what: str, do: str
) -> None:
    with pytest.raises(FormulaFault) as caught:
        read(text)
    (problem,) = caught.value.problems
    assert (1, column) == (problem.line, problem.column)
    assert what in problem.what
    assert do in problem.do


def test_unknown_name_offers_the_nearest(read: Read) -> None:
    with pytest.raises(FormulaFault, match=r"write low-moisture mozzarella(, .+ or .+)?, or add it"):
        read("100 g low moisture mozarela")


@pytest.mark.parametrize(("text", "grams"), [("250 ml milk", 257.83), ("100 ml cider vinegar", 100.77)])
def test_millilitres_go_by_the_nearest_household_weight(read: Read, text: str, grams: float) -> None:
    (line,) = read(text).lines
    assert grams == pytest.approx(line.grams, rel=1e-4)
