"""Bakes go in and come out as they were; what cannot be is refused; what was taken back can be put in again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from kept_bakes import loaf

from advisor.trial_record.bake import Bake, CameOut, Scores, sound
from advisor.trial_record.faults import BakeFault, RecordFault
from advisor.trial_record.record import TrialRecord, Wanted, open_record


def test_a_bake_comes_out_as_it_went_in(tmp_path: Path) -> None:
    with open_record(tmp_path / "r", to_write=True) as record:
        first = record.add(loaf())
        second = record.add(loaf(follows=first.key, followed="cut-water", notes='it\'s 5 % "drier"\n雪 🍞'))
    with open_record(tmp_path / "r", to_write=False) as record:
        assert first == record.bake(1)
        assert second == record.bake(2)
        assert (second, first) == record.latest(10)


def test_two_like_loaves_of_one_day_are_two_bakes(tmp_path: Path) -> None:
    with open_record(tmp_path / "r", to_write=True) as record:
        assert record.add(loaf()).key != record.add(loaf()).key
        assert 2 == record.count()


@pytest.mark.parametrize(
    "wrong",
    [
        {"scores": Scores(crumb=6)},
        {"scores": Scores(taste=0)},
        {"came_out": CameOut(height_cm=-1)},
        {"came_out": CameOut(core_c=300)},
        {"came_out": CameOut(weight_g=float("nan"))},
        {"baked_on": "yesterday"},
        {"baked_on": "2026-13-01"},
        {"formula": " "},
        {"notes": "x" * 20_001},
        {"notes": "\ud800"},
        {"seen": ("flat_loaf",), "absent": ("flat_loaf",)},
    ],
    ids=str,
)
def test_what_cannot_be_is_refused_and_nothing_kept(wrong: dict[str, object], tmp_path: Path) -> None:
    with open_record(tmp_path / "r", to_write=True) as record:
        with pytest.raises(BakeFault):
            record.add(replace(loaf(), **wrong))  # type: ignore[arg-type]
        assert 0 == record.count()


def test_a_bake_that_follows_none_here_is_refused_whole(tmp_path: Path) -> None:
    with open_record(tmp_path / "r", to_write=True) as record:
        with pytest.raises(RecordFault, match="which another one follows, is not here"):
            record.add(loaf(follows="nobody"))
        assert () == record.latest(5)


def test_taking_back_hides_a_bake_and_undoing_it_brings_it_back(tmp_path: Path) -> None:
    with open_record(tmp_path / "r", to_write=True) as record:
        kept = record.add(loaf())
        last = record.add(loaf(notes="second", follows=kept.key))
        assert last == record.take_back()
        assert (kept,) == record.latest(5)
        assert record.take_back(last.number) is None
        assert last == record.take_back(last.number, back=False)
        assert 2 == record.count()
        record.take_back(kept.number)
        assert [None] == [bake.follows for bake in record.everything()]


@pytest.mark.parametrize("number", [0, -1, 2, 2**63, -(10**30)])
def test_no_number_however_long_is_more_than_a_bake_that_is_not_there(number: int, tmp_path: Path) -> None:
    with open_record(tmp_path / "r", to_write=True) as record:
        kept = record.add(loaf())
        assert record.bake(number) is None
        assert record.take_back(number) is None
        assert record.take_back(number, back=False) is None
        assert (kept,) == record.everything()


@pytest.mark.parametrize(
    ("ask", "says"),
    [
        (lambda record: record.add(loaf(lots={"water": "L\udcff"})), "lots: is no plain text"),
        (lambda record: record.add_all([loaf(lots={"water": "L\udcff"}).keyed()]), "lots: is no plain text"),
        (lambda record: record.find(Wanted(words=("\udcff",)), 10), "holds half a letter"),
        (lambda record: record.count("\udcff"), "holds half a letter"),
    ],
)
def test_half_a_letter_as_a_terminal_may_give_it_is_refused_plainly(
    ask: Callable[[TrialRecord], object], says: str, tmp_path: Path
) -> None:
    with open_record(tmp_path / "r", to_write=True) as record:
        with pytest.raises((BakeFault, RecordFault), match=says):
            ask(record)
        assert 0 == record.count()


def test_finding_by_word_symptom_change_and_day(tmp_path: Path) -> None:
    with open_record(tmp_path / "r", to_write=True) as record:
        a = record.add(loaf(baked_on="2026-05-01", notes="100% rye"))
        b = record.add(
            loaf(baked_on="2026-05-02T10:30", seen=("dense_crumb",), follows=a.key, followed="cut-water")
        )
        found: dict[str, Wanted] = {
            "100%": Wanted(words=("100%",)),
            "dense": Wanted(words=("dense crumb",)),
            "lot": Wanted(words=("l-77",)),
            "ingredient and note": Wanted(words=("WATER", "rye")),
            "saw": Wanted(saw=("gummy_centre",)),
            "followed": Wanted(followed="cut-water"),
            "until": Wanted(until="2026-05-01"),
            "on the day": Wanted(since="2026-05-02", until="2026-05-02"),
            "percent sign is no wildcard": Wanted(words=("1%rye",)),
        }
        expected: dict[str, tuple[Bake, ...]] = {
            "100%": (a,), "dense": (b,), "lot": (b, a), "ingredient and note": (a,), "saw": (a,), "followed": (b,),
            "until": (a,), "on the day": (b,), "percent sign is no wildcard": (),
        }  # fmt: skip
        assert expected == {name: record.find(wanted, 10) for name, wanted in found.items()}


def test_the_best_bake_is_that_of_the_highest_mean_and_later_of_two_alike(tmp_path: Path) -> None:
    with open_record(tmp_path / "r", to_write=True) as record:
        record.add(loaf(scores=Scores(crumb=5, taste=3)))
        later = record.add(loaf(scores=Scores(crumb=4), baked_on="2026-06-01"))
        record.add(loaf(scores=Scores(crumb=3, volume=4)))
        record.add(loaf(scores=Scores()))
        record.add(loaf(formula="Another", scores=Scores(crumb=5)))
        assert later == record.best("TEST LOAF")
        assert record.best("nothing") is None


def test_symptoms_are_kept_in_order_and_empty_texts_as_none() -> None:
    clean = sound(loaf(seen=("b", "a", "b"), notes="", lots={"water": ""}))
    assert (("a", "b"), None, {}) == (clean.seen, clean.notes, clean.lots)
