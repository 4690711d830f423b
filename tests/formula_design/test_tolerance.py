"""How far a formula may go: both sides of every end are looked at, and a check agrees with them."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from case_files import demo

from advisor import default_advisor, load_knowledge, tolerance
from advisor.api.designing import ToleranceResult
from advisor.formula.formula import Formula
from advisor.formula_design.one_moved import Reach, Tolerance, at_field, at_grams
from advisor.interface.commands.command_line import main
from advisor.rendering.pictures.svg import svg_text
from advisor.rendering.pictures.tolerance import tolerance_picture

NAME = "almond-egg-loaf"


@pytest.fixture(scope="module")
def answer() -> ToleranceResult:
    return tolerance(demo(NAME))


def moved(formula: Formula, one: Tolerance, value: float) -> Formula:
    if one.field:
        return at_field(formula, one.field)(value)
    place = next(n for n, x in enumerate(formula.lines) if x.ingredient.name == one.what)
    return at_grams(formula, place)(value)


def risk_at(formula: Formula, one: Tolerance, value: float) -> tuple[float, bool]:
    found = default_advisor().examiner.examine(moved(formula, one, value), after_bake=False)
    return max(r.risk for r in found.diagnosis.risks.values()), found.no_all_clear


def test_every_line_and_stated_value_is_there(answer: ToleranceResult) -> None:
    names = [t.what for t in answer.lines]
    assert {x.ingredient.name for x in answer.formula.lines} <= set(names)
    assert {"oven", "bake", "mixing"} <= set(names)
    assert len(names) == len(set(names))


def test_one_side_of_an_end_is_good_and_the_other_is_not(answer: ToleranceResult) -> None:
    ends = [(t, r) for t in answer.lines for r in (t.down, t.up) if r.lost is not None]
    assert len(ends) >= 8
    for one, reach in ends:
        assert reach.lost is not None
        kept, unclear = risk_at(answer.formula, one, reach.kept)
        assert kept < answer.limit, one.what
        assert not unclear, one.what
        lost, gone = risk_at(answer.formula, one, reach.lost)
        assert lost >= answer.limit or gone, one.what


def test_ends_lie_about_what_it_is_now_and_near_each_other(answer: ToleranceResult) -> None:
    for one in answer.lines:
        assert one.down.kept <= one.now <= one.up.kept
        for reach in (one.down, one.up):
            if reach.lost is not None:
                assert abs(reach.lost - reach.kept) <= max(0.06 * one.now, 2.5), one.what
                assert reach.symptom or reach.why


def test_the_narrowest_comes_first(answer: ToleranceResult) -> None:
    rooms = [t.room for t in answer.lines]
    assert rooms == sorted(rooms)


def test_errors_that_matter_are_ordered_and_true(answer: ToleranceResult) -> None:
    assert 3 == len(answer.matter_most)
    rises = [s.rise for s in answer.matter_most]
    assert rises == sorted(rises, reverse=True)
    assert rises[0] > 0
    first = answer.matter_most[0]
    one = next(t for t in answer.lines if t.what == first.what)
    found = default_advisor().examiner.examine(
        moved(answer.formula, one, one.now + first.off), after_bake=False
    )
    assert first.risk[1] == pytest.approx(found.diagnosis.risks[first.symptom].risk)


def test_a_coarse_scale_is_no_better_than_a_fine_one(answer: ToleranceResult) -> None:
    tools = {t.name: t for t in answer.tools}
    fine, coarse = tools["scale_1_g"].worst, tools["scale_5_g"].worst
    assert fine is not None and coarse is not None
    assert fine.rise <= coarse.rise + 1e-9
    assert tools["oven_off"].worst is not None


def test_a_lower_limit_leaves_less_room(answer: ToleranceResult) -> None:
    strict = {t.what: t for t in tolerance(demo(NAME), risk=0.25).lines}
    for one in answer.lines:
        other = strict[one.what]
        slack = 0.05 * one.now
        assert other.down.kept >= one.down.kept - slack, one.what
        assert other.up.kept <= one.up.kept + slack, one.what


def test_a_formula_at_the_limit_already_says_so() -> None:
    answer = tolerance(demo("almond-crackers-excess-fat"))
    assert answer.lifted
    assert answer.limit > load_knowledge().coefficient("risk_limit")
    assert "already" in str(answer)


def test_the_picture_has_a_bar_for_each_and_is_whole(answer: ToleranceResult) -> None:
    scene = tolerance_picture(answer)
    root = ET.fromstring(svg_text(scene, alone=True))
    told = " ".join(e.text or "" for e in root.iter())
    for one in answer.lines:
        assert one.what in told
    for part in scene.parts:
        width = getattr(part, "width", None)
        assert width is None or width >= 0


def test_the_command_prints_a_page_and_a_picture(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture = tmp_path / "room.svg"
    assert 0 == main(["tolerance", NAME, "--plot", str(picture), "--units", "us"])
    page = capsys.readouterr().out
    assert "THE ERRORS THAT MATTER MOST" in page
    assert " F" in page
    assert max(map(len, page.splitlines())) <= 80
    assert picture.read_text("utf-8").startswith("<")
    assert 2 == main(["tolerance", NAME, "--plot", str(tmp_path / "room.gif")])
    assert 1 == len(capsys.readouterr().err.splitlines())


def test_an_open_end_is_null_in_json(answer: ToleranceResult) -> None:
    told = json.loads(json.dumps(answer.to_dict()))
    open_ends = [t for t in answer.lines if t.down.lost is None and t.up.lost is None]
    rooms = {t["what"]: t["room"] for t in told["lines"]}
    assert all(rooms[t.what] is None for t in open_ends)


def test_a_reach_without_an_end_has_no_symptom(answer: ToleranceResult) -> None:
    ends: list[Reach] = [r for t in answer.lines for r in (t.down, t.up) if r.lost is None]
    assert all(not r.symptom and not r.why for r in ends)
