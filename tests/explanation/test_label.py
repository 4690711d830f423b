"""A label rounds as its form asks: edges of every step, and forms that count carbohydrate and fibre differently."""

from __future__ import annotations

import pytest
from case_files import demo

from advisor import label
from advisor.explanation.declaration import rounded, tolerance


@pytest.mark.parametrize(
    ("line", "figure", "written"),
    [
        ("us-calories", 4.9, "0"), ("us-calories", 7.4, "5"), ("us-calories", 47.5, "50"), ("us-calories", 50.0, "50"),
        ("us-calories", 54.9, "50"), ("us-calories", 55.0, "60"), ("us-calories", 236.0, "240"),
        ("us-fat", 0.49, "0"), ("us-fat", 0.5, "0.5"), ("us-fat", 4.74, "4.5"), ("us-fat", 4.8, "5"),
        ("us-fat", 5.4, "5"),
        ("us-sodium", 4.0, "0"), ("us-sodium", 138.0, "140"), ("us-sodium", 145.0, "150"), ("us-sodium", 144.0, "140"),
        ("us-fibre", 0.4, "0"), ("us-fibre", 0.99, "less than 1"), ("us-fibre", 1.5, "2"), ("us-fibre", 1.49, "1"),
        ("eu-fat", 0.5, "<0.5"), ("eu-fat", 0.51, "0.5"), ("eu-fat", 9.94, "9.9"), ("eu-fat", 10.4, "10"),
        ("eu-saturates", 0.1, "<0.1"), ("eu-saturates", 0.14, "0.1"), ("eu-salt", 0.0125, "<0.01"),
        ("eu-salt", 0.126, "0.13"), ("eu-salt", 1.04, "1.0"), ("eu-salt", 1.66, "1.7"),
        ("eu-energy-kj", 1150.5, "1151"),
        ("eu-protein", 7.0, "7.0"),
    ],
)  # fmt: skip
def test_every_step_of_rounding(line, figure, written, knowledge):
    assert written == rounded(figure, knowledge.label_parts[line])


@pytest.mark.parametrize(
    ("line", "figure", "span"),
    [
        ("eu-protein", 5, (3, 7)), ("eu-protein", 1, (0, 3)), ("eu-protein", 20, (16, 24)),
        ("eu-protein", 50, (42, 58)),
        ("eu-fat", 9, (7.5, 10.5)), ("eu-salt", 1, (0.625, 1.375)), ("us-fat", 10, (None, 12)),
        ("us-fibre", 5, (4, None)),
    ],
)  # fmt: skip
def test_tolerances(line, figure, span, knowledge):
    assert span == tuple(
        None if edge is None else pytest.approx(edge)
        for edge in tolerance(figure, knowledge.label_parts[line])
    )


def test_one_form_counts_fibre_into_carbohydrate_and_the_other_does_not():
    found = label(demo("psyllium-rolls"))
    american = {line.id: line.value for line in found.serving.lines}
    european = {line.id: line.value for line in found.per_portion.lines}
    assert american["us-carbohydrate"] == pytest.approx(european["eu-carbohydrate"] + european["eu-fibre"])
    assert american["us-fibre"] == pytest.approx(european["eu-fibre"])
    assert european["eu-salt"] * 1000 / 2.5 == pytest.approx(american["us-sodium"])


def test_sugar_alcohols_have_a_line_where_there_are_any():
    dough = "Cake\n100 g almond flour\n100 g eggs\n5 g baking powder\n"
    with_it, without = label(dough + "30 g erythritol"), label(dough)
    assert any("eu-polyols" == line.id for line in with_it.per_100g.lines)
    assert all("polyols" not in line.id for line in (*without.per_100g.lines, *without.serving.lines))


def test_nuts_are_named_one_by_one():
    found = label("Loaf\n100 g almond flour\n50 g hazelnut meal\n100 g eggs\n5 g baking powder\n2 g salt")
    nuts = next(line for line in found.allergens if "nuts" == line.allergen)
    assert {"almond flour", "hazelnut meal"} == set(nuts.carried_by)
    assert [entry.name for entry in found.ingredients][:2] == ["almond flour", "whole egg"]
