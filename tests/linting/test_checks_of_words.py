"""Words that a newcomer cannot know, brands, questions that do not ask, and links that run backwards in time."""

from __future__ import annotations

import pytest
from spoiling import Kitchen

from advisor.linting.brands import looks_like_brand

GLOSSARY = "knowledge/glossary.yaml"
NOT_PLAIN = "is not plain: explain it in glossary.yaml, or use a word of plain_words.txt"


def said(kitchen: Kitchen) -> list[str]:
    return [str(finding) for finding in kitchen.findings()]


SHOWN = [
    ("knowledge/causes.yaml", '"The binder had no time."', "unrested", 2),
    ("knowledge/causes.yaml", '"Only patience helps."', "unrested", 2),
    ("knowledge/mechanisms.yaml", '"Water stays free."', "loose_water", 1),
    ("knowledge/symptoms.yaml", '"Cut it."', "gummy_centre", 1),
    ("knowledge/questions.yaml", '"It did."', "rested", 1),
    ("knowledge/cautions.yaml", '"Do not taste raw dough."', "raw_dough", 1),
    ("knowledge/measures.yaml", '"Protein that sets."', "setting_protein_pct", 2),
    ("knowledge/structures.yaml", '"Egg sets."', "egg_set", 1),
    ("knowledge/traits.yaml", '"Swells strongly."', "swelling", 1),
    ("knowledge/levers.yaml", "Use less water", "cut-water", 1),
    (GLOSSARY, '"The inside of a loaf."', "crumb", 1),
    ("rules/hydration/water.yaml", '"It did not rest."', "unrested-says-baker", 28),
]


@pytest.mark.parametrize(("file", "text", "name", "line"), SHOWN)
def test_a_word_that_nobody_explains(kitchen: Kitchen, file: str, text: str, name: str, line: int) -> None:
    kitchen.change(file, text, '"The syneresis."' if text.startswith('"') else "The syneresis")
    assert [f"{file}:{line} word {name}: 'syneresis' {NOT_PLAIN}"] == said(kitchen)


@pytest.mark.parametrize(
    "word",
    [
        "crumbs",  # a form of a term
        "psyllium",  # an ingredient
        "egg-white",  # its name with a hyphen
        "wettest",  # forms of plain words
        "uncut",
        "long-lead",
        "{baked_water_load:.2f}",  # what the rule fills in
    ],
)
def test_what_is_plain_or_explained(kitchen: Kitchen, word: str) -> None:
    kitchen.change("rules/hydration/water.yaml", "It did not rest.", f"It did {word}.")
    assert [] == said(kitchen)


def test_an_entry_of_the_glossary_explains_its_phrase_and_other_forms(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/causes.yaml", "The binder had no time.", "Syneresis, an overtight mesh.")
    assert 3 == len(said(kitchen))
    entry = '- {word: overtight mesh, also: [syneresis], says: "Water weak.", grade: practice}'
    kitchen.add(GLOSSARY, entry)
    assert [] == said(kitchen)
    kitchen.change("knowledge/causes.yaml", "an overtight mesh", "the mesh")
    assert [f"knowledge/causes.yaml:2 word unrested: 'mesh' {NOT_PLAIN}"] == said(kitchen)


def test_a_word_is_told_once_for_each_entry(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/causes.yaml", "The binder had no time.", "Syneresis, syneresis.")
    assert [f"knowledge/causes.yaml:2 word unrested: 'Syneresis' {NOT_PLAIN}"] == said(kitchen)


def test_one_term_for_two_entries(kitchen: Kitchen) -> None:
    kitchen.add(GLOSSARY, '- {word: soft part, also: [Crumb], says: "The inside.", grade: practice}')
    expected = f"{GLOSSARY}:2 word soft part: 'crumb' is explained already by crumb at {GLOSSARY}:1"
    assert [expected] == said(kitchen)


def test_a_missing_list_of_plain_words_is_a_finding(kitchen: Kitchen) -> None:
    (kitchen.places.knowledge / "plain_words.txt").unlink()
    expected = f"{GLOSSARY}:1 word crumb: no plain_words.txt beside the glossary: no word can be looked up"
    assert [expected] == said(kitchen)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Take some Bakewell flour.", "Bakewell"),
        ("Take some BakeWell flour.", "BakeWell"),
        ("bakeWell flour", "bakeWell"),
        ("Flour (TM) of a maker.", "(TM)"),
        ("Made by a mill Ltd. of note.", "Ltd."),
        ("see www.example for more", "www."),
        ("see example.com for more", "example.com"),
        ("See https://example", "https:"),
    ],
)
def test_what_looks_like_a_brand(text: str, found: str) -> None:
    assert found == looks_like_brand(text, frozenset({"EU", "mL"}))


