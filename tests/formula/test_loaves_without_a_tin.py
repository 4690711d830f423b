"""A loaf that stands free: by its pan line, by a word of its shaping, and by what a baker answers when asked."""

from __future__ import annotations

import pytest

from advisor import load_knowledge
from advisor.formula.reading import read_formula_text
from advisor.models.dough.kind_of_bake import kind_of_bake

DOUGH = "Gluten loaf\n200 g wheat gluten\n60 g oat fibre\n230 g water\n5 g instant yeast\n4 g salt\n"


def read(rest: str):
    return read_formula_text(DOUGH + rest, load_knowledge(), name="x")


@pytest.mark.parametrize(
    "said",
    ["free-standing", "none, it stood free", "no tin", "baking stone", "free form on a tray", "no loaf tin"],
)
def test_a_pan_line_may_say_that_there_is_none(said: str) -> None:
    assert read(f"pan: {said}\n").process.pan_kind == "free_standing"


@pytest.mark.parametrize(
    "said",
    [
        "Shape into a batard, rise 45 min.",
        "Let it rise in a floured proving basket 50 min.",
        "Shape free-form on parchment.",
        "Bake it without a tin.",
    ],
)
def test_a_sentence_tells_that_a_loaf_stands_free(said: str) -> None:
    assert read(f"{said} Bake 220 C 35 min.\n").process.pan_kind == "free_standing"


def test_a_tin_that_is_named_behind_a_basket_is_the_pan() -> None:
    process = read(
        "Rise in a banneton 50 min, then turn into a 23 x 13 x 7 cm tin. Bake 200 C 40 min.\n"
    ).process
    assert (process.pan_kind, process.pan_length_cm) == ("tin", 23)


def test_a_loaf_by_its_title_that_stands_free_is_no_tin_loaf() -> None:
    knowledge = load_knowledge()
    for rest, kind in (
        ("pan: free-standing\n", "free_loaf"),
        ("pan: 23 x 10 x 10 cm\n", "tin_loaf"),
        ("", "tin_loaf"),
    ):
        chosen = kind_of_bake(read(rest), knowledge)
        assert chosen is not None
        assert chosen.kind.id == kind


def test_rows_of_rolls_are_no_size_of_their_tin() -> None:
    rolls = read(
        "Divide in 12, round, set 3 x 4 in the greased tin. Prove 60 min. Bake 180 C 25 min.\n"
    ).process
    assert rolls.pan_length_cm is None
    assert rolls.pieces == 12
    assert read("Into a 9 x 5 in pan. Bake 180 C 45 min.\n").process.pan_length_cm == pytest.approx(
        22.9, abs=0.1
    )
