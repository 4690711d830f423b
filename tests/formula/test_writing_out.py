"""Percentage table, scaling, weighing list and label order."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.formula.writing.label import label_of
from advisor.formula.writing.percentage_table import (
    percentage_table,
    write_percentage_table,
)
from advisor.formula.writing.scaling import (
    Pan,
    ScalingFault,
    scale_formula,
    scale_to_dough,
    scale_to_loaves,
    scale_to_pan,
    scale_to_slices,
)
from advisor.formula.writing.weighing_list import ScaleSteps, weighing_list, write_weighing_list
from advisor.knowledge_base.knowledge import Knowledge

Read = Callable[..., Formula]

_LOAF = """Canteen loaf
150 g vital wheat gluten
50 g oat fibre
4 large eggs
180 g water
6 g salt
4.32 g instant yeast
poppy seeds to taste
slices: 16
pan: 20 x 10 x 10 cm
oven: 175 C for 60 min
"""


@pytest.fixture
def loaf(knowledge: Knowledge) -> Formula:
    return read_formula_text(_LOAF, knowledge)


def test_dry_base_is_one_hundred_per_cent(loaf: Formula) -> None:
    table = percentage_table(loaf)
    assert 200 == table.base_g
    assert 100 == pytest.approx(sum(row.of_base_pct for row in table.rows if row.in_base))
    assert 100 == pytest.approx(sum(row.of_dough_pct for row in table.rows))
    shares = {row.name: row.of_base_pct for row in table.rows}
    assert (75, 25, 100, 90, 3) == pytest.approx(
        tuple(shares[n] for n in ("vital wheat gluten", "oat fibre", "whole egg", "water", "salt"))
    )
    assert 295.16 == pytest.approx(table.total_pct)
    text = write_percentage_table(table)
    assert "dry base" in text
    assert "poppy seeds" in text
    assert len(text.splitlines()) == len(table.rows) + 5


def test_formula_without_dry_base_has_no_percentages(knowledge: Knowledge) -> None:
    with pytest.raises(ValueError, match="dry base"):
        percentage_table(read_formula_text("100 g water\n2 eggs", knowledge))


@given(st.floats(0.05, 20), st.floats(0.05, 20))
def test_scaling_twice_is_scaling_once_by_the_product(knowledge: Knowledge, one: float, other: float) -> None:
    loaf = read_formula_text(_LOAF, knowledge)
    twice, once = scale_formula(scale_formula(loaf, one), other), scale_formula(loaf, one * other)
    assert [x.grams for x in twice.lines] == pytest.approx([x.grams for x in once.lines])
    assert loaf.dough_g * one * other == pytest.approx(once.dough_g)


def test_scaled_to_a_pan_fills_the_same_share(loaf: Formula) -> None:
    scaled = scale_to_pan(loaf, Pan(length_cm=25, width_cm=12, height_cm=10))
    assert 3000 == scaled.process.pan_volume_ml
    assert loaf.dough_g / 2000 == pytest.approx(scaled.dough_g / 3000)
    assert 6 == next(line.counted for line in scaled.lines if line.ingredient.id == "whole_egg")
    assert loaf.process.bake_min == scaled.process.bake_min


def test_scaled_to_a_round_pan(loaf: Formula) -> None:
    pan = Pan(length_cm=20, width_cm=20, height_cm=8, is_round=True)
    assert 2513.27 == pytest.approx(pan.volume_ml, rel=1e-4)
    assert "round" == scale_to_pan(loaf, pan).process.pan_kind


def test_scaled_to_dough_slices_and_loaves(loaf: Formula) -> None:
    assert 1000 == pytest.approx(scale_to_dough(loaf, 1000).dough_g)
    slices = scale_to_slices(loaf, 8)
    assert (8, loaf.dough_g / 2) == (slices.process.slices, pytest.approx(slices.dough_g))
    loaves = scale_to_loaves(loaf, 3)
    assert (3, 16, loaf.dough_g * 3) == (
        loaves.process.loaves,
        loaves.process.slices,
        pytest.approx(loaves.dough_g),
    )
    assert "the formula is taken as one loaf" in loaves.assumed


def test_pieces_that_do_not_come_out_whole_are_said(loaf: Formula) -> None:
    scaled = scale_formula(loaf, 1.1)
    eggs = next(line for line in scaled.lines if line.ingredient.id == "whole_egg")
    assert (None, 220) == (eggs.counted, pytest.approx(eggs.grams))
    assert any("4.4 egg is no whole number: weigh 220 g" in said for said in scaled.assumed)
    assert any("poppy seeds has no weight and was not scaled" in said for said in scaled.assumed)


@pytest.mark.parametrize(
    "scale",
    [
        lambda f: scale_formula(f, 0),
        lambda f: scale_formula(f, float("nan")),
        lambda f: scale_to_dough(f, -1),
        lambda f: scale_to_slices(f, 4),
        lambda f: scale_to_loaves(f, 0),
        lambda f: scale_to_pan(f, Pan(length_cm=20, width_cm=10, height_cm=10)),
    ],
)
def test_what_cannot_be_scaled_says_why(read: Read, scale: Callable[[Formula], Formula]) -> None:
    with pytest.raises(ScalingFault, match=r"\w+"):
        scale(read("100 g water"))


def test_weighing_list_rounds_as_a_scale_and_adds_up(loaf: Formula) -> None:
    entries = weighing_list(loaf)
    assert [150, 50, 200, 180, 6, 4.3, None] == [entry.grams for entry in entries]
    assert 590.3 == entries[-2].running_g
    assert "4 x" == entries[2].note
    text = write_weighing_list(loaf)
    assert 7 == text.count("[ ]")
    assert "590.3 g  in all" in text
    assert 0.5 == ScaleSteps(fine_g=0.5).shown(0.01)


def test_label_goes_by_weight_and_marks_allergens(loaf: Formula) -> None:
    label = label_of(loaf)
    assert [
        "whole egg",
        "water",
        "vital wheat gluten",
        "oat fibre",
        "salt",
        "instant yeast",
        "poppy seeds",
    ] == [entry.name for entry in label.entries]
    assert {"egg", "wheat", "gluten"} <= set(label.allergens)
    assert (None, None) == (label.entries[-1].grams, label.entries[-1].share_pct)


def test_same_ingredient_on_two_lines_is_one_on_the_label(read: Read) -> None:
    label = label_of(read("60 g water\n100 g gluten\n70 g water"))
    assert [("water", 130), ("vital wheat gluten", 100)] == [(e.name, e.grams) for e in label.entries]
