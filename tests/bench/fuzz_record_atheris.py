"""Feeds bytes to the trial record: as its file, and as what is taken in (YAML, CSV).

Run as fuzz_atheris.py says, with -max_len=120000, since the file of one bake is 90 KB. Stops at any error
but a fault that is told in one line, where a damaged bake is given as sound, and where what was mended is damaged.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

import atheris
from fuzz_atheris import fuzz

TOP = Path(__file__).parents[2]
sys.path[:0] = [str(TOP), str(TOP / "tests")]

with atheris.instrument_imports(include=["advisor.trial_record"]):
    from advisor.trial_record.bake import sound
    from advisor.trial_record.faults import BakeFault, RecordFault
    from advisor.trial_record.mending import mend
    from advisor.trial_record.record import open_record
    from advisor.trial_record.written_out import from_csv, from_yaml, to_csv, to_yaml

from kept_bakes import loaf  # noqa: E402

FOLDER = Path(tempfile.mkdtemp(prefix="dough-advisor-fuzz-"))
OURS = b"SQLite format 3\0"


def one_input(data: bytes) -> None:
    if data.startswith(OURS):
        as_file(data)
        return
    text = data.decode("utf-8", "replace")
    for read in (from_yaml, from_csv):
        try:
            bakes = read(text, "here")
            with open_record(FOLDER / "taken-in", to_write=True) as record:
                record.add_all(bakes)
        except (RecordFault, BakeFault) as fault:
            in_a_line(fault)
        (FOLDER / "taken-in").unlink(missing_ok=True)


def as_file(data: bytes) -> None:
    for path in FOLDER.iterdir():
        path.unlink() if path.is_file() else shutil.rmtree(path)
    path, new = FOLDER / "record", FOLDER / "new"
    path.write_bytes(data)
    try:
        with open_record(path, to_write=False) as record:
            for bake in record.everything():
                sound(bake)
    except RecordFault as fault:
        in_a_line(fault)
    try:
        mend(path, new)
    except RecordFault as fault:
        in_a_line(fault)
        return
    with open_record(new, to_write=True) as record:
        assert record.damage is None


def in_a_line(fault: Exception) -> None:
    assert "\n" not in str(fault), fault
    assert len(str(fault)) < 1200, fault


def seeds() -> list[bytes]:
    bakes = [loaf().keyed(), loaf(notes="again").keyed(1)]
    with open_record(FOLDER / "seed", to_write=True) as record:
        record.add_all(bakes)
    return [to_yaml(bakes).encode(), to_csv(bakes).encode(), (FOLDER / "seed").read_bytes()]


if __name__ == "__main__":
    fuzz(one_input, seeds())
