"""How a word in a sentence is led back to a plain one."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.knowledge_base.places import find_places
from advisor.knowledge_base.plain_words import PlainWords, bases, read_plain_words, words_in


@pytest.mark.parametrize(
    ("word", "base"),
    [
        ("loaves", "loave"), ("dries", "dry"), ("dried", "dry"), ("drier", "dry"), ("driest", "dry"),
        ("bakes", "bake"), ("baked", "bake"), ("baking", "bake"), ("wetted", "wet"), ("wetter", "wet"),
        ("wettest", "wet"), ("gently", "gentle"), ("baker's", "baker"), ("eggy", "egg"), ("uncut", "cut"),
        ("unwrapped", "wrap"), ("dryness", "dry"), ("eggless", "egg"), ("HPMC", "hpmc"), ("wooden", "wood"),
    ],
)  # fmt: skip
def test_forms_lead_back_to_their_word(word: str, base: str) -> None:
    assert base in bases(word)


@pytest.mark.parametrize(
    ("word", "other"),
    [("bend", "be"), ("against", "again"), ("starch", "star"), ("rope", "rop"), ("set", "se"), ("is", "i")],
)
def test_words_that_only_look_like_forms(word: str, other: str) -> None:
    assert other not in bases(word)


def test_words_of_a_sentence_are_taken_as_written() -> None:
    text = "A baker's loaf, egg-set at {core_at_pull_c:.0f} C (CO2 is out): it’s 2.5 done."
    expected = ("A", "baker's", "loaf", "egg-set", "at", "C", "CO2", "is", "out", "it's", "done")
    assert expected == words_in(text)


def test_parts_that_a_hyphen_joins_are_looked_up_alone() -> None:
    plain = PlainWords(("low", "fat"))
    assert "low-fat" in plain
    assert "low-casein" not in plain
    assert 7 not in plain


def test_the_list_has_comments_and_many_words_a_line(tmp_path: Path) -> None:
    path = tmp_path / "plain_words.txt"
    path.write_text("# heading\nsalt sugar # and more\n\nEU\n", "utf-8")
    plain = read_plain_words(path)
    assert frozenset({"salt", "sugar", "EU"}) == plain.as_written
    assert "salty" in plain
    assert "heading" not in plain


def test_no_plain_word_is_a_word_of_the_trade() -> None:
    """What the glossary must explain is not plain: otherwise an entry could be lost without notice."""
    plain = read_plain_words(find_places().knowledge / "plain_words.txt")
    trade = (
        "proof",
        "crumb",
        "crust",
        "gluten",
        "hydration",
        "polyol",
        "casein",
        "psyllium",
        "xanthan",
        "gel",
    )
    assert [] == [word for word in trade if word in plain]
