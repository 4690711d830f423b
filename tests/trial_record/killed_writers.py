"""Writers killed at random moments: `killed_writers.py FOLDER RUNS` prints what was lost, and exits 1 if anything was.

Each run a child opens the record (the first ones make it), keeps bakes one after another, and says each number through
a pipe once it is kept. The parent kills it after a random time, opens the record, and looks for all that was ever said.
"""

from __future__ import annotations

import os
import random
import select
import signal
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from advisor.trial_record.bake import Amount, Bake, Scores
from advisor.trial_record.record import open_record

LONGEST_S = 0.06
NEW_FILE_EVERY = 20


def writer(path: Path, run: int, said: int) -> None:
    with open_record(path, to_write=True) as record:
        for n in range(10_000):
            bake = Bake(
                formula=f"loaf {n % 3}",
                formula_text=f"run {run} " + "water 100 g\n" * 50,
                baked_on="2026-05-01",
                amounts=(Amount(ingredient="water", name="water", grams=100.0),),
                seen=("gummy_centre",),
                absent=("flat_loaf",),
                scores=Scores(crumb=1 + n % 5),
                notes=f"{run}.{n}",
            )
            os.write(said, f"{record.add(bake).key}\n".encode())


def one_run(path: Path, run: int, chance: random.Random) -> set[str]:
    """Give the keys that the child said were kept before it was killed."""
    hears, says = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(hears)
        try:
            writer(path, run, says)
        finally:
            os._exit(1)
    os.close(says)
    wait = chance.uniform(0.0, LONGEST_S)
    heard = b""
    end = time.monotonic() + wait
    while (left := end - time.monotonic()) > 0:
        if select.select([hears], [], [], left)[0]:
            heard += os.read(hears, 65536)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    while more := os.read(hears, 65536):
        heard += more
    os.close(hears)
    return set(heard.decode().split("\n")[:-1])


def main(folder: Path, runs: int) -> int:
    chance = random.Random(20260501)
    kept, lost, told = set[str](), 0, 0
    path = folder / "record.sqlite3"
    for run in range(runs):
        if run % NEW_FILE_EVERY == 0:
            path, kept = folder / f"record-{run}.sqlite3", set()
        kept |= one_run(path, run, chance)
        with open_record(path, to_write=True) as record:
            whole = record.everything()
        lost += len(kept - {bake.key for bake in whole})
        lost += sum(bake.seen != ("gummy_centre",) or len(bake.amounts) != 1 for bake in whole)
        told += len(whole)
    print(f"{runs} kills, {told} bakes found again, {lost} lost or halved")
    return 1 if lost or not told else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), int(sys.argv[2])))
