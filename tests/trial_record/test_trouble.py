"""Kills, full disks, shut folders, damage, two writers, earlier versions: nothing kept is lost, a line says what is."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import tempfile
from contextlib import closing
from pathlib import Path

import pytest
from kept_bakes import loaf

from advisor.trial_record import opening
from advisor.trial_record.faults import RecordFault
from advisor.trial_record.record import open_record
from advisor.trial_record.schema import LATEST, OURS, STEPS

TOP = Path(__file__).parents[2]
KILLS = 200


def _run(code: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    paths = os.pathsep.join([str(TOP), str(TOP / "tests")])
    return subprocess.run(
        [sys.executable, "-B", "-c", code, *arguments], env=os.environ | {"PYTHONPATH": paths}, cwd="/",
        capture_output=True, text=True, timeout=60,
    )  # fmt: skip


def test_no_kill_loses_a_bake_that_was_kept(tmp_path: Path) -> None:
    script = Path(__file__).with_name("killed_writers.py")
    done = subprocess.run(
        [sys.executable, str(script), str(tmp_path), str(KILLS)], capture_output=True, text=True, timeout=240
    )
    assert (0, "") == (done.returncode, done.stderr)
    assert done.stdout.startswith(f"{KILLS} kills, ")


def test_two_processes_write_at_once_and_neither_loses_a_bake(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from kept_bakes import loaf; "
        "from advisor.trial_record.record import open_record\n"
        "for n in range(15):\n"
        "    with open_record(Path(sys.argv[1]), to_write=True) as r: r.add(loaf(notes=f'{sys.argv[2]} {n}'))"
    )
    paths = os.pathsep.join([str(TOP), str(TOP / "tests")])
    running = [
        subprocess.Popen(
            [sys.executable, "-c", code, str(tmp_path / "r"), name], env=os.environ | {"PYTHONPATH": paths}
        )
        for name in ("a", "b", "c")
    ]
    assert [0, 0, 0] == [one.wait(120) for one in running]
    with open_record(tmp_path / "r", to_write=False) as record:
        assert {f"{name} {n}" for name in "abc" for n in range(15)} == {b.notes for b in record.everything()}


def _of_version(path: Path, version: int) -> None:
    """Write a record as an earlier version of this program left it, with one bake in it."""
    with closing(sqlite3.connect(path, isolation_level=None)) as old:
        for step in STEPS[:version]:
            for statement in step:
                old.execute(statement)
        if version:
            old.execute(f"PRAGMA application_id = {OURS}")
            old.execute(f"PRAGMA user_version = {version}")
            old.execute("INSERT INTO version VALUES (1, 'd', 'Old loaf', '100 g water')")
            old.execute("INSERT INTO amount VALUES (1, 0, 'water', 'water', 100.0)")
            old.execute("INSERT INTO bake (key, version, baked_on, crumb) VALUES ('k', 1, '2025-01-01', 4)")
            old.execute("INSERT INTO symptom VALUES (1, 'flat_loaf', 1)")


@pytest.mark.parametrize("version", range(LATEST + 1))
def test_a_record_of_every_earlier_version_is_brought_up_with_all_that_it_holds(
    version: int, tmp_path: Path
) -> None:
    path = tmp_path / "r"
    _of_version(path, version)
    with open_record(path, to_write=True) as record:
        old = record.everything()
        new = record.add(loaf(follows="k" if version else None))
        assert (*old, new) == record.everything()
    assert [("Old loaf", 4, ("flat_loaf",), None)] * bool(version) == [
        (b.formula, b.scores.crumb, b.seen, b.foreseen) for b in old
    ]
    with closing(sqlite3.connect(path)) as now:
        assert (LATEST,) == now.execute("PRAGMA user_version").fetchone()
        assert [] == now.execute("PRAGMA foreign_key_check").fetchall()
    copies = [p.name for p in tmp_path.iterdir() if ".version-" in p.name]
    assert ([f"r.version-{version}"] if 0 < version < LATEST else []) == copies
    for name in copies:
        with closing(sqlite3.connect(tmp_path / name)) as copy:
            assert (version,) == copy.execute("PRAGMA user_version").fetchone()
            assert (1,) == copy.execute("SELECT count(*) FROM bake").fetchone()


def test_a_step_that_fails_leaves_the_record_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "r"
    _of_version(path, 1)
    monkeypatch.setattr(opening, "STEPS", (STEPS[0], (*STEPS[1], "CREATE TABLE lot (again)")))
    with pytest.raises(RecordFault), open_record(path, to_write=True):
        pass
    monkeypatch.undo()
    with closing(sqlite3.connect(path)) as now:
        assert (1,) == now.execute("PRAGMA user_version").fetchone()
    with open_record(path, to_write=True) as record:
        assert ["Old loaf"] == [bake.formula for bake in record.everything()]


def test_a_full_disk_keeps_what_was_kept_and_says_so(tmp_path: Path) -> None:
    code = (
        "import resource, sys; from pathlib import Path; from kept_bakes import loaf\n"
        "from advisor.trial_record.record import open_record\n"
        "from advisor.trial_record.faults import RecordFault\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (300_000, 300_000))\n"
        "n = 0\n"
        "try:\n"
        "    with open_record(Path(sys.argv[1]), to_write=True) as record:\n"
        "        while n < 2000: n = record.add(loaf(notes='x' * 9000, formula_text='y' * 9000 + str(n))).number\n"
        "except RecordFault as fault: print(n, fault)"
    )
    done = _run(code, str(tmp_path / "r"))
    kept, _, said = done.stdout.partition(" ")
    assert "the disk took no more" in said, done
    assert "make room and run this again" in said
    with open_record(tmp_path / "r", to_write=True) as record:
        assert int(kept) == record.count() > 0
        record.add(loaf())


def test_a_full_database_changes_nothing(tmp_path: Path) -> None:
    with open_record(tmp_path / "r", to_write=True) as record:
        record.add(loaf())
        pages = record._connection.execute("PRAGMA page_count").fetchone()[0]
        record._connection.execute(f"PRAGMA max_page_count = {pages}")
        with pytest.raises(RecordFault, match="the disk took no more"):
            record.add_all(loaf(formula_text="z" * 15_000, notes=str(n)).keyed() for n in range(40))
        assert 1 == record.count()


def test_a_shut_folder_can_be_read_and_says_that_it_cannot_be_written() -> None:
    folder = Path(tempfile.mkdtemp())  # pytest's own folders are shut to other users
    with open_record(folder / "r", to_write=True) as record:
        record.add(loaf())
    (folder / "r").chmod(0o444)
    folder.chmod(0o555)
    code = (
        "import sys; from pathlib import Path; from kept_bakes import loaf\n"
        "from advisor.trial_record.record import open_record\n"
        "from advisor.trial_record.faults import RecordFault\n"
        "import os, sqlite3, tempfile\n"
        # Folders are open to the superuser, whatever they say.
        "if os.getuid() == 0: os.setgroups([]); os.setgid(65534); os.setuid(65534)\n"
        "with open_record(Path(sys.argv[1]), to_write=False) as record: print(record.count())\n"
        "for name in (sys.argv[1], sys.argv[1] + 'new'):\n"
        "    try:\n"
        "        with open_record(Path(name), to_write=True) as record: record.add(loaf())\n"
        "    except RecordFault as fault: print(fault)"
    )
    done = _run(code, str(folder / "r"))
    folder.chmod(0o755)
    count, *faults = done.stdout.splitlines()
    assert ("1", 2) == (count, len(faults)), done
    assert all("give another with --record FILE" in fault for fault in faults)


@pytest.mark.parametrize("place", [0, 60, 4096, 3 * 4096])
def test_a_damaged_file_is_said_to_be_so(place: int, tmp_path: Path) -> None:
    path = tmp_path / "r"
    with open_record(path, to_write=True) as record:
        record.add_all(loaf(notes=str(n) * 900).keyed() for n in range(40))
    raw = bytearray(path.read_bytes())
    raw[place : place + 60] = b"\xa5" * 60
    path.write_bytes(bytes(raw))
    with pytest.raises(RecordFault) as caught, open_record(path, to_write=True):
        pass
    assert str(path) in str(caught.value)
    assert "\n" not in str(caught.value)
    assert bytes(raw) == path.read_bytes()


def test_half_a_file_is_said_to_be_damaged(tmp_path: Path) -> None:
    path = tmp_path / "r"
    with open_record(path, to_write=True) as record:
        record.add_all(loaf(notes=str(n) * 900).keyed() for n in range(40))
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    with pytest.raises(RecordFault, match="is damaged"), open_record(path, to_write=True):
        pass


def test_what_is_not_ours_or_of_a_later_version_is_left_alone(tmp_path: Path) -> None:
    path, later = tmp_path / "other", tmp_path / "later"
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE mine (x)")
    before = path.read_bytes()
    with pytest.raises(RecordFault, match="is no trial record"), open_record(path, to_write=True):
        pass
    _of_version(later, LATEST)
    with closing(sqlite3.connect(later, isolation_level=None)) as one:
        one.execute(f"PRAGMA user_version = {LATEST + 1}")
    with pytest.raises(RecordFault, match="later version"), open_record(later, to_write=True):
        pass
    with closing(sqlite3.connect(path)) as other:
        assert [("mine",)] == other.execute("SELECT name FROM sqlite_schema").fetchall()
    assert len(before) == path.stat().st_size


@pytest.mark.parametrize("error", [BrokenPipeError(), UnicodeEncodeError("utf-8", "x", 0, 1, "other")])
def test_what_fails_in_the_hands_of_whoever_opened_it_is_not_said_of_the_record(
    error: Exception, tmp_path: Path
) -> None:
    with pytest.raises(type(error)), open_record(tmp_path / "r", to_write=True) as record:
        record.add(loaf())
        raise error
    with open_record(tmp_path / "r", to_write=False) as record:
        assert 1 == record.count()


def test_nothing_is_made_by_reading(tmp_path: Path) -> None:
    with (
        pytest.raises(RecordFault, match="there is no trial record"),
        open_record(tmp_path / "r", to_write=False),
    ):
        pass
    assert [] == list(tmp_path.iterdir())


def test_a_record_is_its_owners_alone(tmp_path: Path) -> None:
    with open_record(tmp_path / "r", to_write=True):
        pass
    assert 0 == (tmp_path / "r").stat().st_mode & 0o077
