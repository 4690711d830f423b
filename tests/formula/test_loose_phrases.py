"""Phrases around an ingredient, several on one line, unknown weights: what is taken, and that it is said."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor.formula.faults import FormulaFault
from advisor.formula.formula import Formula

Read = Callable[..., Formula]


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("50 g butter or olive oil", "taken as butter, not olive oil"),
        ("50 g butter (or olive oil)", "taken as butter, not olive oil"),
        ("1 heaping tsp baking powder", "'heaping' changes no weight"),
        ("scant 1 cup almond flour", "'scant' changes no weight"),
        ("1 level tsp salt", "'level' changes no weight"),
        ("5 g salt (optional)", "what is optional is counted"),
        ("2 or 3 eggs", "'2 or 3' is taken at its middle, 2.5"),
        ("200 g water (38 C)", "taken as water temp: 38 C"),
        ("200 g water at 100-110 F", "is taken at its middle, 40.56 C"),
        ("100 g butter at 20 C", "butter goes in at 20 C"),
        ("200 g (1 cup) water", "'(1 cup)' is not used beside 200 g"),
        ("100 g water\nmakes 2 loaves", "line 2: taken as loaves: 2"),
        ("100 g water\nbake at 180 C for 40 min", "is taken as oven: 180 C for 40 min"),
        ("100 g water\nPrep time: 10 min", "'Prep time: 10 min' is not used"),
    ],
)
def test_what_is_taken_is_said(read: Read, text: str, part: str) -> None:
    formula = read(text)
    assert any(part in said for said in formula.assumed), formula.assumed
    assert () == formula.warnings


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("100 g water\nsalt to taste", "line 2: salt has no weight: 'salt to taste' is counted as nothing"),
        ("100 g water\nolive oil, for the tin", "olive oil has no weight"),
        ("100 g water, plus more if needed", "'plus more if needed' of water has no weight"),
        ("100 g water\ntotal: 150 g", "line 2: the total says 150 g; the lines add up to 100 g"),
        ("100 g water\nslices: 8\nmakes 10 slices", "line 3: slices would be 10; 8 is used"),
        ("100 g water (38 C)\nwater temp: 20 C", "38 C, is not used; water temp is 20 C"),
        ("100 g water\nMethod\nMix well.\nBake.", "line 3, 4: under a heading of the method and not read"),
    ],
)
def test_what_is_lost_is_a_warning(read: Read, text: str, part: str) -> None:
    assert any(part in said for said in read(text).warnings)


def test_unknown_weight_is_kept_and_counts_as_nothing(read: Read) -> None:
    formula = read("Dry:\n100 g gluten\nsalt, to taste\nsome olive oil for greasing")
    assert ["salt", "olive_oil"] == [entry.ingredient.id for entry in formula.unweighed]
    assert [("Dry", 3), ("Dry", 4)] == [(entry.section, entry.number) for entry in formula.unweighed]
    assert 100 == formula.dough_g


@pytest.mark.parametrize(
    ("text", "what", "do"),
    [
        ("salt to taste", "no ingredient has a weight", "200 g water"),
        ("2 cans (400 ml) milk", "content of one of 2 cans or of all", "(400 ml each)"),
        ("1,500 kg water\n100 g salt", "1500 or 1", "1500 or 1.500"),
        ("2 eggs, 3 nosuch", "is not used", ""),
        ("100 g gluten + 5 g nosuch", "no ingredient is called", "its own line"),
    ],
)
def test_what_cannot_be_known_is_asked(read: Read, text: str, what: str, do: str) -> None:
    if not do:
        assert any(what in said for said in (*read(text).warnings, *read(text).assumed))
        return
    with pytest.raises(FormulaFault) as caught:
        read(text)
    assert what in caught.value.problems[0].what
    assert do in caught.value.problems[0].do


@pytest.mark.parametrize(
    ("text", "region", "grams"),
    [
        ("1,500 g water", "us", 1500),
        ("1,500 g water", "uk", 1500),
        ("1,500 g water", "au", 1500),
        ("1,500 g water\n2.5 g salt", "us", 1500),
        ("1,500 kg water\n2,5 g salt", "metric", 1500),
        ("1,234,500 mg water\n1,000 g water", "uk", 1000),
    ],
)
def test_three_digits_behind_a_comma(read: Read, text: str, region: str, grams: float) -> None:
    if "mg" in text:
        text = text.split("\n")[1]
    assert grams == pytest.approx(read(text, region=region).lines[0].grams)


def test_lines_of_one_text_line_keep_their_own_words(read: Read) -> None:
    first, second = read("4 eggs + 1 egg white").lines
    assert ("4 eggs", 1, "1 egg white", 1) == (first.text, first.number, second.text, second.number)


def test_rows_follow_their_headings(read: Read) -> None:
    formula = read("Item\tWeight (kg)\tNotes\ngluten\t0.15\t\nbutter\t0.03\tmelted\nTotal\t0.18 kg\t")
    assert [150, 30] == pytest.approx([line.grams for line in formula.lines])
    assert ("melted",) == formula.lines[1].traits
    assert () == formula.warnings


def test_cell_that_is_not_used_is_said(read: Read) -> None:
    formula = read("item\tg\tsupplier\ngluten\t150\tnext door")
    assert any("the cell 'next door' is not used" in said for said in formula.assumed)


@pytest.mark.parametrize(
    "line", ["80 g zorbs, bashed in the bag with the rolling pin", "80g zorbs (from the shop, rolled out)"]
)
def test_weight_of_an_unknown_name_is_asked_back_whatever_is_done_to_it(read: Read, line: str) -> None:
    with pytest.raises(FormulaFault, match="no ingredient is called 'zorbs"):
        read(f"Loaf\n300 g gluten\n{line}")


@pytest.mark.parametrize(
    "line", ["500 g dough, rolled out in the tin", "90 g each, shaped to balls and laid on a tray"]
)
def test_weight_of_the_dough_is_no_unknown_ingredient(read: Read, line: str) -> None:
    assert [300.0] == [entry.grams for entry in read(f"Loaf\n300 g gluten\n{line}").lines]


@pytest.mark.parametrize("title", ["Gluten loaf -", "Gluten loaf —", "Title: Gluten loaf –"])
def test_dash_behind_a_title_is_none_of_it(read: Read, title: str) -> None:
    assert read(f"{title}\n300 g gluten").name == "Gluten loaf"


@pytest.mark.parametrize(
    "line",
    ["Then add a pinch of salt (2g) and knead 5 min.", "Add a pinch of salt (about 2 g), knead 5 min."],
)
def test_weight_in_a_bracket_that_is_taken_is_not_warned_of(read: Read, line: str) -> None:
    formula = read(f"Loaf\n300 g gluten\n200 g water\n{line}")
    assert (2.0, "salt") in [(entry.grams, entry.ingredient.id) for entry in formula.lines]
    assert not any("not taken" in warning for warning in formula.warnings)
