"""Where the formula does not explain what was seen it is asked how the loaf was made, and the answers name the slip."""

from __future__ import annotations

import pytest
from case_files import demo

from advisor import default_advisor, load_knowledge
from advisor.diagnosis.asking import QuestionChooser
from advisor.diagnosis.described_loaf import LoafExaminer, LoafKind
from advisor.diagnosis.hand_slips import answer_ratio, hand_slips
from advisor.diagnosis.slip_questions import AMOUNT, HOW_MUCH, rank_slip_questions

EXAMINER = default_advisor().examiner
SEEN = ("weak_aroma", "coarse_holes")


@pytest.fixture(scope="module")
def chooser() -> QuestionChooser:
    return QuestionChooser(EXAMINER)


def look(name: str, saw: tuple[str, ...] = SEEN, **answers: str):
    return EXAMINER.examine(demo(name), saw=saw, answers=answers, after_bake=True)


def test_a_sound_formula_is_asked_how_it_was_made_and_the_answers_name_the_slip(chooser):
    told: dict[str, str] = {}
    truth = {AMOUNT: "salt", HOW_MUCH: "nothing"}
    for _ in range(6):
        asked = chooser.choose(look("ordinary-wheat-tin-loaf", **told), skipped=told)
        if asked is None or HOW_MUCH in told:
            break
        fine = load_knowledge().questions[asked.id].fine if asked.kind == "question" else ()
        told[asked.id] = truth.get(asked.id) or fine[0]
    assert told.keys() >= truth.keys()
    found = look("ordinary-wheat-tin-loaf", **told)
    first = hand_slips(EXAMINER, found).suspects[0]
    assert ("left_out", "salt") == (first.id, found.formula.lines[first.line or 0].ingredient.id)


def test_how_much_is_asked_only_of_an_amount_that_was_found():
    hand = hand_slips(EXAMINER, look("ordinary-wheat-tin-loaf"))
    knowledge = load_knowledge()
    before = {w.id for w in rank_slip_questions(hand, knowledge, (), amount_found=False)}
    after = {w.id for w in rank_slip_questions(hand, knowledge, {AMOUNT}, amount_found=True)}
    assert (False, True) == (HOW_MUCH in before, HOW_MUCH in after)
    assert all(w.gain >= -1e-9 for w in rank_slip_questions(hand, knowledge, (), amount_found=True))


def test_a_formula_that_explains_what_was_seen_is_not_doubted(chooser):
    found = look("canteen-sandwich-loaf-excess-water", ("gummy_centre", "collapse_on_cooling"))
    assert chooser.choose_of_making(found) is None


def test_a_loaf_without_its_formula_cannot_differ_from_it():
    loaf = LoafExaminer(EXAMINER, LoafKind(carried_by="egg_set", raised_by="powder", shape="tin"))
    found = loaf.examine(loaf.loaf, saw=("flat_loaf",), after_bake=True)
    assert QuestionChooser(loaf).choose_of_making(found) is None


def test_an_answer_speaks_for_the_slip_that_it_tells_and_against_it_where_all_was_as_written():
    knowledge, told_by = load_knowledge(), {"oven_checked": ("cooler",)}
    ratios = [
        answer_ratio(told_by, {"oven_checked": a}, knowledge)
        for a in ("cooler", "true_to_dial", "not_checked")
    ]
    assert ratios[0] > 10
    assert ratios[1] < 0.2
    assert 1.0 == answer_ratio(told_by, {}, knowledge)


def test_every_answer_that_tells_a_slip_is_an_answer_to_its_question():
    knowledge = load_knowledge()
    parts = {*knowledge.weighed_parts, "other"}
    for slip in knowledge.hand_slips.values():
        for question, answers in slip.told_by.items():
            known = knowledge.questions[question].answers
            assert {a for a in answers if a != "its_part"} <= known.keys(), slip.id
    assert parts | {"as_written"} == set(knowledge.questions[AMOUNT].answers)
    assert {
        c for p in knowledge.weighed_parts.values() for c in (*p.more, *p.less)
    } <= knowledge.causes.keys()
