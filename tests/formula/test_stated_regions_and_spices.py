"""Regions that a line states, spices without a weight, and names that are near nothing."""

from __future__ import annotations

import pytest

from advisor.formula.faults import FormulaFault
from advisor.formula.reading import read_formula_text
from advisor.knowledge_base.knowledge import Knowledge


@pytest.mark.parametrize(
    ("line", "grams"),
    [
        ("1/2 pint milk, warmed (British pint)", 293.0),
        ("1/2 pint milk", 244.0),
        ("14 fl oz milk (imperial)", 410.2),
    ],
)
def test_line_states_its_region(knowledge: Knowledge, line: str, grams: float) -> None:
    (found,) = read_formula_text(f"Loaf\n{line}", knowledge).lines
    assert grams == pytest.approx(found.grams, rel=2e-3)


def test_title_states_the_region_of_all(knowledge: Knowledge) -> None:
    formula = read_formula_text("Loaf (British measures)\n1/2 pint milk", knowledge)
    assert formula.lines[0].grams == pytest.approx(293.0, rel=2e-3)
    assert any("those of region uk" in said for said in formula.assumed)


def test_bracket_of_a_region_does_not_hold_for_the_next_line(knowledge: Knowledge) -> None:
    first, second = read_formula_text("Loaf\n2 medium eggs (UK)\n2 medium eggs", knowledge).lines
    assert first.grams > second.grams


@pytest.mark.parametrize("line", ["pinch of mugwort", "a dash of zorblax", "woodruff, to taste"])
def test_spice_that_is_not_known_stops_nothing(knowledge: Knowledge, line: str) -> None:
    formula = read_formula_text(f"Loaf\n100 g vital wheat gluten\n{line}", knowledge)
    assert ["seasoning"] == [entry.ingredient.id for entry in formula.unweighed]
    assert any("look up its allergens" in said for said in formula.warnings)


@pytest.mark.parametrize("line", ["1 tsp zorblax", "30 g mugwort", "pinch of 4 zorblax"])
def test_amount_that_weighs_something_is_asked(knowledge: Knowledge, line: str) -> None:
    with pytest.raises(FormulaFault):
        read_formula_text(f"Loaf\n100 g vital wheat gluten\n{line}", knowledge)


@pytest.mark.parametrize(
    "line", ["everything bagel seasoning", "Topping:\nflaky salt", "rosemary if you have it"]
)
def test_what_goes_on_top_may_lack_an_amount(knowledge: Knowledge, line: str) -> None:
    formula = read_formula_text(f"Loaf\n100 g vital wheat gluten\n{line}", knowledge)
    assert 1 == len(formula.unweighed)
    assert any("has no weight" in said for said in formula.warnings)


def test_salt_of_the_dough_without_amount_is_asked(knowledge: Knowledge) -> None:
    formula = read_formula_text("Loaf\n100 g vital wheat gluten\nsalt", knowledge)
    assert ["salt"] == [entry.ingredient.id for entry in formula.unweighed]
    assert any("'salt' has no amount" in said for said in formula.warnings)


@pytest.mark.parametrize(
    ("name", "offered"),
    [("zorblax", None), ("vital whole gluten", "vital wheat gluten"), ("almndd flower", "almond flour")],
)
def test_only_a_near_name_is_offered(knowledge: Knowledge, name: str, offered: str | None) -> None:
    with pytest.raises(FormulaFault) as caught:
        read_formula_text(f"Loaf\n100 g {name}", knowledge)
    do = caught.value.problems[0].do
    assert "add it to the ingredients" in do
    assert ("write" in do) == bool(offered)
    assert (offered or "") in do


@pytest.mark.parametrize(
    ("name", "coated"),
    [("grated Parmesan", False), ("freshly grated Parmesan", False), ("finely grated Parmesan", False),
     ("grated Parmesan (from a tub)", True), ("grated Parmesan from a bag", True)],
)  # fmt: skip
def test_parmesan_is_coated_from_a_bag_alone(knowledge: Knowledge, name: str, coated: bool) -> None:
    (line,) = read_formula_text(f"Loaf\n50 g {name}", knowledge).lines
    assert coated == ("coated" in line.all_traits)


def test_calcium_caseinate_disperses_where_sodium_dissolves_and_thickens(knowledge: Knowledge) -> None:
    """Doughs with it were slacker, not stiffer: Krupa-Kozak et al. 2013 (abstract)."""
    first, second = (knowledge.ingredients[i].dough_uptake for i in ("calcium_caseinate", "sodium_caseinate"))
    assert first is not None and second is not None
    assert first.value < second.value


def test_coarse_salt_by_the_spoon_is_doubted(knowledge: Knowledge) -> None:
    formula = read_formula_text("Loaf\n100 g vital wheat gluten\n2 tsp kosher salt", knowledge)
    assert 8 == formula.lines[1].grams
    assert any("makes differ" in said for said in formula.warnings)


def test_starter_is_said_to_be_half_water(knowledge: Knowledge) -> None:
    formula = read_formula_text("Loaf\n100 g sourdough starter", knowledge)
    assert any("half water" in said for said in formula.assumed)


@pytest.mark.parametrize("line", ["tin: 23 x 13 x 7 cm", "tin: 2 lb loaf tin", "pan: 9 x 5 inch"])
def test_pan_by_another_key_or_its_usual_name(knowledge: Knowledge, line: str) -> None:
    formula = read_formula_text(f"Loaf\n100 g vital wheat gluten\n{line}", knowledge)
    assert formula.process.pan_volume_ml is not None
