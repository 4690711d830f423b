"""What the baker says outright leads, over what figures of the formula as written make unlikely."""

from __future__ import annotations

import pytest

from advisor import read_formula
from advisor.diagnosis.told_evidence import rules_of_answers, told_over_figures
from advisor.inference.situation import Suspicion
from advisor.remedy.assessing import Advisor

FOAM = """Egg foam slab
5 eggs, separated
60 g cream cheese
20 g oat fibre
2 g salt
beat the yolks with the cheese, whisk the whites, bring together
oven: 160 C for 40 min
"""
TIN = """Weekday tin
500 g bread flour
330 g water
9 g salt
6 g instant yeast
pan: 23 x 12 x 8 cm
mix: 10 min
proof: 60 min at 26 C
oven: 200 C for 40 min
"""


def said(evidence: str, rule: str = "r", cause: str = "oven_too_hot") -> Suspicion:
    return Suspicion(cause=cause, rule=rule, evidence=evidence, group=rule, excess=1.0, depth=1.0)


def test_figures_do_not_speak_against_what_an_answer_tells() -> None:
    told, figures, other = said("told", "answered"), said("against", "figures"), said("against", "answered-2")
    answered = {"answered", "answered-2"}
    assert told_over_figures([told, figures, other], answered) == (told, other)
    assert told_over_figures([figures, other], answered) == (figures, other)
    assert told_over_figures([said("strong", "answered"), figures], answered)[1] == figures
    out = said("rules_out", "none-of-it")
    assert told_over_figures([told, out], answered) == (told, out)


def test_only_rules_that_need_an_answer_are_answered(advisor: Advisor) -> None:
    names = rules_of_answers(advisor.examiner.knowledge.rules.values())
    assert "oven-hotter-than-dial" in names
    assert "crust-not-burnt" not in names
    assert "no-whites-to-whip" not in names  # it denies an answer, and needs none


@pytest.mark.parametrize(
    ("text", "saw", "answers", "cause"),
    [
        (FOAM, ("dense_crumb", "eggy_taste"), {"whites_stood": "soft"}, "whites_not_whipped"),
        (FOAM, ("flat_loaf", "gummy_base"), {"whites_folded": "stirred"}, "foam_lost"),
        (TIN, ("dark_crust", "gummy_centre"), {"oven_checked": "hotter"}, "oven_too_hot"),
        (TIN, ("flat_loaf", "dense_crumb"), {"yeast_test": "flat"}, "inactive_yeast"),
        (TIN, ("dense_crumb", "slow_proof"), {"dough_felt": "cold"}, "dough_too_cold"),
    ],
)
def test_a_stated_fault_is_the_first_cause(
    text: str, saw: tuple[str, ...], answers: dict[str, str], cause: str, advisor: Advisor
) -> None:
    found = advisor.examiner.examine(read_formula(text), saw=saw, answers=answers)
    assert found.diagnosis.causes[0].id == cause


def test_what_is_told_stands_before_what_is_as_likely_and_explains_more(advisor: Advisor) -> None:
    text = FOAM.replace("40 min", "18 min")
    saw = ("eggy_taste", "collapse_on_cooling", "gummy_centre")
    found = advisor.examiner.examine(read_formula(text), saw=saw, answers={"whites_stood": "soft"})
    assert found.diagnosis.causes[0].id == "whites_not_whipped"


@pytest.mark.parametrize(
    ("text", "saw", "cause"),
    [
        (
            "Fig muffins\n220 g plain flour\n90 g sugar\n2 eggs\n180 g milk\n70 g butter, melted\n9 g baking powder\n"
            "3 g salt\nmix: 6 min\noven: 190 C for 20 min\n",
            ("peaked_top", "rubbery_chew"),
            "overmixed",
        ),
        (
            "Loaf of gluten\n180 g vital wheat gluten\n70 g oat fibre\n40 g almond flour\n6 g salt\n8 g instant yeast\n"
            "8 g sugar\n2 eggs\n230 g water\nmix: 16 min\nproof: 60 min at 28 C\noven: 180 C for 45 min\n",
            ("rubbery_chew", "dough_tears"),
            "overmixed",
        ),
    ],
)
def test_too_long_in_the_mixer_goes_by_what_is_mixed(
    text: str, saw: tuple[str, ...], cause: str, advisor: Advisor
) -> None:
    found = advisor.examiner.examine(read_formula(text), saw=saw)
    assert cause in {rank.id for rank in found.diagnosis.causes[:3]}
