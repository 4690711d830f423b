"""A name that nobody wrote down is counted as its kind, and the reader says so; one that ends in no kind is refused."""

from __future__ import annotations

import pytest

from advisor import default_advisor, load_knowledge
from advisor.formula.faults import FormulaFault
from advisor.formula.reading import read_formula_text

KNOWLEDGE = load_knowledge()
DOUGH = "400 g bread flour\n300 g water\n6 g instant yeast\n8 g salt\n"


@pytest.mark.parametrize(
    ("written", "family"),
    [
        ("heritage zigzag flour", "flours"),
        ("zigzag seed press cake", "flours"),
        ("zigzag protein isolate", "proteins"),
        ("zigzag root gum", "gums"),
        ("zigzag hull fibre", "fibres"),
        ("thermophilic xylanase", "enzymes"),
        ("sourdough fermented with zigzag grains", "gluten_and_flours"),
    ],
)
def test_an_unlisted_name_is_counted_as_its_kind_and_said(written, family):
    formula = read_formula_text(f"{DOUGH}20 g {written}", KNOWLEDGE, name="by kind")
    assert family == formula.lines[-1].ingredient.family
    assert any("not known: counted as" in warning for warning in formula.warnings)


def test_an_ingredient_of_that_name_stands_before_the_kind():
    formula = read_formula_text(f"{DOUGH}40 g stone-rolled heritage oat flour", KNOWLEDGE, name="by kind")
    assert "oat_flour" == formula.lines[-1].ingredient.id


@pytest.mark.parametrize("written", ["zigzag milk", "zigzag", "zigzag flour or meal"])
def test_what_ends_in_no_kind_or_says_two_things_is_refused(written):
    with pytest.raises(FormulaFault):
        read_formula_text(f"{DOUGH}20 g {written}", KNOWLEDGE, name="by kind")


def test_what_acts_like_another_takes_its_influences_by_the_gram():
    def firmness(line):
        formula = read_formula_text(
            f"{DOUGH}{line}\nmix: 8 min as dough\noven: 220 C for 30 min", KNOWLEDGE, name="x"
        )
        return default_advisor().examiner.measured(formula).workings.measures.by_id["crumb_firmness"].value

    plain, like = firmness(""), firmness("2 g polysorbate")
    assert like < 0.95 * plain
    assert (
        firmness("0.5 g polysorbate") == pytest.approx(plain, rel=0.15)
        and firmness("0.5 g polysorbate") > like
    )
