"""Whatever is done to a record, and in whatever order, it holds what a plain list of bakes would hold.

Hypothesis draws the bakes and the steps. After every step each open handle is laid against the list, and the rows in
the file are counted.
"""

from __future__ import annotations

import contextlib
import io
import os
import sqlite3
import tempfile
from collections import Counter
from collections.abc import Callable
from contextlib import ExitStack, closing
from dataclasses import dataclass, replace
from pathlib import Path
from string import ascii_lowercase, ascii_uppercase

import pytest
from drawn_bakes import NAMES, SINGLY, WANTED, WRONG, as_kept, bakes
from hypothesis import Phase
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)
from laws import examples

from advisor.interface.commands.command_line import main
from advisor.trial_record.bake import Bake
from advisor.trial_record.faults import BakeFault, RecordFault
from advisor.trial_record.record import TrialRecord, Wanted, open_record
from advisor.trial_record.written_out import from_csv, from_yaml, to_csv, to_yaml

MANY = 1000
# Every change waits for the disk, which takes most of the time; what a kill leaves there is tested elsewhere.
IN_MEMORY = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None
FORMS: dict[str, tuple[Callable[..., str], Callable[..., tuple[Bake, ...]]]] = {
    "yaml": (to_yaml, from_yaml),
    "csv": (to_csv, from_csv),
}
PLACES = st.integers(0, 9)
# No other letters are the same in capitals to the record.
SMALL = str.maketrans(ascii_uppercase, ascii_lowercase)


def fold(text: str | None) -> str:
    return (text or "").translate(SMALL)


def holds(bake: Bake, word: str) -> bool:
    texts = [bake.formula, bake.notes, bake.baked_on, bake.followed, *bake.lots.values()]
    texts += [amount.name for amount in bake.amounts]
    symptom = fold(word).replace(" ", "_").replace("-", "_")
    return any(fold(word) in fold(text) for text in texts) or any(symptom in name for name in bake.seen)


def answers(bake: Bake, wanted: Wanted) -> bool:
    return (
        all(holds(bake, word) for word in wanted.words)
        and set(wanted.saw) <= set(bake.seen)
        and wanted.followed in (None, bake.followed)
        and (wanted.since or "") <= bake.baked_on
        and (wanted.until is None or bake.baked_on <= wanted.until or bake.baked_on.startswith(wanted.until))
    )


def day(bake: Bake) -> tuple[str, int]:
    return bake.baked_on, bake.number


@dataclass
class Line:
    """A bake that was put in, and whether it was not taken back since."""

    bake: Bake
    here: bool = True


