"""Simple laws of the trade: what is not proposed where the loaf, or the baker, says the opposite."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from advisor import default_advisor, load_knowledge, read_formula
from advisor.remedy.change import Change
from advisor.remedy.sanity import against_what_was_seen

KNOWLEDGE = load_knowledge()
PROCESS = {
    "bake": ("min", 40.0, "bake_min"),
    "oven": ("C", 180.0, "oven_c"),
    "proof": ("min", 60.0, "proof_min"),
}


def change(what: str, after: float) -> Change:
    unit, before, field = PROCESS.get(what, ("g", 100.0, None))
    return Change(what=what, unit=unit, before=before, after=after, field=field)


def broken(
    *changes: Change,
    seen: tuple[str, ...] = (),
    answers: Mapping[str, str] | None = None,
    about: tuple[str, str] = ("kneaded_gluten", "tin_loaf"),
) -> str | None:
    return against_what_was_seen("a-lever", changes, (seen, answers or {}), about, KNOWLEDGE)


@pytest.mark.parametrize(
    ("seen", "answers", "name", "after"),
    [
        (("dark_crust",), {}, "bake", 50),
        (("gummy_centre",), {}, "bake", 30),
        (("not_crisp",), {}, "bake", 30),
        (("stiff_dough",), {}, "water", 80),
        (("runny_dough",), {}, "water", 120),
        (("fell_in_proof",), {}, "instant yeast", 120),
        (("overflow",), {}, "proof", 80),
        (("slow_proof",), {}, "proof", 40),
        (("soapy_taste",), {}, "baking powder", 120),
        (("rubbery_chew",), {}, "vital wheat gluten", 120),
        (("rubbery_chew",), {}, "egg white", 140),
        (("springs_back",), {}, "oat fibre", 60),
        (("dry_crumb",), {}, "bake", 50),
        ((), {"starter_lively": "flat"}, "sourdough starter", 60),
        ((), {"powder_age": "old"}, "baking powder", 120),
        ((), {"yeast_test": "flat"}, "instant yeast", 120),
        ((), {"core_temperature": "above_92"}, "bake", 50),
    ],
)
def test_a_change_against_what_was_seen_is_not_made(
    seen: tuple[str, ...], answers: dict[str, str], name: str, after: float
) -> None:
    assert broken(change(name, after), seen=seen, answers=answers) is not None
    assert broken(change(name, after)) is None


def test_what_makes_it_good_again_lifts_a_law() -> None:
    longer, cooler = change("bake", 55), change("oven", 150)
    assert broken(longer, seen=("dark_crust",)) is not None
    assert broken(longer, cooler, seen=("dark_crust",)) is None
    # the minutes that an amount costs the core are no longer bake
    assert broken(change("vital wheat gluten", 120), longer, seen=("dark_crust",)) is None
    # dry in the hand and wet when baked: the loaf does not say which
    assert broken(change("water", 80), seen=("stiff_dough", "gummy_centre")) is None


def test_gluten_goes_only_where_it_is_kneaded() -> None:
    more = change("vital wheat gluten", 120)
    assert broken(more, about=("egg_set", "muffin")) is not None
    assert broken(more, about=("starch_gel", "tin_loaf")) is not None
    assert broken(more, about=("kneaded_gluten", "rolls")) is None


def test_a_crust_nearly_burnt_over_a_raw_core_gets_no_longer_bake_at_that_heat() -> None:
    text = """Sweet braid
500 g bread flour
80 g sugar
2 eggs
60 g sunflower oil
190 g water
9 g salt
8 g instant yeast
mix: 10 min
proof: 60 min at 26 C
oven: 220 C for 26 min
"""
    answer = default_advisor().diagnose(read_formula(text), saw=("dark_crust", "gummy_centre"))
    for p in answer.plans.proposals:
        made = {c.what: (c.before or 0.0, c.after or 0.0) for c in p.changes if c.unit}
        if "bake" in made and made["bake"][1] > made["bake"][0]:
            assert any(c.unit == "g" for c in p.changes) or made["oven"][1] < made["oven"][0]


def test_a_bake_that_was_hot_and_short_is_given_its_minutes_with_the_lower_heat() -> None:
    text = """Husk buns on the hot shelf
200 g almond flour
42 g psyllium husk powder
11 g baking powder
5 g salt
130 g egg whites
12 g cider vinegar
280 g boiling water
makes 8 rolls
oven: 235 C for 18 min
"""
    answer = default_advisor().diagnose(read_formula(text), saw=("dark_crust", "gummy_base", "gummy_centre"))
    first = {c.what: c.after or 0.0 for c in answer.plans.proposals[0].changes}
    assert first["oven"] <= 200
    assert first["bake"] >= 30


def test_a_dough_that_felt_cold_is_warmed_as_a_whole() -> None:
    text = """Winter boule
200 g vital wheat gluten
70 g oat fibre
50 g ground flaxseed
8 g salt
8 g instant yeast
10 g honey
1 egg
340 g water
mix: 6 min
proof: 60 min
oven: 190 C for 45 min
"""
    answer = default_advisor().diagnose(
        read_formula(text), saw=("flat_loaf", "dense_crumb"), answers={"dough_felt": "cold"}
    )
    assert answer.plans.proposals[0].lever == "warm-the-dough"
