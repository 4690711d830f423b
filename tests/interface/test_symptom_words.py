"""A baker may call a symptom by the name that a page prints, or by a common word."""

from __future__ import annotations

from collections import Counter

import pytest

from advisor.interface.desk.asked_about import asked_about
from advisor.interface.desk.symptom_words import symptom_ids, words_of_symptoms
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
        ("gumy midle", "no symptom 'gumy midle'; did you mean gummy_centre"),
        ("", "no symptom ''; known: flat_loaf"),
    ],
)
def test_what_is_no_symptom_is_refused_with_what_is_near(word, said, knowledge):
    with pytest.raises(InputFault, match=said):
        symptom_ids([word], knowledge)


def test_why_takes_the_same_words(knowledge):
    assert [("symptom", "dark_crust"), ("symptom", "collapse_on_cooling"), ("cause", "excess_water")] == [
        asked_about(words, knowledge) for words in ("burnt", "sunken", "excess water")
    ]
