"""Views of class and report without a browser: steps, answers kept back, changes side by side, sheets, the file."""

from __future__ import annotations

import base64
import hashlib
import re

import pytest
from page_rounds import EXCESS_WATER, SOUND, TOP, inside, worked

LESSON = "water-that-binders-hold"
FOLDER = TOP / "knowledge/lessons"


@pytest.fixture(scope="module")
def client():
    return inside()


@pytest.fixture(scope="module")
def lesson(client):
    return worked(client, "course", topic=LESSON)


def test_every_lesson_and_every_faulty_formula_is_offered(client, knowledge) -> None:
    page = client.get("/").text
    for lesson in knowledge.lessons:
        assert f"<option value='{lesson}'>" in page


def test_a_question_keeps_its_answer_apart(lesson) -> None:
    asked = [step for step in lesson["steps"] if step["told"]]
    assert asked
    for step in asked:
        assert "The assistant" not in step["shown"]
        assert "The assistant" in step["told"]
        assert 2 <= step["shown"].count("aria-label='Hands for")


def test_the_chain_is_lit_link_by_link(lesson) -> None:
    links = re.findall(r"data-link='(\d+)'", lesson["chain"])
    told = [step["link"] for step in lesson["steps"] if step["link"] >= 0]
    assert links == [str(n) for n in range(len(links))]
    assert sorted(map(int, links)) == sorted(told)


def test_a_changed_formula_stands_beside_the_first(client) -> None:
    found = worked(client, "change-course", topic=LESSON, changes="water -60 g")["beside"]
    before, after = re.findall(r"<ol class='chain'>(.*?)</ol>", found, re.DOTALL)
    assert before != after
    assert "Risk of" in found


@pytest.mark.parametrize("changes", ["", ";", "moon dust +3 g", "water by a lot"])
def test_a_change_that_does_not_fit_is_said(client, changes: str) -> None:
    answer = client.post("/work/change-course", json={"topic": LESSON, "changes": changes})
    assert 400 == answer.status_code
    assert answer.json()["said"]


def test_her_own_failing_loaf_is_a_lesson(client) -> None:
    found = worked(client, "course", topic="own", text=EXCESS_WATER)
    assert "Canteen sandwich loaf" == found["title"]
    assert 4 <= len(found["steps"])


# ---- a lesson of her own


@pytest.fixture(scope="module")
def file() -> str:
    (path,) = (top for top in FOLDER.glob("*.yaml") if LESSON in top.name)
    return path.read_text("utf-8").replace(f"id: {LESSON}", "id: my-lesson")


def test_her_own_lesson_file_is_taught_with_its_sheets(client, file: str, lesson) -> None:
    found = worked(client, "course", topic="lesson", lesson=file)
    assert lesson["steps"] == found["steps"]
    assert "" == found["doubts"]
    handout = worked(client, "sheet", topic="lesson", lesson=file, sheet="handout")["html"]
    assert "Question 1" in handout
    assert (
        "Risk of"
        in worked(client, "change-course", topic="lesson", lesson=file, changes="water -60 g")["beside"]
    )


def test_her_lesson_may_be_about_the_formula_that_is_written(client, file: str) -> None:
    own = file.replace("formula: canteen-sandwich-loaf-excess-water", "formula: own")
    found = worked(client, "course", topic="lesson", lesson=own, text=EXCESS_WATER)
    assert "1.39" in "".join(step["told"] for step in found["steps"])
    assert 400 == client.post("/work/course", json={"topic": "lesson", "lesson": own}).status_code


def test_where_she_holds_another_choice_right_that_is_said(client, file: str) -> None:
    found = worked(client, "course", topic="lesson", lesson=file.replace("right: c", "right: b", 1))
    assert "Question 1: the lesson holds b to be right; the assistant finds c." == found["doubts"]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("", "", "line 1"), ("cause: excess_water", "cause: excess_watr", "excess_water"),
        ("right: c", "right: d", "only 3 choices"), ("water -90 g", "moon dust -90 g", "moon dust"),
        ("below: 1.0", "below: 5", "2 choices fit"), ("title: Water", "title: !!python/name:os.system W", "quotes"),
        ("formula: canteen-sandwich-loaf-excess-water", "formula: /etc/passwd", "line 4"),
        ("{absorption:.0f g}", "{absorption:>999999999.0f g}", "is written as in"),
        ("{available_water:.0f g}", "{available_water:. g}", "is written as in"),
        ("{before}", "{before:.2f}", "is written as in"),
        ("- id", "- &a [*a]\n- id", "aliases"),
    ],
)  # fmt: skip
def test_a_lesson_that_cannot_be_taught_says_why(client, file: str, old: str, new: str, said: str) -> None:
    answer = client.post(
        "/work/course", json={"topic": "lesson", "lesson": file.replace(old, new) if old else ""}
    )
    assert 400 == answer.status_code
    assert said in answer.json()["said"]


