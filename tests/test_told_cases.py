"""Faults of every cause, as a baker would tell them: where a cause is right, and where it is tempting and wrong.

A case marked `known_wrong` must still fail, so that the mark goes as soon as the answer is right.
"""

from __future__ import annotations

from functools import cache

import pytest
from case_files import CASES, entries, sound_cases
from edited_texts import apply_edits, counted, ground_text

from advisor import default_advisor, load_knowledge
from advisor.formula.reading import read_formula_text

TOLD = [case for path in sorted((CASES / "told").glob("*.yaml")) for case in entries(path)]
RIGHT = [case for case in TOLD if case["kind"] == "right"]
TEMPTING = [case for case in TOLD if case["kind"] == "tempting"]
SOUND = {case.id: case.text for case in sound_cases()}


def by_id(cases):
    return [pytest.param(case, id=case["id"]) for case in cases]


@cache
def ranking(case_id: str) -> tuple[tuple[str, float], ...]:
    """Causes in the order of the answer, each with its probability."""
    case = next(c for c in TOLD if c["id"] == case_id)
    ground = SOUND.get(case.get("formula")) or ground_text(case)
    formula = read_formula_text(
        apply_edits(ground, case.get("edits") or []), load_knowledge(), name=case["id"]
    )
    found = default_advisor().examiner.examine(
        formula,
        saw=tuple(case["saw"]),
        not_seen=tuple(case.get("not_seen") or ()),
        answers=case.get("answers"),
        after_bake=True,
    )
    return tuple((rank.id, rank.probability) for rank in found.diagnosis.causes)


def headings(cause: str) -> set[str]:
    """What a cause is a kind of: such a heading stands over it and takes no place of its own."""
    above = set()
    while (parent := load_knowledge().causes[cause].refines) is not None:
        above.add(parent)
        cause = parent
    return above


def kinds(cause: str) -> set[str]:
    """A cause and what is a kind of it: either counts as found."""
    return {cause, *(name for name in load_knowledge().causes if cause in headings(name))}


def place(case, cause: str) -> int:
    """Place of a cause or of a kind of it in the answer, from 1, without the headings that it stands under."""
    order = [name for name, _ in ranking(case["id"]) if name not in headings(cause)]
    return min(order.index(name) for name in kinds(cause)) + 1


def fault(case) -> str | None:
    """Say what does not hold of a case; `None` if all does."""
    top = ", ".join(f"{name} {p:.2f}" for name, p in ranking(case["id"])[:5])
    if case["kind"] == "right":
        most = 1 if case.get("first") else 3
        at = place(case, case["cause"])
        return f"{case['cause']} is number {at}, expected up to {most}: {top}" if at > most else None
    wrong, better = case["not_cause"], case["instead"]
    if ranking(case["id"])[0][0] == wrong:
        return f"{wrong} is first, and it is {better}: {top}"
    if place(case, better) > place(case, wrong):
        return f"{better} is number {place(case, better)}, after {wrong}, number {place(case, wrong)}: {top}"
    return None


def test_every_cause_is_told_once_as_right_and_once_as_tempting():
    causes = set(load_knowledge().causes)
    assert set() == causes - {c["cause"] for c in RIGHT}, "never told as right"
    assert set() == causes - {c["not_cause"] for c in TEMPTING}, "never told as tempting"
    assert 130 <= len(TOLD)
    assert len(TOLD) == len({c["id"] for c in TOLD})


@pytest.mark.parametrize("case", by_id(TOLD))
def test_a_told_case_is_told_in_full(case):
    assert case["kind"] in ("right", "tempting")
    assert 2 <= sum(case["told"].count(mark) for mark in ".?!"), "two sentences at least"
    assert not set(case["saw"]) & set(case.get("not_seen") or ())
    if case["kind"] == "tempting":
        assert case["why_tempting"]
        assert case["not_cause"] != case["instead"]


@pytest.mark.parametrize("case", by_id([c for c in TOLD if "known_wrong" not in c]))
def test_the_answer_is_what_a_baker_would_say(case):
    assert fault(case) is None, fault(case)


@pytest.mark.parametrize("case", by_id([c for c in TOLD if "known_wrong" in c]))
def test_what_is_known_to_be_wrong_is_still_wrong(case):
    assert fault(case) is not None, f"{case['id']} is answered rightly now: take its known_wrong away"


def test_most_told_causes_are_found():
    first = sum(place(c, c["cause"]) == 1 for c in RIGHT)
    third = sum(place(c, c["cause"]) <= 3 for c in RIGHT)
    assert 0.90 * len(RIGHT) <= third, counted(third, len(RIGHT))
    assert 0.75 * len(RIGHT) <= first, counted(first, len(RIGHT))
