"""A loaf without its formula: what it was told to be counts, and what nobody told does not."""

from __future__ import annotations

import pytest

from advisor.diagnosis.asking import QuestionChooser
from advisor.diagnosis.described_loaf import LoafExaminer, LoafKind, RaisedBy
from advisor.remedy.assessing import Advisor
from advisor.remedy.levers.directions import directions_for


def loaf(advisor: Advisor, raised_by: RaisedBy = "powder", carried_by: str = "egg_set") -> LoafExaminer:
    kind = LoafKind(carried_by=carried_by, raised_by=raised_by, shape="tin")
    return LoafExaminer(advisor.examiner, kind)


def test_the_structure_is_the_one_told_whatever_stands_in_for_the_dough(advisor: Advisor) -> None:
    for structure in advisor.knowledge.structures:
        examiner = loaf(advisor, carried_by=structure)
        assert structure == examiner.examine(examiner.loaf, saw=["gummy_centre"]).structure


def test_no_measure_is_judged_and_no_rule_on_an_amount_speaks(advisor: Advisor) -> None:
    examiner = loaf(advisor)
    found = examiner.examine(examiner.loaf, saw=["gummy_centre"])
    assert {} == dict(found.inference.judged)
    read = {name for firing in found.inference.firings for kind, name in firing.premises if kind == "measure"}
    assert read <= {"dough_g"}


def test_yeast_is_no_cause_where_none_was_told(advisor: Advisor) -> None:
    without, with_yeast = (
        examiner.examine(examiner.loaf, saw=["flat_loaf"]).diagnosis.own["inactive_yeast"]
        for examiner in (loaf(advisor, "powder"), loaf(advisor, "yeast"))
    )
    assert without < 0.01 < with_yeast


def test_an_answer_moves_the_causes(advisor: Advisor) -> None:
    examiner = loaf(advisor)
    before = examiner.examine(examiner.loaf, saw=["collapse_in_oven"]).diagnosis.own
    answers = {"door_opened": "before_set"}
    after = examiner.examine(examiner.loaf, saw=["collapse_in_oven"], answers=answers).diagnosis.own
    assert before["disturbed_before_set"] < 0.5 < after["disturbed_before_set"]


def test_there_is_something_to_ask(advisor: Advisor) -> None:
    examiner = loaf(advisor)
    found = examiner.examine(examiner.loaf, saw=["collapse_in_oven"])
    assert QuestionChooser(examiner).choose(found) is not None


def test_an_unknown_structure_is_refused(advisor: Advisor) -> None:
    with pytest.raises(KeyError, match="no structure 'granite'"):
        loaf(advisor, carried_by="granite")


def test_directions_are_one_a_cause_and_none_on_what_is_not_in_it(advisor: Advisor) -> None:
    examiner = loaf(advisor)
    found = examiner.examine(examiner.loaf, saw=["collapse_in_oven"])
    ways = directions_for(found, advisor.knowledge, pan_kind="tin", without={"yeast"})
    assert ways
    assert len(ways) == len({way.cause for way in ways})
    turned = {advisor.knowledge.levers[way.lever].turn.ingredient_role for way in ways}
    assert "yeast" not in turned
