"""A measured time beside its budget, and the ways to measure one that neighbours on the machine disturb least."""

from __future__ import annotations

import gc
import os
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One budget: `first` is due now and `then` later; `more` where more is better (a rate)."""

    what: str
    unit: str
    value: float
    first: float | None
    then: float | None
    more: bool = False
    note: str = ""

    def met(self, budget: float | None) -> str:
        """Say whether a budget is met; a dash where there is none."""
        if budget is None:
            return "-"
        return "yes" if (self.value >= budget if self.more else self.value <= budget) else "NO"


def show(rows: Sequence[Row]) -> None:
    """Print the table."""
    width = max(len(row.what) for row in rows)
    print(f"{'what':{width}} {'measured':>12} {'first':>7} {'met':>4} {'then':>7} {'met':>4}  note")
    for row in rows:
        first, then = (f"{b:g}" if b is not None else "-" for b in (row.first, row.then))
        measured = f"{row.value:.3g} {row.unit}"
        print(
            f"{row.what:{width}} {measured:>12} {first:>7} {row.met(row.first):>4} {then:>7} "
            f"{row.met(row.then):>4}  {row.note}"
        )


def milliseconds(work: Callable[[], object], *, before: Callable[[], object] | None = None, rounds: int = 5) -> float:
    """Least time of some rounds, ms: what disturbs a run only ever adds. `before` runs untimed ahead of each."""
    best = float("inf")
    gc.collect()
    for _ in range(rounds):
        if before is not None:
            before()
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best * 1000


def slowest(times: Mapping[str, float]) -> tuple[float, str]:
    """The slowest of several cases, and a note that names it beside the median."""
    name = max(times, key=lambda n: times[n])
    middle = sorted(times.values())[len(times) // 2]
    return times[name], f"slowest of {len(times)}: {name}; median {middle:.3g} ms"


def process(arguments: Sequence[str], environment: Mapping[str, str], rounds: int = 5) -> tuple[float, float]:
    """Wall seconds (least of some rounds) and peak megabytes of a Python process with these arguments."""
    best = peak = float("inf")
    for _ in range(rounds):
        start = time.perf_counter()
        child = subprocess.Popen(
            [sys.executable, *arguments], cwd=ROOT, env={**os.environ, **environment}, stdout=subprocess.DEVNULL
        )
        _, status, usage = os.wait4(child.pid, 0)
        best = min(best, time.perf_counter() - start)
        child.returncode = os.waitstatus_to_exitcode(status)
        if child.returncode not in (0, 1):
            raise RuntimeError(f"{' '.join(arguments)} ended with {child.returncode}")
        peak = min(peak, usage.ru_maxrss / 1024)  # Linux counts kilobytes
    return best, peak
