"""Records that are damaged or made to harm: what can be read is read, the rest is named in one line, nothing hangs."""

from __future__ import annotations

import random
import sqlite3
import time
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from kept_bakes import loaf

from advisor.interface.commands.command_line import main
from advisor.trial_record import faults, opening
from advisor.trial_record.bake import LONGEST, Amount, Bake, Scores
from advisor.trial_record.faults import BakeFault, RecordFault
from advisor.trial_record.mending import mend
from advisor.trial_record.record import open_record
from advisor.trial_record.rows import TEXTS

READING = (
    ("list",), ("show", "2"), ("over-time", "Loaf 1"), ("find", "Loaf"), ("export",), ("learned",),
)  # fmt: skip
WRITING = (("add", "canteen-sandwich-loaf"), ("take-back",), ("take-back", "1"))
TORN = "CAST(x'61ff62c328' AS TEXT)"


def bakes() -> list[Bake]:
    """Three bakes of three formulas, the third after the second."""
    made = [
        loaf(formula=f"Loaf {n}", notes=f"note {n}", followed="cut-water", scores=Scores(crumb=n)).keyed(n)
        for n in (1, 2, 3)
    ]
    return [*made[:2], replace(made[2], follows=made[1].key)]


@pytest.fixture
def place(tmp_path: Path) -> Path:
    with open_record(tmp_path / "r.sqlite3", to_write=True) as record:
        record.add_all(bakes())
    return tmp_path / "r.sqlite3"


def spoil(path: Path, *statements: str) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        file.execute("PRAGMA foreign_keys = OFF")
        file.execute("PRAGMA ignore_check_constraints = ON")
        for statement in statements:
            file.execute(statement)


def run(capsys: pytest.CaptureFixture[str], path: Path, *words: str) -> tuple[int, str, str]:
    try:
        code = main(["record", *words, "--record", str(path)])
    except SystemExit as left:
        code = int(str(left.code))
    said = capsys.readouterr()
    return code, said.out, said.err


SECOND = {"version": "id = 2", "amount": "version = 2 AND place = 1", "step": "version = 2 AND place = 0"}
COLUMNS = [(table, column) for table, names in TEXTS.items() for column in names]


