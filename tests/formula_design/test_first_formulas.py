"""First formulas: each is read back as written, passes the check that it promises, and is what a baker would weigh."""

from __future__ import annotations

from dataclasses import replace

import pytest

from advisor import check, load_knowledge, read_formula, start_formulas
from advisor.diagnosis.pipeline import Examiner
from advisor.formula.writing.as_text import write_formula_text
from advisor.formula_design.request import request_of
from advisor.formula_design.starting import FirstFormula, StartAnswer, first_formulas
from advisor.knowledge_base.faults import InputFault
from advisor.remedy.constraints import Constraints

LISTS = (
    ("tin loaf", "vital wheat gluten, eggs, mozzarella, flax"),
    ("rolls", "psyllium, almond flour, egg whites"),
    ("tin loaf", "almond flour, eggs, psyllium, cream cheese"),
    ("pizza", "mozzarella, cream cheese, almond flour, eggs"),
    ("cracker", "flaxseed meal, sunflower seeds, parmesan"),
    ("muffin", "coconut flour, almond flour, eggs, erythritol, blueberries"),
    ("rolls", "gluten, lupin flour, oat fibre, eggs"),
    ("seed loaf", "sunflower seeds, pumpkin seeds, psyllium"),
    ("foam bread", "eggs, cream cheese"),
    ("wheat loaf", "bread flour"),
    ("rich dough", "bread flour, eggs, milk"),
    ("flatbread", "gluten, oat fibre"),
)


@pytest.fixture(
    scope="module",
    params=[LISTS[1::2], pytest.param(LISTS[::2], marks=pytest.mark.slow)],
    ids=["some", "rest"],
)
def answers(request: pytest.FixtureRequest) -> dict[tuple[str, str], StartAnswer]:
    return {(kind, names): start_formulas(names, kind=kind) for kind, names in request.param}


@pytest.fixture(scope="module")
def every(answers: dict[tuple[str, str], StartAnswer]) -> list[FirstFormula]:
    return [one for answer in answers.values() for one in answer.formulas]


def grams(one: FirstFormula, role: str) -> float:
    return sum(x.grams for x in one.formula.lines if role in x.ingredient.roles)


def test_each_list_gives_a_formula_that_passes_its_check(answers: dict[tuple[str, str], StartAnswer]) -> None:
    for asked, answer in answers.items():
        assert answer.formulas, asked
        assert answer.formulas[0].passes, asked
        assert not answer.stops, asked


def test_cards_read_back_as_the_same_formula(every: list[FirstFormula]) -> None:
    for one in every:
        again = read_formula(one.card)
        assert one.card == write_formula_text(again)
        assert [(x.ingredient.id, x.grams) for x in again.lines] == [
            (x.ingredient.id, x.grams) for x in one.formula.lines
        ]
        assert again.process == one.formula.process


def test_what_passes_passes_a_check(every: list[FirstFormula]) -> None:
    limit = load_knowledge().coefficient("risk_limit")
    for one in every:
        found = check(one.formula, Constraints())
        assert one.passes == (found.deciding_risk < limit)
        assert one.worst[1] == pytest.approx(found.worst_risk)


def test_amounts_are_those_of_a_kitchen(every: list[FirstFormula]) -> None:
    for one in every:
        for line in one.formula.lines:
            if "egg" in line.ingredient.roles and line.ingredient.countable and line.grams < 300:
                assert line.counted, line.text
            elif line.grams >= 25:
                assert 0 == pytest.approx(line.grams % 5, abs=1e-6), line.text
            else:
                assert 0 == pytest.approx(line.grams % 0.5, abs=1e-6), line.text


def test_a_good_baker_would_try_it(every: list[FirstFormula]) -> None:
    """Salt and leavening as bakers use them, each against the dough; whatever the models make of it."""
    for one in every:
        dough = one.formula.dough_g
        if "sweetener" not in {r for x in one.formula.lines for r in x.ingredient.roles}:
            assert grams(one, "salt") < 0.016 * dough, one.card
        assert grams(one, "powder") < 0.026 * dough, one.card
        if grams(one, "yeast"):
            assert 0.005 * dough < grams(one, "yeast") < 0.016 * dough, one.card
            assert one.formula.process.proof_min, one.card
        assert one.usual.distance < 2, one.card
        oven = one.formula.process.oven_c
        assert oven is None or 140 <= oven <= 260


def test_each_shows_itself_in_a_line(every: list[FirstFormula]) -> None:
    for one in every:
        assert one.formula.name in repr(one)
        assert len(repr(one)) < 300


def test_answers_are_unlike_each_other(answers: dict[tuple[str, str], StartAnswer]) -> None:
    for answer in answers.values():
        kinds = [(one.carried_by, one.leavening) for one in answer.formulas]
        assert len(kinds) == len(set(kinds))


def test_water_and_leavening_are_added_unasked_and_told() -> None:
    one = start_formulas("gluten, eggs", kind="rolls").formulas[0]
    added = {x.ingredient.id for x in one.from_cupboard}
    assert {"water", "instant_yeast", "salt"} <= added


def test_limits_are_kept() -> None:
    answer = start_formulas(
        "vital wheat gluten, eggs, mozzarella, flax",
        kind="tin loaf", slices=16, pan="23 x 10 x 10 cm", net_carb_max=2, protein_min=10,
    )  # fmt: skip
    assert len(answer.formulas) >= 2
    for one in answer.formulas:
        assert one.slice.net_carb is not None
        assert one.slice.net_carb <= 2
        assert one.slice.protein >= 10
        assert 16 == one.formula.process.slices