@pytest.mark.parametrize("topic", ["", "nothing", "/etc/passwd", "../README.md", "-", "own"])
def test_what_is_no_topic_is_said_and_no_file_is_looked_for(client, topic: str) -> None:
    assert 400 == client.post("/work/course", json={"topic": topic}).status_code


def test_one_fault_stands_with_its_causes_and_what_parts_each_pair(client, knowledge) -> None:
    found = worked(client, "causes", topic="gummy_centre")["causes"]
    cards = found.count("<li><h3>")
    assert 3 <= cards <= 6
    assert cards * (cards - 1) // 2 == found.count("speaks for the first of the two")
    assert "too much free water" in found.lower()
    for symptom in knowledge.symptoms:
        assert "causes" in worked(client, "causes", topic=symptom)


@pytest.mark.parametrize(
    ("sheet", "holds", "not_"), [("handout", "Question 1", "The assistant"), ("key", "Key:", "x")]
)
def test_a_sheet_is_a_page_that_prints_and_runs_nothing(client, sheet: str, holds: str, not_: str) -> None:
    answer = client.get(f"/sheet/{sheet}/{LESSON}")
    assert 200 == answer.status_code
    assert holds in answer.text
    assert not_ not in answer.text or "key" == sheet
    style = answer.text.partition("<style>")[2].partition("</style>")[0]
    total = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    policy = answer.headers["content-security-policy"]
    assert f"style-src 'sha256-{total}'" in policy
    assert "script-src 'none'" in policy
    assert "unsafe" not in policy


def test_no_sheet_is_made_of_what_is_not_known(client) -> None:
    for path in (
        "/sheet/handout/nothing",
        "/sheet/nothing/flourless-collapse",
        "/sheet/handout/own",
        "/sheet/key/-",
    ):
        assert 404 == client.get(path).status_code, path


# ---- two loaves


def test_two_unlike_loaves_stand_beside_each_other(client) -> None:
    found = worked(client, "two-loaves", text=EXCESS_WATER, left="own", right="almond-egg-loaf")["beside"]
    first, second = found.index("<h3>Canteen sandwich loaf"), found.index("<h3>Almond and egg loaf")
    assert first < found.index("gummy middle") < second < found.index("Nothing looks wrong")
    for words in ("almond flour", "vital wheat gluten", "far too high", "quite possible"):
        assert words in found[second:], words
    ids = re.findall(r" id=[\"']([^\"']+)", found)
    assert len(ids) == len(set(ids))


def test_a_formula_and_its_failing_sister_are_told_apart_by_their_names(client) -> None:
    pair = {"left": "canteen-sandwich-loaf", "right": "canteen-sandwich-loaf-excess-water"}
    assert ", the second" in worked(client, "two-loaves", **pair)["said"]


@pytest.mark.parametrize(
    "pair",
    [{}, {"left": "own", "right": "own"}, {"left": "nothing", "right": "own"}, {"right": "../README"}],
    ids=str,
)
def test_what_is_not_two_loaves_is_said(client, pair: dict[str, str]) -> None:
    assert 400 == client.post("/work/two-loaves", json={"text": EXCESS_WATER, **pair}).status_code


# ---- report


def test_the_label_stands_on_the_page_and_in_the_file(client) -> None:
    page = worked(client, "essentials", text=EXCESS_WATER)["label"]
    file = worked(client, "report", text=EXCESS_WATER)["file"]
    for words in (
        "Label and nutrition",
        "vital wheat gluten (",
        "GLUTEN",
        "saturates",
        "Total Carbohydrate",
        "kJ",
    ):
        assert words in page, words
        assert words in file, words


def test_the_essence_has_verdict_change_formula_and_time_axis(client) -> None:
    found = worked(client, "essentials", text=EXCESS_WATER)
    for words in (
        "Watch out for",
        "Change first",
        "vital wheat gluten",
        "oven: 175 C for 80 min",
        "Contains ",
    ):
        assert words in found["essentials"], words
    assert "<svg" in found["picture"]


def test_the_report_of_a_baked_loaf_says_so(client) -> None:
    found = worked(client, "essentials", text=EXCESS_WATER, saw=["gummy_centre"])
    assert "The loaf showed: gummy middle" in found["essentials"]


def test_the_whole_report_is_the_one_that_the_command_writes(client, tmp_path) -> None:
    from advisor.interface.commands.command_line import main

    formula, out = tmp_path / "f.txt", tmp_path / "r.html"
    formula.write_text(SOUND, "utf-8")
    assert 0 == main(["report", str(formula), "--out", str(out)])
    found = worked(client, "report", text=SOUND)
    assert "canteen-sandwich-loaf-report.html" == found["name"]
    assert out.read_text("utf-8") == found["file"]
