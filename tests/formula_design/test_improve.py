"""A better formula: the aim is reached as told, the fence holds, and what got worse is told."""

from __future__ import annotations

from pathlib import Path

import pytest
from case_files import demo

from advisor import check, default_advisor, improve, load_knowledge, read_formula
from advisor.api.designing import ImproveResult
from advisor.formula.writing.as_text import write_formula_text
from advisor.formula_design.aims import AIMS, aim_named
from advisor.interface.commands.command_line import main
from advisor.knowledge_base.faults import InputFault

NAME = "canteen-sandwich-loaf"


@pytest.fixture(scope="module")
def leaner() -> ImproveResult:
    return improve(demo(NAME), "less carbohydrate", keep="mozzarella, oven", at_most=0.2)


def test_the_aim_is_reached_as_told(leaner: ImproveResult) -> None:
    was, now = leaner.reached
    assert now < 0.95 * was
    found = default_advisor().examiner.examine(read_formula(leaner.card), after_bake=False)
    assert now == pytest.approx(found.workings.measures.value("net_carb_per_slice"))


def test_the_path_leads_from_the_old_to_the_new(leaner: ImproveResult) -> None:
    assert leaner.path
    assert leaner.path[0].aim[0] == pytest.approx(leaner.reached[0])
    assert leaner.path[-1].aim[1] == pytest.approx(leaner.reached[1], rel=1e-3)
    for one, following in zip(leaner.path, leaner.path[1:], strict=False):
        assert one.aim[1] == pytest.approx(following.aim[0])
    assert len({s.change.what for s in leaner.path}) == len(leaner.path)


def test_the_fence_holds(leaner: ImproveResult) -> None:
    old, new = demo(NAME), leaner.formula
    for line in old.lines:
        grams = new.grams_of(line.ingredient.id)
        if "mozzarella_low_moisture" == line.ingredient.id:
            assert grams == line.grams
        assert abs(grams - line.grams) <= 0.2 * line.grams + 1e-6, line.text
    for field in ("oven_c", "bake_min"):
        assert getattr(new.process, field) == getattr(old.process, field)
    assert abs(new.dough_g / old.dough_g - 1) <= load_knowledge().coefficient("improve_mass_share") + 1e-9


def test_no_risk_is_brought_to_the_limit(leaner: ImproveResult) -> None:
    assert leaner.passes
    limit = load_knowledge().coefficient("risk_limit")
    assert check(leaner.formula).deciding_risk < limit


def test_the_price_is_what_got_worse(leaner: ImproveResult) -> None:
    for one in leaner.price:
        aim = AIMS[one.what]
        assert aim.id != leaner.aim.id
        assert aim.value(leaner.before) == pytest.approx(one.before)
        assert aim.value(leaner.after) == pytest.approx(one.after)
        assert aim.gain(one.before, one.after) < 0
    for symptom, (was, now) in leaner.risk.items():
        assert now > was
        assert now == pytest.approx(leaner.after.diagnosis.risks[symptom].risk)


def test_the_card_reads_back_as_the_same(leaner: ImproveResult) -> None:
    assert leaner.card == write_formula_text(read_formula(leaner.card))


def test_a_tighter_fence_reaches_no_more(leaner: ImproveResult) -> None:
    tight = improve(demo(NAME), "less-carbohydrate", keep="mozzarella, oven", at_most=0.1)
    assert tight.reached[1] >= leaner.reached[1] - 1e-9
    assert tight.reached[1] <= tight.reached[0]


@pytest.mark.parametrize(("name", "aim"), [("psyllium-rolls", "taller"), ("almond-egg-loaf", "softer")])
def test_other_aims_are_reached_too(name: str, aim: str) -> None:
    found = improve(demo(name), aim, at_most=0.25)
    assert found.aim.gain(*found.reached) > 0.02
    assert found.passes


def test_where_all_is_kept_nothing_is_done() -> None:
    formula = demo("psyllium-rolls")
    names = [x.ingredient.name for x in formula.lines]
    found = improve(formula, "taller", keep=[*names, "oven", "mix", "rest"])
    assert not found.path
    assert found.reached[0] == pytest.approx(found.reached[1])
    assert "No step" in str(found)


def test_a_limit_stays_kept() -> None:
    found = improve(demo(NAME), "softer", net_carb_max=2.2)
    value = found.after.workings.measures.value("net_carb_per_slice")
    assert value is not None
    assert value <= 2.2 + 1e-9


@pytest.mark.parametrize("aim", AIMS)
def test_an_aim_goes_by_all_its_words(aim: str) -> None:
    for word in (aim, aim.replace("-", " "), *AIMS[aim].words):
        assert aim == aim_named(word).id


@pytest.mark.parametrize(
    ("aim", "keep", "at_most", "says"),
    [
        ("fluffy", "", None, "no aim"),
        ("softer", "banana", None, "not in the formula"),
        ("cheaper", "", None, "has a price"),
        ("softer", "", 3.0, "--at-most"),
    ],
)
def test_bad_input_is_one_clear_line(aim: str, keep: str, at_most: float | None, says: str) -> None:
    with pytest.raises(InputFault, match=says) as fault:
        improve(demo(NAME), aim, keep=keep, at_most=at_most)
    assert 1 == len(str(fault.value).splitlines())


def test_the_command_tells_or_gives_the_formula(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ["improve", "psyllium-rolls", "--aim", "taller", "--at-most", "20%"]
    assert 0 == main([*arguments, "--units", "us"])
    page = capsys.readouterr().out
    assert "THE PRICE" in page
    assert max(map(len, page.splitlines())) <= 80
    assert 0 == main([*arguments, "--apply"])
    assert read_formula(capsys.readouterr().out).lines
    with pytest.raises(SystemExit):
        main(["improve", "psyllium-rolls", "--aim", "taller", "--at-most", "much"])
    assert "no share" in capsys.readouterr().err


@pytest.fixture(scope="module")
def swapped() -> ImproveResult:
    return improve(demo("seed-meal-loaf"), "less carbohydrate", swap="oat fibre")


def test_an_exchange_is_a_step_with_what_comes_in_and_its_water(swapped: ImproveResult) -> None:
    first = swapped.path[0]
    assert first.change.after == 0
    assert ["oat fibre"] == [c.what for c in first.beside if c.before == 0]
    assert first.aim[1] < first.aim[0]
    assert swapped.path[1:] == () or swapped.path[1].aim[0] == pytest.approx(first.aim[1])
    assert swapped.passes
    assert not swapped.formula.grams_of("sesame_flour")
    assert "oat fibre" in swapped.card


def test_an_exchange_is_told_in_every_form(swapped: ImproveResult) -> None:
    assert "leave out the sesame flour" in str(swapped)
    assert "oat fibre" in {c["what"] for c in swapped.to_dict()["path"][0]["beside"]}  # type: ignore[index,union-attr,call-overload]


def test_what_stays_is_not_exchanged_and_what_is_unknown_is_one_line() -> None:
    kept = improve(demo("seed-meal-loaf"), "less carbohydrate", swap="oat fibre", keep="sesame flour")
    assert kept.formula.grams_of("sesame_flour")
    with pytest.raises(InputFault, match="--swap 'moon dust'"):
        improve(demo("seed-meal-loaf"), "less carbohydrate", swap="moon dust")