class RecordInAnyOrder(RuleBasedStateMachine):
    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory(dir=IN_MEMORY)
        self.path = Path(self.folder.name) / "record"
        self.lines: list[Line] = []
        self.first, self.second = ExitStack(), ExitStack()
        self.hands: list[TrialRecord] = []
        self.open_first()

    def teardown(self) -> None:
        self.second.close()
        self.first.close()
        self.folder.cleanup()

    def open_first(self) -> None:
        self.hands = [self.first.enter_context(open_record(self.path, to_write=True))]

    def hand(self, which: int) -> TrialRecord:
        return self.hands[which % len(self.hands)]

    def number(self, place: int) -> int:
        return place % len(self.lines) + 1

    def shown(self) -> list[Bake]:
        return [line.bake for line in self.lines if line.here]

    def latest_first(self) -> list[Bake]:
        return sorted(self.shown(), key=day, reverse=True)

    def carried(self) -> list[Bake]:
        """The bakes as an export has them: without what was taken back, nor word that they follow it."""
        keys = {bake.key for bake in self.shown()}
        return [b if b.follows in keys else replace(b, follows=None) for b in self.shown()]

    def expect_put_in(self, bake: Bake) -> None:
        self.lines.append(Line(replace(bake, number=len(self.lines) + 1)))

    @initialize(first=bakes(), later=st.lists(bakes(), min_size=1, max_size=4))
    def begin_with_a_bake_and_some_that_follow_it(self, first: Bake, later: list[Bake]) -> None:
        self.add(first, None, 0)
        for bake in later:
            self.add(bake, 0, 0)

    @rule(bake=bakes(), follows=st.none() | PLACES, which=PLACES)
    def add(self, bake: Bake, follows: int | None, which: int) -> None:
        if follows is not None:
            bake = replace(bake, follows=self.lines[self.number(follows) - 1].bake.key)
        added = self.hand(which).add(bake)
        assert added.key not in {"", *(line.bake.key for line in self.lines)}
        self.expect_put_in(replace(as_kept(bake), key=added.key))
        assert self.lines[-1].bake == added

    @rule(place=PLACES, which=PLACES)
    def add_the_like_again(self, place: int, which: int) -> None:
        self.add(self.lines[self.number(place) - 1].bake, None, which)

    @rule(bake=bakes(), wrong=st.sampled_from(WRONG), which=PLACES)
    def what_cannot_be_is_refused(self, bake: Bake, wrong: dict[str, object], which: int) -> None:
        with pytest.raises(BakeFault):
            self.hand(which).add(replace(bake, **wrong))  # type: ignore[arg-type]
        # A lone bake and the last of an import that is good up to there.
        nobody = replace(bake, follows="nobody", formula="Never kept", notes="last").keyed()
        with pytest.raises(RecordFault, match="the bake nobody, which another one follows, is not here"):
            self.hand(which).add(nobody)
        for bad, fault in ((nobody, RecordFault), (replace(nobody, **wrong), BakeFault)):  # type: ignore[arg-type]
            with pytest.raises(fault):
                self.hand(which).add_all([replace(bake, formula="Never kept").keyed(), bad])

    @rule(place=st.none() | PLACES, which=PLACES)
    def take_back(self, place: int | None, which: int) -> None:
        self.moved(place, which, back=True)

    @rule(place=st.none() | PLACES, which=PLACES)
    def put_in_again(self, place: int | None, which: int) -> None:
        self.moved(place, which, back=False)

    def moved(self, place: int | None, which: int, *, back: bool) -> None:
        number = None if place is None else self.number(place)
        can = [line for line in self.lines if line.here == back and number in (None, line.bake.number)]
        assert (can[-1].bake if can else None) == self.hand(which).take_back(number, back=back)
        if can:
            can[-1].here = not back
        # What a record gives out comes in again where it is from, and doubles nothing.
        for write, read in FORMS.values():
            there = read(write(self.hand(which).everything()), "here")
            assert (0, len(self.shown())) == self.hand(which).add_all(there)

    @rule(beyond=st.sampled_from([1, 7, 2**63, 10**30]), which=PLACES, undo=st.booleans())
    def take_back_what_is_not_there(self, beyond: int, which: int, undo: bool) -> None:
        number = len(self.lines) + beyond
        assert self.hand(which).take_back(number, back=not undo) is None
        said = io.StringIO()
        with contextlib.redirect_stderr(said):
            left = main(["record", "take-back", str(number), "--record", str(self.path), *["--undo"] * undo])
        assert (1, "advisor: there is no such bake\n") == (left, said.getvalue())
        assert self.hand(which).bake(number) is None
        assert self.hand(which).bake(-number) is None

    @rule(place=PLACES, which=PLACES, many=st.integers(1, 5))
    def show_one_and_list_a_few(self, place: int, which: int, many: int) -> None:
        line = self.lines[self.number(place) - 1]
        expected = line.bake if line.here else None
        assert expected == self.hand(which).bake(line.bake.number) == self.hand(which).with_key(line.bake.key)
        assert self.latest_first()[:many] == list(self.hand(which).latest(many))

    @rule(several=st.lists(WANTED, min_size=1, max_size=4), which=PLACES)
    def find_and_look_over_time(self, several: list[Wanted], which: int) -> None:
        record = self.hand(which)
        for wanted in (*several, *SINGLY):
            expected = [bake for bake in self.latest_first() if answers(bake, wanted)]
            assert expected == list(record.find(wanted, MANY))
        for name in NAMES:
            ours = [bake for bake in self.latest_first() if fold(bake.formula) == fold(name)]
            marked = [bake for bake in ours if bake.scores.mean is not None]
            best = max(marked, key=lambda bake: (round(bake.scores.mean or 0, 9), *day(bake)), default=None)
            assert (len(ours), best) == (record.count(name), record.best(name))
            assert ours == list(record.latest(MANY, formula=name))

    @rule(form=st.sampled_from(sorted(FORMS)), which=PLACES)
    def carry_over_to_a_fresh_record(self, form: str, which: int) -> None:
        write, read = FORMS[form]
        text = write(self.hand(which).everything())
        expected = [replace(bake, number=place) for place, bake in enumerate(self.carried(), 1)]
        with tempfile.TemporaryDirectory(dir=IN_MEMORY) as fresh:
            with open_record(Path(fresh) / "copy", to_write=True) as copy:
                assert (len(expected), 0) == copy.add_all(read(text, "here"))
                assert (0, len(expected)) == copy.add_all(read(text, "here"))
            with open_record(Path(fresh) / "copy", to_write=False) as copy:
                assert expected == list(copy.everything())
                assert text == write(copy.everything())

    @rule(others=st.lists(bakes(), max_size=3), form=st.sampled_from(sorted(FORMS)), which=PLACES)
    def take_in_from_another_kitchen(self, others: list[Bake], form: str, which: int) -> None:
        write, read = FORMS[form]
        coming = [as_kept(bake).keyed() for bake in others] * 2
        before = len(self.lines)
        for bake in coming:
            if bake.key not in {line.bake.key for line in self.lines}:
                self.expect_put_in(bake)
        new = len(self.lines) - before
        assert (new, len(coming) - new) == self.hand(which).add_all(read(write(coming), "here"))

    @rule(other=bakes(), place=PLACES, which=PLACES)
    def one_that_differs_stops_the_whole_import(self, other: Bake, place: int, which: int) -> None:
        kept = self.lines[self.number(place) - 1].bake
        differs = replace(kept, photo=f"{kept.photo} otherwise")
        with pytest.raises(RecordFault, match="is here already and differs; nothing was taken in"):
            self.hand(which).add_all([replace(other, formula="Never kept").keyed(), differs])

    @precondition(lambda self: len(self.hands) == 1)
    @rule(to_write=st.booleans())
    def open_by_a_second_hand(self, to_write: bool) -> None:
        self.hands.append(self.second.enter_context(open_record(self.path, to_write=to_write)))

    @rule()
    def close_and_open_again(self) -> None:
        self.second.close()
        self.first.close()
        assert [self.path] == list(self.path.parent.iterdir()), "what is not in the record lies beside it"
        self.open_first()

    @invariant()
    def every_hand_sees_what_the_list_holds(self) -> None:
        latest, by_key = self.latest_first(), {bake.key: bake for bake in self.shown()}
        names = Counter(fold(bake.formula) for bake in latest)
        teaching = [
            (bake, by_key.get(bake.follows or ""))
            for bake in reversed(latest)
            if bake.followed or (bake.foreseen and bake.foreseen.oven_offset_c is not None)
        ]
        for record in self.hands:
            assert self.carried() == list(record.everything())
            assert latest == list(record.latest(MANY))
            assert len(latest) == record.count()
            assert teaching == list(record.teaching())
            assert sorted(names.items(), key=lambda item: (-item[1], item[0])) == [
                (fold(name), count) for name, count in record.formulas()
            ]

    @invariant()
    def no_row_is_lost_or_left_over(self) -> None:
        kept = [line.bake for line in self.lines]
        foreseen = [bake.foreseen for bake in kept if bake.foreseen is not None]
        formulas = {(bake.formula, bake.formula_text) for bake in kept}
        expected = {
            "bake": len(kept),
            "bake WHERE taken_back": len(kept) - len(self.shown()),
            "bake WHERE follows": sum(bake.follows is not None for bake in kept),
            "symptom": sum(len(bake.seen) + len(bake.absent) for bake in kept),
            "lot": sum(len(bake.lots) for bake in kept),
            "foreseen": len(foreseen),
            "foreseen_risk": sum(len(one.risk) for one in foreseen),
            "version": len(formulas),
            "amount": 2 * len(formulas),
            "step": 2 * len(formulas),
        }
        with closing(sqlite3.connect(self.path)) as file:
            assert expected == {
                rows: file.execute(f"SELECT count(*) FROM {rows}").fetchone()[0] for rows in expected
            }
            assert [] == file.execute("PRAGMA foreign_key_check").fetchall()
            assert [("ok",)] == file.execute("PRAGMA integrity_check").fetchall()


@pytest.mark.hypothesis
def test_the_record_is_a_list_of_bakes_whatever_is_done_to_it_in_whatever_order() -> None:
    run_state_machine_as_test(
        RecordInAnyOrder,
        # Looking for fewer steps would take minutes.
        settings=examples(24, stateful_step_count=25, phases=[Phase.explicit, Phase.generate]),
    )
