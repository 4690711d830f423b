"""The parts of the interview that know no terminal: list, measures, what was heard, drafts, typed words."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from advisor.diagnosis.described_loaf import LoafKind
from advisor.formula.reading import read_formula_text
from advisor.interface.commands.command_line import main
from advisor.interface.desk.baker_measures import (
    BakersMeasures,
    keep_measures,
    kept_measures,
    read_measures,
)
from advisor.interface.desk.interview_list import TickList
from advisor.interface.desk.interview_sketches import SKETCHES, TALLEST, WIDEST, sketch_of
from advisor.interface.interview.interview_commands import Command, command_in
from advisor.interface.interview.interview_draft import Draft, drafts_in
from advisor.interface.interview.interview_heard import Heard
from advisor.interface.interview.question_round import question_of
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.documents.schemas import schema_of


@pytest.fixture
def choice(knowledge: Knowledge) -> TickList:
    return TickList(list(knowledge.symptoms.values()))


@pytest.mark.parametrize(("width", "height"), [(80, 24), (40, 20), (40, 12), (34, 8), (20, 3), (200, 60)])
def test_a_screen_of_the_list_fits_and_its_cursor_is_on_the_line_meant(
    choice: TickList, width: int, height: int
) -> None:
    for _ in range(60):
        view = choice.view(width, height)
        assert len(view.lines) <= height
        assert max(map(len, view.lines)) < width
        assert view.lines[view.cursor].startswith(">")
        choice.press("down")


def test_the_last_line_is_reached_and_nothing_lies_beyond(choice: TickList, knowledge: Knowledge) -> None:
    choice.press("end")
    choice.press("down")
    choice.press("tick")
    assert (list(knowledge.symptoms)[-1],) == choice.ticked
    choice.press("home")
    choice.press("up")
    choice.press("tick")
    assert next(iter(knowledge.symptoms)) in choice.ticked


def test_a_word_finds_and_a_tick_gives_the_whole_list_back(choice: TickList, knowledge: Knowledge) -> None:
    choice.type("gum")
    choice.type("my")
    assert ["gummy_centre", "gummy_base"] == [s.id for s in choice.found][:2]
    choice.press("tick")
    assert ("gummy_centre",) == choice.ticked
    assert len(knowledge.symptoms) == len(choice.found)
    choice.press("tick")
    assert () == choice.ticked


def test_a_common_word_finds_what_is_printed_under_another(choice: TickList) -> None:
    choice.type("sunken")
    assert ["collapse_on_cooling"] == [s.id for s in choice.found]


def test_a_list_without_a_tick_is_not_done(choice: TickList) -> None:
    choice.press("done")
    assert not choice.done
    assert any("Nothing is ticked yet" in line for line in choice.view(80, 24).lines)


@pytest.mark.parametrize("text", ["\x1b[2J\x07", "x" * 10_000, "\n\n", "‮", "zzzz"])
def test_rubbish_finds_nothing_and_shows_no_control_character(choice: TickList, text: str) -> None:
    choice.type(text)
    choice.press("tick")
    view = choice.view(40, 20)
    assert all(line.isprintable() for line in view.lines)
    assert max(map(len, view.lines)) < 40


def test_a_sketch_belongs_to_a_symptom_and_fits(knowledge: Knowledge) -> None:
    assert set(SKETCHES) <= set(knowledge.symptoms)
    for name in SKETCHES:
        lines = sketch_of(name)
        assert 0 < len(lines) <= TALLEST
        assert max(map(len, lines)) <= WIDEST
        assert all(line.isascii() and line.isprintable() for line in lines)


def test_units_follow_the_measures_and_measures_the_units() -> None:
    assert "us" == BakersMeasures(degrees="F").units
    assert "uk" == BakersMeasures(region="uk").units
    assert "metric" == BakersMeasures(region="au").units
    assert BakersMeasures(degrees="F", amounts="cups") == BakersMeasures(region="uk").with_units("us")
    assert BakersMeasures(region="au") == BakersMeasures(degrees="F", region="au").with_units("metric")


def test_measures_are_read_in_any_order_and_kept(tmp_path: Path) -> None:
    found, doubts = read_measures("cups, British  extra large eggs f", BakersMeasures())
    assert BakersMeasures(degrees="F", amounts="cups", region="uk", egg="extra large") == found
    assert () == doubts
    path = tmp_path / "new" / "measures.json"
    assert "" == keep_measures(found, path)
    assert found == kept_measures(path)
    path.write_text('{"degrees": "K", "egg": 3}')
    assert BakersMeasures() == kept_measures(path)
    path.write_text("nonsense")
    assert kept_measures(path) is None


def test_eggs_without_a_size_are_weighed_as_the_kitchens(knowledge: Knowledge) -> None:
    formula = read_formula_text("3 eggs\n2 large eggs\n100 g almond flour", knowledge, region="us")
    changed, said = BakersMeasures(egg="medium").with_eggs(formula)
    assert [132.0, 100.0, 100.0] == [line.grams for line in changed.lines]
    assert 1 == len(said)
    same, nothing = BakersMeasures().with_eggs(formula)
    assert (formula, ()) == (same, nothing)


def test_cups_and_spoons_stand_beside_grams_only_where_the_baker_uses_them() -> None:
    cups = {"water": 240.0}
    assert "about 1/2 cup" == BakersMeasures(amounts="cups").household(120, "water", cups)
    assert "about 2 tbsp" == BakersMeasures(amounts="cups").household(30, "water", cups)
    assert "" == BakersMeasures(amounts="cups").household(30, "mortar", cups)
    assert "" == BakersMeasures().household(120, "water", cups)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("WHY  not   Underbaked", Command(word="why_not", about="Underbaked")),
        ("why", Command(word="why")),
        ("change 12", Command(word="change", about="12")),
        ("save transcript a b.txt", Command(word="save", about="a b.txt")),
        ("?", Command(word="unknown")),
        ("I don't know.", Command(word="unknown")),
        ("while the", None),
        ("2", None),
        ("", None),
    ],
)
def test_a_typed_line_is_a_command_or_perhaps_an_answer(typed: str, meant: Command | None) -> None:
    assert meant == command_in(typed)


def heard_of(knowledge: Knowledge) -> Heard:
    heard = Heard(("gummy_centre",))
    heard.hear(question_of("question", "door_opened", knowledge), "no")
    heard.hear(question_of("symptom", "overflow", knowledge), "seen")
    heard.hear(question_of("symptom", "pale_crust", knowledge), "absent")
    heard.hear(question_of("question", "panning", knowledge), None)
    heard.hear(question_of("question", "moved_in_oven", knowledge), None, skipped=True)
    return heard


def test_what_was_heard_is_told_and_what_is_not_known_is_not(knowledge: Knowledge) -> None:
    told = heard_of(knowledge).told
    assert ("gummy_centre", "overflow") == told.saw
    assert ("pale_crust",) == told.not_seen
    assert {"door_opened": "no"} == told.answers
    assert 4 == heard_of(knowledge).asked


def test_what_is_ticked_later_is_no_answer_any_more(knowledge: Knowledge) -> None:
    heard = heard_of(knowledge)
    heard.tick(("pale_crust",))
    assert (("pale_crust", "overflow"), ()) == (heard.told.saw, heard.told.not_seen)


def test_a_draft_comes_back_as_it_was(tmp_path: Path, knowledge: Knowledge) -> None:
    kind = LoafKind(carried_by="egg_set", raised_by="both", shape="rolls")
    draft = Draft(began="2026-05-31 14:20", word="x", formula_text="100 g water", heard=heard_of(knowledge))
    other = Draft(began="2026-06-01 09:00", kind=kind)
    assert ("", "") == (draft.keep(tmp_path), other.keep(tmp_path))
    latest, first = drafts_in(tmp_path, knowledge)
    assert (kind, "2026-06-01 09:00") == (latest.kind, latest.began)
    assert draft == first
    first.remove()
    assert [latest.path] == [d.path for d in drafts_in(tmp_path, knowledge)]


@pytest.mark.parametrize("text", ["", "{", "[]", '{"draft": 1}', '{"draft": 9}', "\x00\xff"])
def test_a_draft_that_cannot_be_read_is_not_offered_and_stays(
    text: str, tmp_path: Path, knowledge: Knowledge
) -> None:
    path = tmp_path / "a.json"
    path.write_text(text)
    assert [] == drafts_in(tmp_path, knowledge)
    assert path.exists()


def test_a_shut_folder_is_said_in_words(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    assert Draft(began="2026-05-31").keep(tmp_path / "file" / "drafts")


def test_a_described_loaf_is_answered_from_a_file_and_its_json_fits_the_schema(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "answers.yaml"
    path.write_text(
        "loaf: {carried_by: gluten_egg, raised_by: both, shape: tin}\nsaw: [gummy_centre]\n"
        'answers:\n  sliced_when: "hot"\n'
    )
    said = tmp_path / "said.txt"
    assert 0 == main(["diagnose", "--answers", str(path), "--json", "--transcript", str(said)])
    found = json.loads(capsys.readouterr().out)
    Draft202012Validator(schema_of("diagnosis")).validate(found)
    assert "sliced_hot" == found["causes"][0]["id"]
    assert all(measure["value"] is None for measure in found["measures"].values())
    assert [] == found["proposals"]
    assert "WHAT THIS CANNOT KNOW" in said.read_text()


@pytest.mark.parametrize(
    ("loaf", "said"),
    [
        ("{carried_by: granite, raised_by: yeast, shape: tin}", "no structure 'granite'"),
        ("{carried_by: egg_set, raised_by: hope, shape: tin}", "no leavening 'hope'"),
        ("{carried_by: egg_set, raised_by: yeast, shape: ring}", "no shape 'ring'"),
        ("{carried_by: egg_set}", "the key 'loaf.raised_by' is missing"),
    ],
)
def test_a_loaf_that_cannot_be_is_refused_in_a_line(
    loaf: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "answers.yaml"
    path.write_text(f"loaf: {loaf}\nsaw: [gummy_centre]\n")
    assert 2 == main(["diagnose", "--answers", str(path)])
    assert said in capsys.readouterr().err
