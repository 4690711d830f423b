"""Processor time of a large record: `python tests/bench/bench_record.py [BAKES]`; each verb opens the file anew."""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1]), str(Path(__file__).resolve().parents[2])]

from budget_table import Row, show  # noqa: E402
from kept_bakes import loaf  # noqa: E402

from advisor.trial_record.bake import Bake, Scores  # noqa: E402
from advisor.trial_record.differing import differences  # noqa: E402
from advisor.trial_record.record import TrialRecord, Wanted, open_record  # noqa: E402

FORMULAS, VERSIONS = 50, 2000


def bake(n: int) -> Bake:
    day = f"{2010 + n % 20}-{1 + n % 12:02d}-{1 + n % 28:02d}"
    text = "100 g water\n" * 40 + f"{n % VERSIONS} g salt\n"
    return loaf(
        formula=f"Loaf {n % FORMULAS}", formula_text=text, baked_on=day, notes=f"note {n}",
        scores=Scores(volume=1 + n % 5, crumb=1 + n % 3),
    ).keyed(n)  # fmt: skip


def over_time(record: TrialRecord) -> None:
    bakes = record.latest(30, formula="Loaf 3")
    for before, after in pairwise(bakes):
        differences(before, after)
    record.best("Loaf 3")
    record.count("Loaf 3")


def main(count: int) -> int:
    verbs: dict[str, Callable[[TrialRecord], object]] = {
        "list": lambda record: (record.latest(20), record.count()),
        "find": lambda record: record.find(Wanted(words=("note 99", "gummy centre", "water")), 20),
        "over-time": over_time,
        "learned": lambda record: record.teaching(),
    }
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "record.sqlite3"
        with open_record(path, to_write=True) as record:
            record.add_all(bake(n) for n in range(count))
        print(f"{count} bakes, {path.stat().st_size / 1e6:.1f} MB")
        for name, read in verbs.items():
            times = []
            for _ in range(5):
                start = time.process_time()
                with open_record(path, to_write=False) as record:
                    read(record)
                times.append(1000 * (time.process_time() - start))
            rows.append(Row(what="a verb on 10,000 bakes", which=name, value=min(times)))
    show(rows)
    return 0 if all(row.kept for row in rows) else 1


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000))
