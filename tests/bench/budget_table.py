"""A measured time beside its budget, and ways to measure one that neighbours on the machine disturb least."""

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
_LEAST_SECONDS = 0.1
_LAUNCH = """
import resource, subprocess, sys, time
start = time.perf_counter()
code = subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL).returncode
print(code, time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
"""


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
    print(f"{'what':{width}} {'measured':>11} {'first':>6} {'met':>4} {'then':>6} {'met':>4}  note")
    for row in rows:
        first, then = (f"{b:g}" if b is not None else "-" for b in (row.first, row.then))
        print(
            f"{row.what:{width}} {f'{row.value:.3g} {row.unit}':>11} {first:>6} {row.met(row.first):>4} "
            f"{then:>6} {row.met(row.then):>4}  {row.note}"
        )


def milliseconds(
    work: Callable[[], object], *, before: Callable[[], object] | None = None, rounds: int = 5
) -> float:
    """Least time of at least some rounds on a core, ms; `before` runs untimed ahead of each.

    Time on the core, since all of this runs on one thread: what else the machine does then counts less. What is
    short is done more often.
    """
    best, spent, done = float("inf"), 0.0, 0
    gc.collect()
    while done < rounds or spent < _LEAST_SECONDS:
        if before is not None:
            before()
        start = time.process_time()
        work()
        took = time.process_time() - start
        best, spent, done = min(best, took), spent + took, done + 1
    return best * 1000


def slowest(what: str, times: Mapping[str, float], first: float, then: float, more: str = "") -> Row:
    """A row for the slowest of several cases, ms, which is named beside the median."""
    name = max(times, key=lambda n: times[n])
    middle = sorted(times.values())[len(times) // 2]
    note = f"slowest of {len(times)}: {name}; median {middle:.3g} ms{more}"
    return Row(what=what, unit="ms", value=times[name], first=first, then=then, note=note)


def process(arguments: Sequence[str], folder: str, rounds: int = 5) -> tuple[float, float]:
    """Wall seconds (least of some rounds) and peak megabytes of a Python process with these arguments.

    Its caches, that of Python's bytecode included, stand in `folder`. A small process starts it, since a child's
    peak counts what its parent held when it started.
    """
    environment = {n: v for n, v in os.environ.items() if n != "PYTHONDONTWRITEBYTECODE"}
    environment |= {"XDG_CACHE_HOME": folder, "PYTHONPYCACHEPREFIX": f"{folder}/bytecode"}
    best = peak = float("inf")
    for _ in range(rounds):
        command = [sys.executable, "-c", _LAUNCH, sys.executable, *arguments]
        told = subprocess.run(
            command, cwd=ROOT, env=environment, check=True, capture_output=True, text=True
        ).stdout
        code, took, kilobytes = told.split()
        if code not in ("0", "1"):
            raise RuntimeError(f"{' '.join(arguments)} ended with {code}")
        best, peak = min(best, float(took)), min(peak, float(kilobytes) / 1024)
    return best, peak
