"""What bakers say in their own words is heard as the symptoms they mean, and a remark stays a remark."""

from __future__ import annotations

from collections import Counter

import pytest
from blind_phrases import left_out

from advisor.diagnosis.phrases import Heard, PhraseReader
from advisor.knowledge_base.knowledge import Knowledge


@pytest.fixture(scope="module")
def reader(knowledge: Knowledge) -> PhraseReader:
    return PhraseReader(knowledge)


SAID = [
    ("collapsed while it was still in the oven", {"collapse_in_oven"}),
    ("looked great in the oven, sank on the rack", {"collapse_on_cooling"}),
    ("the walls caved in overnight", {"side_cave_in"}),
    ("wet and gluey in the middle", {"gummy_centre"}),
    ("there's a dense damp stripe along the bottom", {"gummy_base"}),
    ("it sticks to the bread knife", {"sticky_crumb"}),
    ("goes to bits when I butter it", {"crumbly_slice"}),
    ("you need a glass of water with every bite, so dry", {"dry_crumb"}),
    ("heavy as a brick", {"dense_crumb"}),
    ("huge holes all over the slice", {"coarse_holes"}),
    ("one huge hole right through the middle", {"large_cavity"}),
    ("the side burst open", {"split_crust"}),
    ("top crust lifted off like a lid", {"shelled_top"}),
    ("the top went all wrinkly", {"wrinkled_top"}),
    ("crust hard as rock", {"thick_crust"}),
    ("crust is like leather", {"tough_crust"}),
    ("never browned", {"pale_crust"}),
    ("ran over the sides of the tin", {"overflow"}),
    ("bottom is soggy", {"wet_base"}),
    ("leaves grease on the paper", {"greasy_crumb"}),
    ("squeaks and bounces like rubber", {"rubbery_chew"}),
    ("the dough was far too wet to shape", {"runny_dough"}),
    ("dough was so stiff the mixer struggled", {"stiff_dough"}),
    ("tastes like washing up liquid", {"soapy_taste"}),
    ("tastes of nothing", {"weak_aroma"}),
    ("smells like cat pee", {"ammonia_smell"}),
    ("hard bits between my teeth", {"gritty_texture"}),
    ("went purple inside", {"purple_crumb"}),
    ("fuzzy blue spots after two days", {"early_mould"}),
    ("burnt on top and raw in the middle", {"dark_crust", "gummy_centre"}),
    ("the whites went flat when the meal went in", {"foam_fell"}),
    ("not one bubble in the dough after three hours", {"slow_proof"}),
    ("it sank when I slashed it", {"fell_in_proof"}),
    ("the flatbreads would not puff, no pocket in any of them", {"no_pocket"}),
    ("tastes of raw beans", {"ingredient_taste"}),
    ("leaves a minty cold feeling on the tongue", {"cooling_taste"}),
    ("soft when fresh, hard as wood the next day", {"stales_fast"}),
    ("does not brown in the toaster", {"toasts_badly"}),
    ("sticks to the knife like wallpaper paste", {"sticky_crumb"}),
    ("smells of beer and tastes sour", {"yeasty_off_taste", "sour_taste"}),
]


@pytest.mark.parametrize(("phrase", "wanted"), SAID)
def test_a_phrase_is_heard_as_what_it_means(reader: PhraseReader, phrase: str, wanted: set[str]) -> None:
    assert wanted == set(reader.hear(phrase).taken)


@pytest.mark.parametrize(
    ("phrase", "denied"),
    [
        ("not burnt", "dark_crust"),
        ("it wasn't at all gummy", "gummy_centre"),
        ("no big holes", "coarse_holes"),
        ("not a bit soapy", "soapy_taste"),
    ],
)
def test_what_is_denied_is_not_seen(reader: PhraseReader, phrase: str, denied: str) -> None:
    heard = reader.hear(phrase)
    assert ((), True) == (heard.taken, denied in heard.denied)


def test_a_no_that_is_denied_says_it_after_all(reader: PhraseReader) -> None:
    assert ("crumbly_slice",) == reader.hear("can't cut it without it crumbling").taken


