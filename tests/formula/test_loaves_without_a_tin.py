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


@pytest.mark.parametrize(
    ("said", "kind", "lengths"),
    [
        ("Butter a 2 lb tin, 23 x 13 cm.", "tin", (23, 13, 7)),
        ("Put it in a two-pound tin.", "tin", (22, 11.5, 7)),
        ("Pour in a greased round 7 inch tin.", "round", (17.8, 17.8, None)),
        ("Into a round tin 23cm, lined.", "round", (23, 23, None)),
        ("Set in a greased square 8 inch tin.", "flat", (20.3, 20.3, None)),
        ("An oiled tin 24 cm long and 9 wide.", "tin", (24, 9, None)),
        ("Into a greased 1 litre tin.", "tin", (16, 9.4, 6.6)),
        ("A small lined loaf tin, 20 cm long.", "tin", (20, 10, 6.3)),
        ("Set a pan of water, 1 l, on the oven floor.", None, (None, None, None)),
    ],
)
def test_a_tin_is_named_in_words(said: str, kind: str | None, lengths: tuple[float | None, ...]) -> None:
    p = read(f"{said} Bake 180 C 45 min.\n").process
    assert (p.pan_kind, (p.pan_length_cm, p.pan_width_cm, p.pan_height_cm)) == (
        kind, tuple(None if at is None else pytest.approx(at, abs=0.1) for at in lengths)
    )  # fmt: skip


@pytest.mark.parametrize(
    "said",
    ["Lay it on a lined tray.", "Then into the tin for 40 minutes.", "Preheat a Dutch oven and drop it in."],
)
def test_nobody_is_asked_for_a_shape_that_words_tell(said: str) -> None:
    assert "pan_kind" not in {m.field for m in read(f"{said} Bake 200 C 45 min.\n").asked}
