"""Every number of a method has a home or is named; what a sentence leaves open is decided by the whole text."""

from __future__ import annotations

from typing import Any

import pytest

from advisor.formula.formula import Formula
from advisor.formula.reading import read_formula_text
from advisor.knowledge_base.knowledge import Knowledge

_YEASTED = "Canteen loaf\n200 g vital wheat gluten\n150 g water\n5 g instant yeast\n"
_RAISED_BY_POWDER = "Canteen rolls\n200 g almond flour\n150 g egg\n5 g baking powder\n"


def _read(knowledge: Knowledge, method: str, dough: str = _YEASTED) -> Formula:
    return read_formula_text(dough + method, knowledge)


@pytest.mark.parametrize(
    ("method", "named"),
    [
        ("The dough must blurble 15 min.", "'15 min'"),
        ("Knead 10 min.\nPolish the tin 10 min.", "'10 min'"),
        ("makes a dozen\nroll to 18 cm, then bake at 200 C for 20 min", "'18 cm'"),
        ("the sponge smelt of pears and stood where it was 31 C, which is odd", "'31 C'"),
    ],
)
def test_a_number_that_becomes_nothing_is_named(knowledge: Knowledge, method: str, named: str) -> None:
    assert any(named in said and "not" in said for said in _read(knowledge, method).warnings)


@pytest.mark.parametrize(
    "method", ["Knead 10 min. Bake at 180 C for 40 min.", "1. Bake at 180 C for 40 min.\n2. Cool 2 h."]
)
def test_what_is_taken_is_not_named_as_lost(knowledge: Knowledge, method: str) -> None:
    assert not [said for said in _read(knowledge, method).warnings if "not taken" in said]


@pytest.mark.parametrize(
    ("dough", "method", "wanted"),
    [
        (_YEASTED, "Knead 8 min. Leave it an hour. Bake at 180 C for 40 min.", {"proof_min": 60, "rest_min": None}),
        (_YEASTED, "Leave 40 min till it is lukewarm.", {"rest_min": 40, "proof_min": None}),
        (_RAISED_BY_POWDER, "Under a cloth for 40 min.", {"rest_min": 40, "proof_min": None}),
        (_RAISED_BY_POWDER, "Refrigerate the dough, covered, for 15 minutes.", {"rest_min": 15, "proof_min": None}),
        (_YEASTED, "Kneaded 6 min, shaped. Internal 97.", {"core_measured_c": 97, "target_core_c": None}),
        (_YEASTED, "Knead 6 min, shape. Core 97.", {"core_measured_c": None, "target_core_c": 97}),
        (_YEASTED, "Mix 5 min. The dough must swell 15 min.", {"mix_min": 5, "rest_min": 15}),
        (_YEASTED, "mix, 14 h in a warm place", {"mix_min": None}),
        (_YEASTED, "Knead on the bench for 10 minutes", {"mix_min": 10, "rest_min": None}),
        (_YEASTED, "Let it sit 20 min. 170 fan forced 50 min.", {"rest_min": 20, "bake_min": 50, "oven_c": 170}),
        (_YEASTED, "10:30 → 11:35 proof", {"proof_min": 65}),
        (_YEASTED, "10:05 mix start, 10:14 stop", {"mix_min": 9}),
        (_YEASTED, "A round 18cm across and 4cm high.", {"height_after_cm": None}),
        (_YEASTED, "Prove until 2 cm above the rim.", {"height_after_cm": None}),
        (_YEASTED, "each table: 4 spoons, 300 g in all", {"piece_g": None}),
        (_YEASTED, "Spoon about 70 g of batter into each case", {"piece_g": 70}),
        (_YEASTED, "cut rounds, makes about 20", {"sliced_after_min": None}),
        (_YEASTED, "Let set 5 minutes in tins", {"loaves": None}),
    ],
)  # fmt: skip
def test_meaning_of_a_number(knowledge: Knowledge, dough: str, method: str, wanted: dict[str, Any]) -> None:
    process = _read(knowledge, method, dough).process
    found = {field: getattr(process, field) for field in wanted}
    assert {f: pytest.approx(v) if v is not None else None for f, v in wanted.items()} == found


@pytest.mark.parametrize(
    ("method", "wanted"),
    [
        ("Bake at 180 C for 55 min. Switch off and leave in the oven for 10 minutes.", {"bake_min": 55, "oven_c": 180}),
        ("Pot in the oven at 240 for 45 min beforehand. Bake at 220 C for 30 min.", {"preheat_c": 240, "bake_min": 30}),
        ("bake 185 - 38'", {"oven_c": 185, "bake_min": 38}),
        ("Stir until no seeds are left, about 2 minutes.", {"rest_min": None, "mix_min": 2}),
    ],
)  # fmt: skip
def test_the_oven_and_what_lies_beside_it(knowledge: Knowledge, method: str, wanted: dict[str, Any]) -> None:
    process = _read(knowledge, method).process
    found = {field: getattr(process, field) for field in wanted}
    assert {f: pytest.approx(v) if v is not None else None for f, v in wanted.items()} == found
