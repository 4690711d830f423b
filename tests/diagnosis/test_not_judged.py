"""What cannot be judged is said and fails a check; a number far out is never beside an all-clear."""

from __future__ import annotations

import pytest
from case_files import balanced_names, demo, sound_cases

from advisor import default_advisor, load_knowledge
from advisor.explanation.answering import answer_of
from advisor.formula.reading import read_formula_text

EXAMINER = default_advisor().examiner


def test_an_oven_that_no_model_covers_is_not_judged_and_fails_the_check():
    cold = demo("ordinary-wheat-tin-loaf").with_process(oven_c=60.0)
    found = default_advisor().check(cold)
    assert ["bake"] == [gap.id for gap in found.examination.not_judged]
    assert 1.0 == found.deciding_risk
    said = "".join(map(str, answer_of(found, load_knowledge()).verdict.problem))
    assert "Not judged: whether it bakes through" in said
    assert "Nothing looks wrong" not in said


def test_a_dough_that_nothing_holds_is_not_judged():
    text = "Sweet butter\n200 g butter\n100 g erythritol\n20 g cocoa powder\noven: 175 C for 20 min"
    found = EXAMINER.examine(read_formula_text(text, load_knowledge()), after_bake=False)
    assert "structure" in {gap.id for gap in found.not_judged}
    assert found.no_all_clear


_MUFFINS = "Almond muffins\n200 g almond flour\n4 eggs\n60 g butter\n8 g baking powder\n"
_TIN = "Loaf\n500 g bread flour\n330 g water\n10 g salt\n7 g instant yeast\npan: 23 x 13 x 7 cm\n"


@pytest.mark.parametrize(
    ("text", "doubted"),
    [
        (f"{_TIN}Prove 1 hour, then bake it at 220 C for 3 hours.", True),
        (f"{_TIN}Prove 1 hour.\noven: 220 C for 180 min", False),
        (f"{_TIN}Prove 1 hour, then bake it at 220 C for 45 min.", False),
        (f"{_TIN}Prove 1 hour, then bake it at 120 C for 6 hours.", False),
        (f"{_MUFFINS}Fill 12 cases and bake at 170 C for 110 min.", True),
        (f"{_MUFFINS}Fill 12 cases and bake at 170 C for 30 min.", False),
    ],
)
def test_a_bake_told_too_long_to_be_believed_is_named_at_the_top(text, doubted):
    found = default_advisor().check(read_formula_text(text, load_knowledge()))
    assert doubted == ("bake_told" in {gap.id for gap in found.examination.not_judged})
    said = "".join(map(str, answer_of(found, load_knowledge()).verdict.problem))
    assert doubted == ("Not judged: the bake, as the sentences tell it" in said)


@pytest.mark.parametrize("name", [*balanced_names(), *(case.id for case in sound_cases())])
def test_a_good_formula_is_judged_whole(name):
    texts = {case.id: case.text for case in sound_cases()}
    formula = read_formula_text(texts[name], load_knowledge()) if name in texts else demo(name)
    found = EXAMINER.examine(formula, after_bake=False)
    # A kind without a model for its colour or foam says so; that does not decide.
    assert () == tuple(gap for gap in found.not_judged if gap.decides)
    assert () == found.far_out


@pytest.mark.parametrize("factor", [3.0, 6.0])
def test_a_number_far_out_fails_the_check_whatever_the_risks_say(factor):
    loaf = demo("canteen-sandwich-loaf")
    lines = tuple(
        line if line.ingredient.id != "salt" else type(line)(
            text=line.text, number=line.number, ingredient=line.ingredient, grams=factor * line.grams
        )
        for line in loaf.lines
    )  # fmt: skip
    found = EXAMINER.examine(loaf.with_lines(lines), after_bake=False)
    judged = found.inference.judged["salt_per_100g_water"]
    assert (judged.excess >= load_knowledge().thresholds["out_far"].value) == (
        "salt_per_100g_water" in found.far_out
    )
    assert found.no_all_clear == bool(found.far_out)