@pytest.mark.parametrize(
    "text",
    [
        "Take flour. Knead it.",
        "Is it dry? Wait.",
        "At 80 C it sets.",
        "EU law and the EU's rules.",
        "It gives 40 mL of gas.",
        "At {co2_total:.0f} Gas is short.",
        "Knead: Then wait.",
    ],
)
def test_what_does_not_look_like_a_brand(text: str) -> None:
    allowed = frozenset({"EU", "mL", "Gas"})
    assert "" == looks_like_brand(text, allowed)


def test_a_brand_is_found_in_texts_and_in_names(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/cautions.yaml", "Do not taste raw dough.", "Do not taste raw Dough.")
    kitchen.change("knowledge/ingredients/few.yaml", "[whole psyllium]", "[PsylliPlus]")
    assert [
        "knowledge/cautions.yaml:1 brand raw_dough: 'Dough' looks like a brand: use the plain name, or list it in "
        "plain_words.txt",
        "knowledge/ingredients/few.yaml:13 brand psyllium_husk: 'PsylliPlus' looks like a brand: use the plain name",
    ] == said(kitchen)


@pytest.mark.parametrize(
    ("file", "old", "new", "message"),
    [
        ("knowledge/symptoms.yaml", "Is the base wet?", "The base is wet.",
         "wet_base: the text that asks the baker does not end in '?'"),
        ("knowledge/questions.yaml", "Did it rest?", "It did rest",
         "rested: the text that asks the baker does not end in '?'"),
        ("knowledge/symptoms.yaml", "Is the base wet?", "Is the  middle gummy?",
         "wet_base: asks the same as gummy_centre at knowledge/symptoms.yaml:1"),
        ("knowledge/questions.yaml", '"It did not."', '"It did. "', "rested: has two answers that say the same"),
    ],
)  # fmt: skip
def test_questions_that_cannot_be_answered(
    kitchen: Kitchen, file: str, old: str, new: str, message: str
) -> None:
    kitchen.change(file, old, new)
    (finding,) = kitchen.findings()
    assert ("question", message) == (finding.check, finding.message)


def test_a_question_with_one_answer(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/questions.yaml", '"yes": "It did.", ', "")
    assert ["knowledge/questions.yaml:1 question rested: has fewer than two answers to choose from"] == said(
        kitchen
    )


def test_a_link_that_acts_before_what_leads_to_it(kitchen: Kitchen) -> None:
    kitchen.change(
        "knowledge/links.yaml",
        "to: wet_base, strength: 0.4, acts: cooling",
        "to: wet_base, strength: 0.4, acts: mixing",
    )
    assert [] == said(kitchen)  # at the same time is no contradiction
    for cause in ("excess_water", "unrested"):
        kitchen.change(
            "knowledge/links.yaml",
            f"{cause}, to: loose_water, strength: 0.{8 if cause == 'excess_water' else 5}, acts: mixing",
            f"{cause}, to: loose_water, strength: 0.5, acts: late_oven",
        )
    expected = "acts at mixing, but nothing leads to loose_water before late oven"
    assert [f"knowledge/links.yaml:4 time loose_water>wet_base: {expected}"] == said(kitchen)


def test_a_link_that_comes_when_all_is_over(kitchen: Kitchen) -> None:
    kitchen.change("knowledge/links.yaml", "strength: 0.5, acts: mixing", "strength: 0.5, acts: storage")
    expected = "comes at storage, when all that follows from loose_water is over"
    assert [f"knowledge/links.yaml:2 time unrested>loose_water: {expected}"] == said(kitchen)
