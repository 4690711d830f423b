"""The view after the bake without a browser: words heard, one question after the other, the answer, the bake kept."""

from __future__ import annotations

import re

import pytest
from page_rounds import EXCESS_WATER, SOUND, inside, worked

from advisor.interface.desk.own_places import record_path
from advisor.rendering.pictures.cut_loaf import DRAWINGS, loaf_picture
from advisor.trial_record.record import open_record


@pytest.fixture(scope="module")
def client():
    return inside()


@pytest.fixture
def record(tmp_path, monkeypatch):
    monkeypatch.setenv("ADVISOR_RECORD", str(tmp_path / "record.sqlite3"))
    return record_path


def test_every_drawing_is_of_a_symptom_and_differs_from_a_good_slice(knowledge) -> None:
    assert set(DRAWINGS) == set(knowledge.symptoms)
    good = loaf_picture("none of that name", "x").parts
    for symptom in DRAWINGS:
        assert good != loaf_picture(symptom, "x").parts, symptom
        assert 2 <= len(loaf_picture(symptom, "x").parts)


def test_the_page_offers_every_symptom_by_name_and_by_other_words(client, knowledge) -> None:
    page = client.get("/").text
    for symptom in knowledge.symptoms.values():
        assert 1 == page.count(f"name='saw' value='{symptom.id}'")
    assert re.search(r"data-words='[^']*sunken[^']*'", page)


@pytest.mark.parametrize(
    ("phrase", "saw"),
    [
        ("Gummy middle", ["gummy_centre"]),
        ("sank as it cooled and is wet in the middle", ["collapse_on_cooling", "gummy_centre"]),
    ],
)
def test_own_words_are_heard(client, phrase: str, saw: list[str]) -> None:
    assert sorted(saw) == sorted(worked(client, "hear", phrase=phrase)["saw"])


def test_each_sentence_is_heard_by_itself(client) -> None:
    """Three faults in one breath: none is lost for the others, and of what is not clear each sentence is asked back."""
    found = worked(
        client, "hear", phrase="Wet in the middle. The crust is pale! Never rose much.\nDense crumb"
    )
    assert {"gummy_centre", "pale_crust", "dense_crumb"} <= set(found["saw"])
    asked = worked(client, "hear", phrase="sticky dough, wouldn't peel from the paper. Sank as it cooled.")
    assert ["collapse_on_cooling"] == asked["saw"]
    assert 1 == asked["offers"].count("role='group'")
    assert "data-tick='stuck_to_pan'" in asked["offers"]


def test_words_that_mean_nothing_known_say_so(client) -> None:
    found = worked(client, "hear", phrase="we had visitors")
    assert [] == found["saw"]
    assert "No fault is ticked" in found["said"]
    assert 400 == client.post("/work/hear", json={"phrase": ""}).status_code


def test_questions_come_one_at_a_time_with_how_to_look_and_an_end(client) -> None:
    given: list[str] = []
    absent: list[str] = []
    answers: dict[str, str] = {}
    for _ in range(20):
        found = worked(
            client, "question", text=SOUND, saw=["gummy_centre"], answers=dict(answers), given=list(given),
            **{"not": list(absent)},
        )  # fmt: skip
        if not found["id"]:
            break
        assert found["id"] not in given
        assert "I do not know" in found["question"]
        choices = re.findall(r"data-answer='([^']*)'", found["question"])
        assert "" in choices
        given.append(found["id"])
        if "symptom" == found["kind"]:
            absent.append(found["id"])
        else:
            answers[found["id"]] = choices[0]
    assert 1 <= len(given) < 20
    assert "No other question" in found["said"]


def test_the_answer_names_the_cause_and_what_to_do_with_this_loaf(client) -> None:
    found = worked(client, "diagnose", text=EXCESS_WATER, saw=["gummy_centre", "collapse_on_cooling"])
    assert "Most likely" in found["answer"]
    assert "too much free water" in found["answer"]
    assert "This loaf" in found["answer"]
    assert "value='cut-water'" in found["followed"]
    first = found["answer"].partition("Change first</h2>")[2].partition("</section>")[0]
    assert "data-apply='1'" in first
    assert "data-apply='1'" not in found["changes"]
    changed = worked(client, "apply", text=EXCESS_WATER, saw=["gummy_centre"], change="1", baked=True)
    assert changed["text"] != EXCESS_WATER


