"""Where a loaf is kept: a crumb firms fastest just above freezing, and hardly at all in a freezer."""

from __future__ import annotations

import pytest

from advisor import default_advisor, read_formula
from advisor.formula.writing.as_text import write_formula_text

LOAF = (
    "500 g bread flour\n310 g water\n6 g instant yeast\n9 g salt\npan: 23 x 11 x 10 cm\nmix: 10 min\n"
    "proof: 60 min at 28 C\noven: 220 C for 40 min\n{kept}"
)


def pace(kept: str) -> float:
    found = default_advisor().examiner.measured(read_formula(LOAF.format(kept=kept)))
    value = found.workings.measures.by_id["firming_per_day"].value
    assert value is not None
    return value


def test_a_crumb_firms_faster_cold_and_slowest_frozen():
    warm, room, cold, fridge, frozen = (
        pace(f"stored: {kept}") for kept in ("at 32 C", "at 21 C", "at 10 C", "in the fridge", "at -18 C")
    )
    assert frozen < warm < room < cold < fridge
    assert frozen < 0.2 * room


@pytest.mark.parametrize("said", ["stored: 2 days at 5 C in a bag", "stored: 5 C, wrapped"])
def test_where_it_is_kept_is_read_and_written_back(said):
    formula = read_formula(LOAF.format(kept=said))
    assert 5.0 == formula.process.stored_c
    assert formula.process == read_formula(write_formula_text(formula)).process


def test_a_little_scalded_paste_does_not_scald_the_dough():
    paste = "20 g cooked flour paste (1 part flour to 5 parts water, 65 C)"
    formula = read_formula(LOAF.format(kept=paste))
    assert formula.process.water_c is None
