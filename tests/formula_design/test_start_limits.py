"""What is asked of a start beside its ingredients: names to avoid, pans, numbers of pieces, limits out of reach."""

from __future__ import annotations

import pytest

from advisor import load_knowledge, start_formulas
from advisor.explanation.designing.start_page import start_page
from advisor.interface.desk.showing import page_text
from advisor.knowledge_base.faults import InputFault
from advisor.remedy.avoided import avoided_in

SEEDS = "sunflower seeds, pumpkin seeds, flaxseed, chia seeds, psyllium husk, olive oil"
CHEESE = "grated mozzarella, cream cheese, almond flour, eggs"


@pytest.mark.parametrize(
    ("texts", "ids"),
    [
        (["gluten, milk"], {"gluten", "milk"}),
        (["nuts", "eggs"], {"nuts", "egg"}),
        (["dairy, tree nuts, peanuts"], {"milk", "nuts", "peanut"}),
        (["ground almonds"], {"almond_meal"}),
        (["vital_wheat_gluten", "Almond-flour"], {"vital_wheat_gluten", "almond_flour"}),
        ([" , "], set()),
    ],
)
def test_what_is_avoided_is_named_as_people_name_it(texts: list[str], ids: set[str]) -> None:
    assert avoided_in(texts, load_knowledge()) == ids


def test_an_unknown_name_to_avoid_is_refused() -> None:
    with pytest.raises(InputFault, match="granite"):
        avoided_in(["egg, granite"], load_knowledge())


def test_a_limit_out_of_reach_is_told_by_its_arithmetic() -> None:
    answer = start_formulas(
        SEEDS,
        kind="seed loaf",
        slices=20,
        pan="23 x 10 x 10 cm",
        net_carb_max=1.5,
        protein_min=20,
        avoid="egg, nuts",
    )
    assert not answer.formulas
    (stop,) = (s for s in answer.stops if s.beyond)
    assert stop.limit == "protein_min"
    assert stop.needed is not None
    # The richest seed has some 30 g in 100; half of some 1500 g of dough is seeds.
    assert 6 < stop.needed < 20
    text = " ".join(page_text(start_page(answer, load_knowledge())).split())
    assert "which is 400 g in all 20" in text
    assert "may not be used" not in text


def test_what_is_just_within_reach_is_not_called_out_of_reach() -> None:
    answer = start_formulas(SEEDS, kind="seed loaf", slices=20, pan="23 x 10 x 10 cm", avoid="egg, nuts")
    assert answer.formulas[0].passes


def test_a_pans_depth_does_not_thicken_a_pizza() -> None:
    grams = [
        start_formulas(CHEESE, kind="pizza base", slices=8, pan=pan).formulas[0].formula.dough_g
        for pan in ("32 x 32 x 2 cm", "32 x 32 x 5 cm")
    ]
    assert grams[0] == pytest.approx(grams[1], rel=0.03)
    assert 0.3 < grams[0] / 32**2 < 0.65


def test_a_quick_bread_in_a_tin_is_baked_as_a_loaf_and_muffins_as_muffins() -> None:
    asked = "ground hazelnuts, eggs, courgette, rapeseed oil, erythritol, baking powder, psyllium husk powder"
    loaf = start_formulas(asked, kind="quick bread", slices=12, pan="25 x 11 x 7 cm").formulas[0]
    cups = start_formulas(asked, kind="muffins", slices=8).formulas[0]
    assert loaf.formula.name.startswith("Quick bread")
    assert (loaf.formula.process.bake_min or 0) >= 40
    assert cups.formula.name.startswith("Muffins")
    assert (cups.formula.process.bake_min or 0) < 30
    assert cups.formula.process.pan_cups == 8


def test_what_the_models_cannot_judge_is_said_where_it_keeps_a_formula_from_passing() -> None:
    answer = start_formulas("parmesan, almond flour", kind="crackers")
    assert not answer.formulas[0].passes
    text = " ".join(page_text(start_page(answer, load_knowledge())).split())
    assert "Not judged: what holds the loaf together" in text


def test_the_search_stays_within_a_limit_that_the_first_plan_keeps() -> None:
    asked = "coconut flour, psyllium husk powder, bicarbonate of soda, olive oil"
    found = start_formulas(asked, kind="flatbread", slices=6, net_carb_max=2.1).formulas
    assert found
    assert found[0].slice.net_carb is not None
    assert found[0].slice.net_carb <= 2.1


@pytest.mark.parametrize(
    ("kind", "names"),
    [
        ("muffins", "eggs, coconut flour, butter, mature cheddar, soured cream, baking powder, chives"),
        ("flatbread", "coconut flour, psyllium husk powder, olive oil, bicarbonate of soda"),
        pytest.param(
            "seed loaf", "sunflower seeds, walnuts, ground flaxseed, chia seeds", marks=pytest.mark.slow
        ),
        pytest.param(
            "tin loaf", "quark, eggs, ground almonds, flaxseed meal, psyllium husk", marks=pytest.mark.slow
        ),
        ("focaccia", "flaxseed meal, eggs, olive oil, baking powder, rosemary"),
        pytest.param(
            "quick bread",
            "eggs, butter, coconut oil, almond flour, baking powder, xanthan gum",
            marks=pytest.mark.slow,
        ),
        pytest.param("crackers", "parmesan, almond flour, egg white", marks=pytest.mark.slow),
    ],
)
def test_breads_of_the_trade_are_found(kind: str, names: str) -> None:
    answer = start_formulas(names, kind=kind)
    assert answer.formulas
    assert answer.formulas[0].passes
    assert not answer.formulas[0].left_out
