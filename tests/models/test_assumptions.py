"""What is assumed is computed with: stating it in the formula changes nothing."""

from __future__ import annotations

import pytest
from case_files import balanced_names, demo

from advisor.formula.reading import read_formula_text
from advisor.models.dough.assumptions import fill_defaults

BARE = "{name}\n500 g bread flour\n310 g water\n7 g instant yeast\n9 g salt\n"
SAID = ("mix_min", "water_c", "proof_min", "proof_c", "oven_c", "target_core_c", "slices")


def all_values(formula, advisor):
    found = advisor.examiner.examine(formula, after_bake=False)
    return {n: m.value for n, m in found.workings.measures.by_id.items() if m.value is not None}


@pytest.mark.parametrize("field", SAID)
def test_stating_an_assumed_value_changes_no_measure(field, knowledge, advisor):
    formula = read_formula_text(BARE.format(name="Loaf"), knowledge)
    assumed = getattr(fill_defaults(formula, knowledge), field)
    stated = formula.with_process(**{field: assumed})
    # The dial is judged only where it is stated: it is the one number that an assumption leaves open.
    before, after = (
        {n: v for n, v in all_values(f, advisor).items() if n != "oven_set_c"} for f in (formula, stated)
    )
    assert pytest.approx(before) == after


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("Burger buns", "rolls"),
        ("Seed rolls", "rolls"),
        ("Round seed loaf", "tin"),
        ("Roll of honour loaf", "tin"),
    ],
)
def test_a_name_in_the_plural_means_single_pieces(name, kind, knowledge):
    with_defaults = fill_defaults(read_formula_text(BARE.format(name=name), knowledge), knowledge)
    assert kind == with_defaults.pan_kind
    assert "pan_kind" in with_defaults.assumed


def test_eight_rolls_are_eight_pieces(knowledge):
    formula = read_formula_text(BARE.format(name="Rolls") + "pan: rolls\nloaves: 8\n", knowledge)
    assert 8 == fill_defaults(formula, knowledge).pieces


@pytest.mark.parametrize("name", balanced_names())
def test_a_formula_that_says_it_all_assumes_next_to_nothing(name, knowledge):
    assert set(fill_defaults(demo(name), knowledge).assumed) <= {
        "water_c",
        "target_core_c",
        "mix_min",
        "proof_c",
    }


@pytest.mark.parametrize("proof", ["12 h at -2 C", "30 min at 50 C", "0 min at 4 C"])
def test_odd_proofs_can_be_checked(proof, knowledge, advisor):
    formula = read_formula_text(BARE.format(name="Loaf") + f"proof: {proof}\n", knowledge)
    assert advisor.check(formula).examination.structure == "kneaded_gluten"