@pytest.mark.parametrize(("table", "column"), COLUMNS, ids=lambda name: name)
def test_a_text_that_is_none_names_its_bake_on_every_verb_and_leaves_the_others(
    table: str, column: str, place: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    where = SECOND.get(table, "id = 2" if table == "bake" else "bake = 2")
    if table in ("symptom", "foreseen_risk"):
        where += " AND symptom = 'flat_loaf'"
    spoil(place, f"UPDATE {table} SET {column} = {TORN} WHERE {where}")
    for words in READING:
        code, out, err = run(capsys, place, *words)
        assert (2, 1) == (code, len(err.splitlines())), (words, err)
        assert "1 bake is damaged: 2 (" in err
        assert "record mend" in err
        if words[0] in ("list", "find", "export"):
            assert ("Loaf 1" in out, "Loaf 2" in out, "Loaf 3" in out) == (True, False, True), words
    before = place.read_bytes()
    for words in WRITING:
        code, out, err = run(capsys, place, *words)
        assert (2, "", 1) == (code, out, len(err.splitlines())), words
    assert before == place.read_bytes()
    new = tmp_path / "new.sqlite3"
    code, out, err = run(capsys, place, "mend", str(new))
    assert (0, "") == (code, err)
    assert "3 bakes written to" in out
    assert "bake 2 without its" in out or column == "digest"
    assert (2, 1) == (run(capsys, place, "mend", str(new))[0], 1)  # never over a file that stands
    with open_record(new, to_write=True) as record:
        found = record.everything()
        assert [1, 2, 3] == [bake.number for bake in found]
        assert found[0].same_as(bakes()[0])
        assert () == record.damaged
        assert 4 == record.add(loaf()).number


@pytest.mark.parametrize(
    ("statement", "says"),
    [
        ("UPDATE amount SET grams = 900 WHERE version = 2 AND place = 0", "not as it was kept"),
        ("UPDATE version SET text = text || '9' WHERE id = 2", "not as it was kept"),
        ("UPDATE version SET text = x'00ff' WHERE id = 2", "text"),
        ("UPDATE amount SET grams = 9e999 WHERE version = 2", "amount"),
        ("UPDATE bake SET notes = 7.5 WHERE id = 2", None),
        ("UPDATE bake SET height_cm = 'tall' WHERE id = 2", "height_cm"),
        ("UPDATE bake SET core_c = 1e15 WHERE id = 2", "core_c"),
        ("UPDATE bake SET crumb = 77 WHERE id = 2", "crumb"),
        ("UPDATE bake SET baked_on = 'someday' WHERE id = 2", "date"),
        ("UPDATE bake SET version = 99 WHERE id = 2", "formula"),
        ("UPDATE foreseen SET efficacy = 3 WHERE bake = 2", "no probability"),
    ],
)
def test_a_value_that_cannot_be_is_told(
    statement: str, says: str | None, place: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    spoil(place, statement)
    code, out, err = run(capsys, place, "list")
    if says is None:  # the column makes a text of it
        assert (0, "") == (code, err)
        return
    assert (2, 1) == (code, len(err.splitlines()))
    assert "damaged: 2 (" in err
    assert says in err
    assert "Loaf 3" in out
    mended = mend(place, tmp_path / "new")
    assert 2 in {one.number for one in (*mended.lacking, *mended.lost)}
    with open_record(tmp_path / "new", to_write=True) as record:
        assert {1, 3} <= {bake.number for bake in record.everything()}


def test_bytes_flipped_anywhere_give_the_same_bakes_or_a_line(
    place: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    raw, chance = place.read_bytes(), random.Random(20261130)
    told = {"whole": 0, "damaged": 0}
    kept = {bake.key: bake for bake in bakes()}
    for run_number in range(60):
        path = tmp_path / f"{run_number}"
        spoilt = bytearray(raw)
        for _ in range(chance.choice([1, 1, 3, 40])):
            spoilt[chance.randrange(len(spoilt))] ^= 1 << chance.randrange(8)
        path.write_bytes(bytes(spoilt))
        code, _, err = run(capsys, path, "export")
        assert code in (0, 1, 2), err
        assert len(err.splitlines()) <= 3
        assert all(len(line) < 1200 for line in err.splitlines())
        told["damaged" if code else "whole"] += 1
        try:
            mended = mend(path, tmp_path / f"{run_number}-new")
        except RecordFault as fault:
            assert "\n" not in str(fault)
            continue
        with open_record(tmp_path / f"{run_number}-new", to_write=False) as record:
            assert () == record.damaged
            named = {one.number for one in (*mended.lacking, *mended.lost)}
            for bake in record.everything():
                if bake.number not in named and bake.key in kept:
                    # What was flipped in a note or a number, and can be, nobody sees; a formula is never another.
                    assert (bake.formula_text, bake.amounts) == (
                        kept[bake.key].formula_text,
                        kept[bake.key].amounts,
                    )
    assert min(told.values()) > 5


def test_a_torn_table_is_mended_bake_by_bake(tmp_path: Path) -> None:
    path = tmp_path / "r"
    with open_record(path, to_write=True) as record:
        record.add_all(loaf(formula=f"Loaf {n}", notes=str(n) * 900).keyed() for n in range(40))
        record.take_back(7)
    raw = bytearray(path.read_bytes())
    middle = raw.index(b"\x32\x30" * 300)  # the note of bake 21, in its page
    raw[middle - middle % 4096 : middle - middle % 4096 + 100] = b"\xa5" * 100
    path.write_bytes(bytes(raw))
    with pytest.raises(RecordFault, match="record mend"), open_record(path, to_write=False):
        pass
    mended = mend(path, tmp_path / "new")
    assert 20 < mended.kept < 40
    assert 40 - mended.kept == len(mended.lost)
    assert 21 in {one.number for one in mended.lost}
    with open_record(tmp_path / "new", to_write=False) as record:
        assert mended.kept - 1 == len(record.everything())  # the one taken back stays so
        assert all(f"Loaf {bake.number - 1}" == bake.formula for bake in record.everything())
    assert bytes(raw) == path.read_bytes()


ENDLESS = "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT i FROM n"
HARMFUL: dict[str, Sequence[str]] = {
    "trigger": ("CREATE TRIGGER wipe AFTER INSERT ON bake BEGIN DELETE FROM symptom; DELETE FROM lot; END",),
    "view beside": (f"CREATE VIEW more AS {ENDLESS}",),
    "view in a table's place": (
        "ALTER TABLE lot RENAME TO lots",
        f"CREATE VIEW lot AS SELECT i AS bake, 'a' AS ingredient, 'b' AS lot FROM ({ENDLESS})",
    ),
    "a column worked out": ("ALTER TABLE bake ADD COLUMN worse TEXT AS (hex(zeroblob(100000000))) VIRTUAL",),
    "an index worked out": ("CREATE INDEX odd ON bake (upper(notes))",),
    "another table": ("CREATE TABLE mine (x)",),
}


@pytest.mark.parametrize("how", HARMFUL)
def test_what_no_record_has_can_neither_run_nor_be_read(
    how: str, place: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    spoil(place, *HARMFUL[how])
    before = place.read_bytes()
    started = time.monotonic()
    for words in (*READING, *WRITING):
        code, out, err = run(capsys, place, *words)
        assert (2, "", 1) == (code, out, len(err.splitlines())), words
        assert "holds what no trial record has" in err
    assert time.monotonic() - started < 20
    assert before == place.read_bytes()
    if how in ("view in a table's place", "a column worked out"):
        with pytest.raises(RecordFault, match="there is no table"):
            mend(place, tmp_path / "new")
        assert not (tmp_path / "new").exists()
    else:
        assert (3, (), ()) == (lambda m: (m.kept, m.lacking, m.lost))(mend(place, tmp_path / "new"))


def test_no_question_to_a_record_is_endless(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(opening, "LONGEST", 50)
    with (
        closing(opening.watched(str(place))) as connection,
        pytest.raises(RecordFault, match="found no end"),
        faults.told_plainly(place),
    ):
        connection.execute(f"SELECT count(*) FROM ({ENDLESS})").fetchone()
    with closing(opening.watched(str(place))) as connection:
        assert (3,) == connection.execute("SELECT count(*) FROM bake").fetchone()


LONG = "x" * 50_000_000
LONG_BAKES: dict[str, Callable[[], Bake]] = {
    "name": lambda: loaf(formula=LONG),
    "notes": lambda: loaf(notes=LONG),
    "ingredient": lambda: loaf(amounts=(Amount(ingredient="water", name=LONG, grams=1.0),)),
    "step": lambda: loaf(steps={"oven": LONG}),
    "lot": lambda: loaf(lots={"water": LONG}),
    "symptom": lambda: loaf(seen=(LONG,)),
    "parts": lambda: loaf(seen=tuple(map(str, range(5000)))),
}


@pytest.mark.parametrize("part", LONG_BAKES)
def test_what_is_too_long_is_refused_in_a_short_line(part: str, place: Path) -> None:
    with open_record(place, to_write=True) as record:
        with pytest.raises(BakeFault) as caught:
            record.add(LONG_BAKES[part]())
        assert len(str(caught.value)) < 200
        assert 3 == record.count()


def test_long_names_are_short_in_lists_and_in_messages(
    place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    long = "Loaf " + "x" * (LONGEST - 5)
    with open_record(place, to_write=True) as record:
        record.add(loaf(formula=long, steps={"oven": "y" * LONGEST}))
        record.add(loaf(formula=long))
    for words in (("list",), ("over-time", long), ("over-time", "no such loaf"), ("take-back",)):
        _, out, err = run(capsys, place, *words)
        assert len(out + err) < 1500, words


def test_a_file_to_take_in_is_refused_where_it_is_huge_or_holds_a_huge_text(
    place: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name, text in (
        ("a.yaml", f"- {{{LONG[:1_000_000]}: 1}}\n"),
        ("b.yaml", f"- notes: {LONG}\n"),
        ("c.csv", LONG),
    ):
        (tmp_path / name).write_text(text)
        code, out, err = run(capsys, place, "import", str(tmp_path / name))
        assert (2, "", 1) == (code, out, len(err.splitlines()))
        assert len(err) < 1000