@pytest.mark.parametrize(
    "told",
    [
        {}, {"saw": ["moon"]}, {"saw": ["gummy_centre"], "not": ["gummy_centre"]}, {"answers": {"moon": "yes"}},
        {"answers": {"proof_covered": "perhaps"}}, {"saw": "gummy_centre"}, {"saw": [["gummy_centre"]]},
    ],
    ids=str,
)  # fmt: skip
def test_what_cannot_be_told_gets_a_line(client, told: dict[str, object]) -> None:
    answer = client.post("/work/diagnose", json={"text": EXCESS_WATER, **told})
    assert 400 == answer.status_code
    assert answer.json()["said"]


def test_a_bake_is_kept_with_what_was_foreseen_of_it(client, record) -> None:
    said = worked(
        client, "keep", text=EXCESS_WATER, saw=["gummy_centre"], nothing_else=True, mark_crumb=2, core_c=93.5,
        notes="<b>wet</b>", date="2026-05-01",
    )["said"]  # fmt: skip
    assert said.startswith("Kept as bake 1")
    better = worked(
        client, "keep", text=EXCESS_WATER, moved={"6": 160.0}, nothing_else=True, mark_crumb=4, followed="cut-water",
        date="2026-05-02",
    )["said"]  # fmt: skip
    assert better.startswith("Kept as bake 2")
    with open_record(record(), to_write=False) as kept:
        first, second = kept.bake(1), kept.bake(2)
    assert first is not None
    assert second is not None
    assert (("gummy_centre",), 2, 93.5, "<b>wet</b>") == (
        first.seen, first.scores.crumb, first.came_out.core_c, first.notes
    )  # fmt: skip
    assert first.key == second.follows
    assert second.foreseen is not None
    assert second.foreseen.single


def test_the_same_bake_is_kept_once_unless_another_one_is_meant(client, record) -> None:
    told = {"text": SOUND, "saw": ["dense_crumb"], "mark_crumb": 3}
    assert "Kept as bake 1" in worked(client, "keep", **told)["said"]
    assert "It is kept already, as bake 1." == worked(client, "keep", **told)["said"]
    assert "Kept as bake 2" in worked(client, "keep", **told, another=True)["said"]
    assert "Kept as bake 3" in worked(client, "keep", **{**told, "mark_crumb": 4})["said"]
    assert "Kept as bake 4" in worked(client, "keep", **told, date="2026-05-01")["said"]
    with open_record(record(), to_write=False) as kept:
        assert 4 == kept.count()


@pytest.mark.parametrize(
    "noted",
    [
        {"mark_crumb": 6}, {"mark_crumb": 1.5}, {"core_c": 900}, {"date": "tomorrow"}, {"followed": "prayer"},
        {"after": 7}, {"followed": "cut-water"}, {"notes": 3},
    ],
    ids=str,
)  # fmt: skip
def test_what_cannot_be_kept_is_said_and_makes_no_bake(client, record, noted: dict[str, object]) -> None:
    answer = client.post("/work/keep", json={"text": EXCESS_WATER, "saw": ["gummy_centre"], **noted})
    assert 400 == answer.status_code
    assert str(record().parent) not in answer.text
    if record().exists():
        with open_record(record(), to_write=False) as kept:
            assert 0 == kept.count()


def test_a_damaged_record_is_said_without_its_place(client, record) -> None:
    record().write_bytes(b"no record at all, and long enough to be looked at as one" * 40)
    answer = client.post("/work/keep", json={"text": EXCESS_WATER, "saw": ["gummy_centre"]})
    assert 400 == answer.status_code
    assert answer.json()["said"].startswith("the record: ")
    assert str(record().parent) not in answer.text
