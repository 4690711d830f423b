"""Which kind of bake a text is, and that each kind is judged as what it is."""

from __future__ import annotations

import pytest
from case_files import CASES, entries

from advisor import default_advisor, load_knowledge
from advisor.formula.reading import read_formula_text
from advisor.models.dough.kind_of_bake import kind_named, kind_of_bake

KNOWLEDGE = load_knowledge()
DOUGH = "100 g vital wheat gluten\n40 g oat fibre\n3 g salt\n110 g water\n"


def chosen(title: str, more: str = ""):
    return kind_of_bake(read_formula_text(f"{title}\n{DOUGH}{more}", KNOWLEDGE), KNOWLEDGE)


@pytest.mark.parametrize(
    ("title", "kind"),
    [
        ("Sandwich loaf", "tin_loaf"),
        ("Supper tortillas", "flatbread"),
        ("English muffins", "flatbread"),
        ("Tortilla chips", "cracker"),
        ("Bagel crisps", "cracker"),
        ("Pizza rolls", "rolls"),
        ("Roll of honour loaf", "tin_loaf"),
        ("Flat-bread", "flatbread"),
        ("Country sourdough, one loaf", "sourdough"),
    ],
)
def test_the_last_noun_of_a_title_says_what_a_thing_is(title, kind):
    assert kind == chosen(title).kind.id


def test_what_is_made_and_how_it_is_baked_speak_where_the_title_does_not():
    assert (
        "flatbread"
        == chosen("Tuesday", "Divide into 8 tortillas and cook on a griddle 1 min a side.").kind.id
    )
    assert "steamed" == chosen("Tuesday", "pan: rolls\nsteam: 12 min").kind.id


def test_what_the_baker_writes_is_taken():
    found = chosen("Supper tortillas", "kind: tin loaf")
    assert "tin_loaf" == found.kind.id
    assert found.stated
    assert 1.0 == found.likelihood


def test_a_word_that_is_no_kind_is_kept_to_be_said():
    found = chosen("Supper tortillas", "kind: zeppelin")
    assert ("flatbread", "zeppelin") == (found.kind.id, found.unknown)


def test_a_kind_goes_by_its_nouns():
    named = kind_named("bagel", KNOWLEDGE)
    assert named is not None
    assert "rolls" == named.id


def test_a_loaf_whose_yeast_was_forgotten_is_no_seed_loaf():
    """No false all-clear: an ordinary title without leavening is judged as a loaf that does not rise."""
    formula = read_formula_text(
        f"Sandwich loaf\n{DOUGH}pan: 20 x 10 x 8 cm\noven: 180 C for 50 min", KNOWLEDGE
    )
    found = default_advisor().examiner.examine(formula, after_bake=False)
    assert 0.35 < found.diagnosis.risks["flat_loaf"].risk


@pytest.mark.parametrize(
    "case", [pytest.param(c, id=c["id"]) for c in entries(CASES / "sound" / "kinds.yaml")]
)
def test_a_sound_bake_is_taken_for_its_kind_and_nothing_that_decides_is_open(case):
    formula = read_formula_text(case["text"], KNOWLEDGE, name=case["id"])
    found = default_advisor().examiner.examine(formula, after_bake=False)
    assert case["kind"] == found.workings.dough_state.with_defaults.kind
    assert not [gap.id for gap in found.not_judged if gap.decides]


def test_a_cracker_taken_out_half_dry_is_said_to_be_so():
    text = next(
        c["text"] for c in entries(CASES / "sound" / "kinds.yaml") if c["id"] == "sound-seed-crackers"
    )
    short = read_formula_text(text.replace("for 65 min", "for 15 min"), KNOWLEDGE)
    found = default_advisor().examiner.examine(short, after_bake=False)
    assert "not_dried_out" == found.diagnosis.causes[0].id
    assert 0.35 < found.diagnosis.risks["not_crisp"].risk
    assert 0 == found.diagnosis.risks["flat_loaf"].risk


@pytest.mark.parametrize(
    ("opening", "kind"),
    [
        ("Seed crackers: ", "cracker"),
        ("My lemon muffins, a dozen. I weigh everything: ", "muffin"),
        ("so this is my oval loaf, on a tray. in a bowl: ", "free_loaf"),
        ("Muffins were on my mind when I made this and all the rest of it one wet day. ", "tin_loaf"),
        ("", "tin_loaf"),
    ],
)
def test_a_running_text_is_called_by_what_it_opens_with(opening, kind):
    formula = read_formula_text(opening + DOUGH.replace("\n", ", ").strip(", ") + ". Mix it well.", KNOWLEDGE)
    assert kind_of_bake(formula, KNOWLEDGE).kind.id == kind


def test_a_yeasted_dough_full_of_butter_is_rich_and_cut_into_many_it_is_no_loaf():
    text = (
        "As my aunt made them\n480 g plain flour\n250 g milk\n9 g instant yeast\n80 g sugar\n5 g salt\n1 egg\n"
        "{butter} g butter\npieces: {pieces}\nproof: 45 min at 24 C\noven: 220 C for 11 min\n"
    )
    examiner = default_advisor().examiner
    for butter, pieces, kind, pan in ((100, 16, "rich_dough", "rolls"), (15, 2, "wheat_loaf", "tin")):
        formula = read_formula_text(text.format(butter=butter, pieces=pieces), KNOWLEDGE)
        filled = examiner.measured(formula).workings.dough_state.with_defaults
        assert (kind, pan) == (filled.kind, filled.pan_kind)
