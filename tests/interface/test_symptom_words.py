"""A baker may call a symptom by the name that a page prints, or by a common word."""

from __future__ import annotations

from collections import Counter

import pytest

from advisor.diagnosis.symptom_names import reader_of, words_of_symptoms
from advisor.interface.desk.asked_about import asked_about
from advisor.interface.desk.symptom_words import phrases_in, read_said, symptom_ids
from advisor.interface.desk.ticking import read_ticks
from advisor.knowledge_base.faults import InputFault


def test_no_word_stands_for_two_symptoms(knowledge):
    words = Counter(
        word.lower()
        for symptom in knowledge.symptoms.values()
        for word in {symptom.name.lower(), *(w.lower() for w in symptom.also), symptom.id.replace("_", " ")}
    )
    assert [] == [word for word, times in words.items() if times > 1]
    assert set(knowledge.symptoms) == set(words_of_symptoms(knowledge).values())


def test_printed_names_ids_and_common_words_are_taken(knowledge):
    told = ["Gummy middle", "gummy-centre", "dense_crumb", "burnt", "Sunken", "falls  apart"]
    ids = [
        "gummy_centre",
        "dense_crumb",
        "dark_crust",
        "collapse_on_cooling",
        "crumbly_slice",
    ]
    assert ids == symptom_ids(told, knowledge)


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("a lovely day", "'a lovely day': no symptom fits"),
        ("wet", "'wet' may mean 'Wet bottom' or 'Gummy middle'"),
        ("", "no symptom ''; 'advisor symptoms' lists them"),
    ],
)
def test_a_search_refuses_what_is_no_symptom_or_may_be_several(word, said, knowledge):
    with pytest.raises(InputFault, match=said):
        symptom_ids([word], knowledge)


def test_a_phrase_is_taken_and_said_and_a_remark_is_kept(knowledge):
    said = read_said(["sank on the rack, not burnt", "burnt", "lovely day"], knowledge)
    assert ("collapse_on_cooling", "dark_crust") == said.saw
    assert () == said.not_seen  # once denied, once seen: what was seen counts
    assert ("lovely day",) == said.remarks
    assert ["read as", "no symptom fits"] == [
        part for part in ("read as", "no symptom fits") if any(part in note for note in said.notes)
    ]


def test_a_phrase_that_the_shell_took_apart_is_put_together_again(knowledge):
    known = words_of_symptoms(knowledge)
    assert ["dense_crumb", "sunk in the middle"] == list(
        phrases_in(["dense_crumb", "sunk", "in", "the", "middle"], known)
    )
    assert ["burnt", "sunken"] == list(phrases_in(["burnt", "sunken"], known))


def test_close_readings_are_asked_where_there_is_somebody_to_ask(knowledge):
    said = read_said(["wet"], knowledge, lambda phrase, ids: ids[1])
    assert (1, ()) == (len(said.saw), said.remarks)
    assert ("wet",) == read_said(["wet"], knowledge, lambda phrase, ids: None).remarks


@pytest.mark.parametrize(
    ("typed", "on"),
    [
        ("it sank as it cooled", ["collapse_on_cooling"]),
        ("k", []),
        ("gummy, burnt", ["gummy_centre", "dark_crust"]),
    ],
)
def test_a_phrase_ticks_in_the_list(typed, on, knowledge):
    symptoms = list(knowledge.symptoms.values())
    ticks = read_ticks(typed, symptoms, reader_of(knowledge))
    assert on == [symptoms[place].id for place in ticks.on]
    assert bool(ticks.doubts) == (not on)


def test_why_takes_the_same_words(knowledge):
    assert [("symptom", "dark_crust"), ("symptom", "collapse_on_cooling"), ("cause", "excess_water")] == [
        asked_about(words, knowledge) for words in ("burnt", "sunken", "excess water")
    ]
