"""What makes the films is a matter of amounts: no jump, no class that takes over, and too much has an end."""

from __future__ import annotations

from itertools import pairwise

import pytest

from advisor import load_knowledge
from advisor.formula.reading import read_formula_text
from advisor.models.dough_state import dough_state_of
from advisor.models.loaf.expansion import still_whole
from advisor.models.loaf.films import films_of, hill
from advisor.models.measuring import measure

KNOWLEDGE = load_knowledge()
WHEAT = (
    "{flour} g bread flour\n{starch}310 g water\n{yeast} g instant yeast\n10 g sugar\n9 g salt\n"
    "pan: 25 x 11 x 11 cm\nmix: 10 min\nproof: {proof} min at 30 C\noven: 220 C for 35 min"
)
BATTER = (
    "200 g almond flour\n{egg} g whole egg\n{water} g water\n40 g butter, melted\n10 g baking powder\n4 g salt\n"
    "pan: 23 x 10 x 10 cm\noven: 175 C for 50 min"
)


def state(text: str):
    return dough_state_of(read_formula_text(text, KNOWLEDGE), KNOWLEDGE)


def volume(text: str) -> float:
    found = measure(state(text), KNOWLEDGE, with_bake=False).measures.value("specific_volume")
    assert found is not None
    return found


def wheat(flour: float = 500, yeast: float = 6, proof: float = 50) -> str:
    starch = f"{500 - flour} g corn starch\n" if flour < 500 else ""
    return WHEAT.format(flour=flour, starch=starch, yeast=yeast, proof=proof)


def test_shares_make_a_whole():
    for text in (wheat(), wheat(40), BATTER.format(egg=250, water=40)):
        shares = films_of(state(text), KNOWLEDGE).shares
        assert 1 == pytest.approx(sum(shares.values()))
        assert min(shares.values()) >= 0


def test_traces_of_gluten_do_not_make_a_kneaded_dough():
    assert films_of(state(wheat(25)), KNOWLEDGE).gluten < 0.02
    assert films_of(state(wheat(500)), KNOWLEDGE).gluten > 0.9


def test_volume_falls_smoothly_as_starch_takes_the_place_of_flour():
    found = [volume(wheat(flour)) for flour in range(500, 19, -20)]
    steps = [after / before - 1 for before, after in pairwise(found)]
    assert all(-0.08 < step < 0.01 for step in steps), steps


def test_half_the_egg_does_not_make_a_larger_loaf():
    found = [volume(BATTER.format(egg=egg, water=40 + 0.75 * (250 - egg))) for egg in range(250, 99, -10)]
    assert found[-1] < 0.9 * found[0]
    assert all(0.93 < after / before < 1.01 for before, after in pairwise(found)), found


@pytest.mark.parametrize("turned", ["yeast", "proof"])
def test_too_much_of_it_makes_a_smaller_loaf(turned):
    doses = {"yeast": [1, 2, 4, 8, 16, 32, 50], "proof": [10, 30, 60, 120, 200, 320]}[turned]
    fixed = {"yeast": {"proof": 90}, "proof": {"yeast": 14}}[turned]
    found = [volume(wheat(**{turned: dose}, **fixed)) for dose in doses]
    best = found.index(max(found))
    assert 0 < best < len(found) - 1, found
    assert found[: best + 1] == sorted(found[: best + 1])


def test_gas_left_is_most_at_what_the_films_bear():
    left = {x: x * still_whole(x, 1.0, 4) for x in (0.8, 0.95, 1.0, 1.05, 1.3)}
    assert 1.0 == max(left, key=left.__getitem__)
    assert 1 == still_whole(0.0, 1.0, 4)


def test_a_hill_function_is_half_at_its_half():
    assert [0.0, 0.5] == [hill(0, 2, 3), hill(2, 2, 3)]
    assert hill(4, 2, 3) == pytest.approx(8 / 9)
