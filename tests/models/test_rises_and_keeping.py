"""Several rises, how stiff a dough handles, and what the heat and the wrapping of a store do."""

from __future__ import annotations

import pytest

from advisor import default_advisor, load_knowledge
from advisor.formula.reading import read_formula_text

LOAF = """White bread
500 g bread flour
310 g water
6 g instant yeast
9 g salt
mix: 10 min
bulk: 60 min at 30 C
proof: 50 min at 32 C
oven: 220 C for 35 min
pan: 23 x 10 x 10 cm
"""


def values(text: str) -> dict[str, float]:
    formula = read_formula_text(text, load_knowledge(), name="x")
    found = default_advisor().examiner.measured(formula).workings.measures.by_id
    return {name: measure.value for name, measure in found.items() if measure.value is not None}


def test_an_earlier_rise_makes_gas_and_leaves_some_of_it() -> None:
    twice, once = values(LOAF), values(LOAF.replace("bulk: 60 min at 30 C\n", ""))
    assert once["gas_before_oven"] + 60 < twice["gas_before_oven"]
    assert 1.02 * once["cooled_volume"] < twice["cooled_volume"] < 1.4 * once["cooled_volume"]


def test_the_need_of_a_dough_that_was_knocked_back_counts_from_its_shaping() -> None:
    twice, once = values(LOAF), values(LOAF.replace("bulk: 60 min at 30 C\n", ""))
    assert twice["proof_need_min"] < once["proof_need_min"]
    assert twice["proof_past_need"] == pytest.approx(50 / twice["proof_need_min"])


def test_volume_over_the_proof_has_a_best_and_cells_coarsen_past_it() -> None:
    usual, long = (values(LOAF.replace("50 min at 32", f"{m} min at 32")) for m in (110, 330))
    assert long["cooled_volume"] < 0.9 * usual["cooled_volume"]
    assert usual["cell_size"] < long["cell_size"]


def test_salt_and_oxidants_stiffen_and_water_slackens_a_dough() -> None:
    usual = values(LOAF)["dough_stiffness"]
    assert values(LOAF.replace("9 g salt\n", ""))["dough_stiffness"] < 0.95 * usual
    assert 1.05 * usual < values(LOAF + "0.05 g ascorbic acid\n")["dough_stiffness"]
    assert values(LOAF.replace("310 g", "330 g"))["dough_stiffness"] < 0.9 * usual


def test_cold_holds_mould_back_and_hastens_firming_and_an_open_loaf_dries() -> None:
    room, cold, bare = (
        values(LOAF + f"stored: 3 days {how}\n")
        for how in ("at 21 C in a bag", "at 4 C in a bag", "at 21 C unwrapped")
    )
    assert 3 * room["days_without_mould"] < cold["days_without_mould"]
    assert room["firming_per_day"] < cold["firming_per_day"]
    assert room["firmness_day_2"] < bare["firmness_day_2"]


def test_a_frozen_dough_comes_back_weaker_the_longer_it_lay() -> None:
    fresh, week, months = (
        values(LOAF.replace("proof:", f"{frozen}proof:"))
        for frozen in ("", "freeze: 7 days at -18 C\n", "freeze: 112 days at -18 C\n")
    )
    assert fresh["gas_before_oven"] > week["gas_before_oven"] > 1.15 * months["gas_before_oven"]
    assert fresh["cooled_volume"] > week["cooled_volume"] > 1.1 * months["cooled_volume"]


def test_a_long_first_rise_leaves_no_more_in_a_knocked_back_dough_than_it_held():
    """A dough that has doubled leaks what the yeast makes after that, so its last rise is about as long as before."""
    strong = LOAF.replace("6 g instant yeast", "14 g instant yeast\n40 g honey")
    needs = [values(strong.replace("bulk: 60", f"bulk: {m}"))["proof_need_min"] for m in (40, 60, 80)]
    assert max(needs) < 1.3 * min(needs)


def test_a_last_rise_without_a_heat_is_as_warm_as_the_one_before() -> None:
    unsaid = values(LOAF.replace("50 min at 32 C", "50 min"))
    said = values(LOAF.replace("50 min at 32 C", "50 min at 30 C"))
    assert unsaid["gas_before_oven"] == pytest.approx(said["gas_before_oven"])
    cold = values(LOAF.replace("60 min at 30 C", "60 min at 4 C").replace("50 min at 32 C", "50 min"))
    assert cold["gas_before_oven"] > 1  # a night in the fridge says nothing of the rise behind it