@pytest.mark.parametrize(
    "phrase", ["best loaf yet, thank you", "what flour do you use", "", "a", "k", "12", "???"]
)
def test_a_remark_is_no_symptom(reader: PhraseReader, phrase: str) -> None:
    assert Heard() == reader.hear(phrase)


def test_two_readings_that_are_close_are_offered_and_not_taken(reader: PhraseReader) -> None:
    heard = reader.hear("wet")
    assert () == heard.taken
    assert [True] == [2 <= len(group) <= 3 for group in heard.choices]


def test_a_misspelt_word_is_read_and_said(reader: PhraseReader) -> None:
    heard = reader.hear("gumy in the midle")
    assert (("gummy_centre",), (("gumy", "gummy"), ("midle", "middle"))) == (heard.taken, heard.mended)


def test_every_symptom_is_heard_by_its_own_name_and_its_common_words(
    reader: PhraseReader, knowledge: Knowledge
) -> None:
    missed = []
    for name, symptom in knowledge.symptoms.items():
        for word in (symptom.name, *symptom.also):
            heard = reader.hear(word)
            if name not in (*heard.taken, *(s for group in heard.choices for s in group)):
                missed.append((name, word, heard))
    assert [] == missed


def test_a_long_text_is_read_no_further_than_its_first_lines(reader: PhraseReader) -> None:
    assert ("dark_crust",) == reader.hear(
        "burnt on top. " + "we ate it with jam. " * 60 + " tastes of soap"
    ).taken


def test_most_of_what_a_writer_says_is_heard_by_what_the_others_said(knowledge: Knowledge) -> None:
    """Each of seven writers is scored by what the others said: 493 of 525, 16 wrong."""
    counts = sum((left_out(f"writer-{n}", knowledge) for n in range(1, 8)), Counter[str]())
    assert counts["right first"] + counts["offered"] >= 490
    assert counts["wrong"] <= 18


def test_phrases_that_no_clue_was_made_for_are_rather_asked_than_heard_wrongly(knowledge: Knowledge) -> None:
    """A fifth of our own phrases, short and figurative, by what the others say."""
    counts = left_out("ours-1", knowledge)
    assert counts["right first"] + counts["offered"] >= 0.68 * counts.total()
    assert counts["wrong"] <= 0.09 * counts.total()


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        ("strings and a smell of ripe fruit", "early_mould"),
    ],
)
def test_what_the_words_speak_against_is_asked_and_not_taken(
    reader: PhraseReader, said: str, wanted: str
) -> None:
    heard = reader.hear(said)
    assert ((), True) == (heard.taken, any(wanted in group for group in heard.choices))


def test_what_no_clue_says_is_heard_by_the_way_its_words_lean(reader: PhraseReader) -> None:
    heard = reader.hear("a pencil would slip in between the roof and the bread")
    assert "shelled_top" == heard.choices[0][0]


@pytest.mark.parametrize(
    "said",
    ["the crumb is open and chewy, just as I wanted", "the raisins all sank", "it is still soft and fresh"],
)
def test_praise_and_parts_that_are_not_the_loaf_are_no_fault(said: str, knowledge: Knowledge) -> None:
    assert () == PhraseReader(knowledge).hear(said).taken


def test_praise_before_a_turn_hides_no_fault(knowledge: Knowledge) -> None:
    assert ("collapse_on_cooling",) == PhraseReader(knowledge).hear(
        "just as I wanted until it sank on the rack"
    ).taken


@pytest.mark.parametrize(
    ("said", "both"),
    [
        ("flat and gummy inside", {"flat_loaf", "gummy_centre"}),
        ("crust soft, crumb dry", {"soft_crust", "dry_crumb"}),
        ("gummy but the crust was too dark", {"gummy_centre", "dark_crust"}),
    ],
)
def test_each_clause_of_a_short_phrase_tells_its_own_fault(reader, said, both):
    assert set(reader.hear(said).taken) == both


def test_a_clause_without_a_subject_is_said_of_the_one_before(reader):
    assert "sticky_crumb" not in reader.hear("dough was slack and sticky").taken
    assert "side_cave_in" not in reader.hear("almost black on top and sides").taken