def test_a_limit_that_stops_it_says_how_far_it_has_to_give() -> None:
    asked = {"kind": "tin loaf", "slices": 16, "pan": "23 x 10 x 10 cm"}
    names = "vital wheat gluten, eggs, flax"
    stopped = start_formulas(names, net_carb_max=0.4, **asked)  # type: ignore[arg-type]
    assert not any(one.passes for one in stopped.formulas)
    stop = next(s for s in stopped.stops if "net_carb_max" == s.limit)
    assert stop.needed is not None
    assert stop.needed > 0.4
    again = start_formulas(names, net_carb_max=stop.needed * 1.05, **asked)  # type: ignore[arg-type]
    assert any(one.passes for one in again.formulas)


def test_what_is_avoided_is_named_where_it_alone_stands_in_the_way() -> None:
    stopped = start_formulas("eggs, almond flour", kind="tin loaf", avoid=["egg"])
    assert not stopped.formulas
    assert [("avoid", "egg")] == [(s.limit, s.what) for s in stopped.stops]


def test_no_more_is_used_than_there_is() -> None:
    answer = start_formulas("3 eggs, almond flour", kind="rolls")
    for one in answer.formulas:
        assert one.formula.grams_of("whole_egg") <= 150


def test_like_a_formula_takes_its_way_of_making_it() -> None:
    like = read_formula(load_knowledge().formulas["gluten-fibre-tin-loaf"].read_text("utf-8"))
    answer = start_formulas("gluten, oat fibre, flaxseed meal, lupin flour, eggs", kind="tin loaf", like=like)
    assert "gluten_fibre_yeast" in {one.style for one in answer.formulas}


def test_the_same_request_gives_the_same_answer() -> None:
    first, again = (start_formulas("eggs, cream cheese", kind="foam bread") for _ in range(2))
    assert [one.card for one in first.formulas] == [one.card for one in again.formulas]


def test_nothing_that_makes_a_bread_says_what_is_lacking() -> None:
    answer = start_formulas("mozzarella, flaxseed meal", kind="tin loaf")
    assert not answer.formulas
    assert answer.lacking
    assert all(gap.parts for gap in answer.lacking)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ({"made_from": "blahblah"}, "no ingredient is called"),
        ({"made_from": "eggs", "kind": "spaceship"}, "no kind of bread"),
        ({"made_from": ""}, "--from is empty"),
        ({"made_from": "eggs, almond flour", "cost_max": 0.2}, "nothing in --from has a price"),
        ({"made_from": "eggs", "pan": "purple"}, "--pan"),
        ({"made_from": "eggs", "pan": "60 x 60 x 60 cm"}, "no pan for a loaf"),
    ],
)
def test_bad_input_is_one_clear_line(arguments: dict[str, object], says: str) -> None:
    with pytest.raises(InputFault, match=says) as fault:
        start_formulas(**arguments)  # type: ignore[arg-type]
    assert 1 == len(str(fault.value).splitlines())


def test_a_cost_is_kept_by_the_bakers_own_prices() -> None:
    """Dear meal: a lower limit makes a cheaper loaf, and what has no price is told."""
    known = load_knowledge()
    prices = {"almond_flour": 20.0, "whole_egg": 6.0}
    priced = {
        name: one.model_copy(update={"price_per_kg": prices[name]}) if name in prices else one
        for name, one in known.ingredients.items()
    }
    knowledge = replace(known, ingredients=priced)
    examiner = Examiner(knowledge)

    def asked(most: float | None) -> StartAnswer:
        limits = Constraints(cost_max=most)
        names = ["eggs, almond flour, butter"]
        return first_formulas(
            examiner, request_of(knowledge, kind="tin loaf", made_from=names, limits=limits)
        )

    usual = asked(None).formulas[0].slice.cost
    assert usual is not None
    cheaper = asked(0.95 * usual)
    assert any("no price is known of butter" in text for text in cheaper.request.said)
    assert cheaper.formulas
    for one in cheaper.formulas:
        assert one.slice.cost is not None
        assert one.slice.cost <= 0.95 * usual + 1e-9
    stopped = asked(0.2 * usual)
    assert not stopped.formulas
    stop = next(s for s in stopped.stops if "cost_max" == s.limit)
    assert stop.needed is not None
    assert 0.2 * usual < stop.needed <= usual * 1.05


def test_a_kind_without_a_way_of_making_it_is_refused() -> None:
    knowledge = load_knowledge()
    only = {n: s for n, s in knowledge.styles.items() if n == "rich_yeast"}
    with pytest.raises(InputFault, match="no way of making rye bread is written down"):
        request_of(replace(knowledge, styles=only), kind="rye", made_from=["eggs"])


def test_what_goes_along_is_less_than_what_the_part_is_made_of() -> None:
    one = start_formulas("almond flour, psyllium, egg whites, sesame seeds", kind="rolls").formulas[0]
    assert 0 < one.formula.grams_of("sesame_seeds") < 0.7 * one.formula.grams_of("almond_flour")


def test_yolks_go_along_with_whites_and_never_stand_for_the_egg() -> None:
    names = "egg whites, egg yolks, egg white powder, oat fibre, xanthan gum"
    one = start_formulas(names, kind="tin loaf").formulas[0]
    assert 0 < one.formula.grams_of("egg_yolk") < 0.3 * one.formula.grams_of("egg_white")
